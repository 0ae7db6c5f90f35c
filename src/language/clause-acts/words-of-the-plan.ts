// The words a controller wrote for a step report it, where nothing denies, doubts or asks.
import { type Clause, hasCue, verbsOf, wordsOf } from '../clause.ts';
import type { Lexicon } from '../lexicon.ts';
import type { StepPhrases } from '../match/phrases.ts';
import { rankSteps } from '../match/score.ts';
import type { Message } from '../message.ts';
import type { Stance } from '../stance.ts';
import { wantedOf } from './wanted.ts';

/** Kinds that the very words of the plan for a step override: they say that it is done. */
const GIVES_WAY: ReadonlySet<string> = new Set(['started', 'finding', 'partial', 'nothing']);

/** The words a controller wrote for a step report it, unless something denies, doubts or asks. */
export function withPlanWords(
  clause: Clause,
  stance: Stance | undefined,
  message: Message,
  lexicon: Lexicon,
  off: ReadonlySet<string> | undefined,
): Stance | undefined {
  if (off?.has('words-of-the-plan')) return stance;
  if (
    stance &&
    !(GIVES_WAY.has(stance.kind) && /^(started|nearly)$/.test(stance.rule)) &&
    stance.rule !== 'figure-beside-part'
  )
    return stance;
  const ing = clause.pieces.some((piece) =>
    piece.verbs.some((verb) => verb.form === 'ing' && /^(go|come)$/.test(verb.lemma)),
  );
  if (ing || hasCue(clause, 'nearly') || hasCue(clause, 'still')) return stance;
  if (
    stance?.rule === 'started' &&
    verbsOf(clause).some((verb) => verb.lemma === 'start' && verb.form === 'past')
  ) {
    const best = rankSteps(wantedOf(clause), message.tongue, lexicon)[0];
    const starts =
      best?.step.phrases.some(
        (phrase) => phrase.from === 'title' && phrase.classes.includes('start'),
      ) ?? false;
    if (best && starts && best.part >= 0.5) return { kind: 'done', rule: 'words-of-the-plan' };
  }
  // "Pratze 3 war fest" tells how it was found.
  const found =
    message.tongue.pack.verbLast === true &&
    wordsOf(clause).some((word) => word === 'were' || word === 'gewesen') &&
    !verbsOf(clause).some((verb) => verb.form === 'past');
  if (found) return stance;
  const wanted = wantedOf(clause);
  const [first] = rankSteps(wanted, message.tongue, lexicon);
  const exact =
    first?.exact === true &&
    first.reports &&
    (stance?.rule !== 'started' || nothingBeside(clause, first.step));
  return exact ? { kind: 'done', rule: 'words-of-the-plan' } : stance;
}

/** "Engine running", "engine running sweet", and not "engine running out of fuel". */
const nothingBeside = (clause: Clause, step: StepPhrases): boolean => {
  const own = new Set(step.phrases.flatMap((phrase) => [...phrase.roots]));
  return clause.pieces.every((piece) =>
    piece.tokens.slice(piece.from, piece.to).every((token, k) => {
      const at = piece.from + k;
      return (
        token.kind !== 'word' ||
        own.has(token.entry?.root ?? token.word) ||
        /^(the|is|now|again|and|it|all|six|der|die|das|jetzt)$/.test(token.word) ||
        piece.figures.some((figure) => figure.from <= at && at < figure.to) ||
        piece.cues.some((cue) => cue.name === 'good' && cue.from <= at && at < cue.to)
      );
    }),
  );
};
