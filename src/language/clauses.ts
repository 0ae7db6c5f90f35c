// Cuts a message into clauses. Figures are found before, so that a comma in a list of positions cuts nothing.
import { type Clause, newMemo, type Piece, type VerbHit } from './clause.ts';
import { type Cue, findCues } from './cue-table.ts';
import type { Tongue } from './lexicon.ts';
import type { ActionClass, CueName } from './pack.ts';
import type { Figure } from './scan/figure.ts';
import { type Hanging, subordinates, toldAsPast } from './subordinate.ts';
import { PIECE_TOKENS } from './thresholds.ts';
import type { Token } from './tidy/token.ts';

const MARKS = new Set([',', ';', ':', '(', ')', '|', '—', '/', '=', '>', '•', '*']);
const ENDS = new Set(['.', '!', '?', '\n', ';', '…']);
const CROSS = /^[❌✖🚫]/u;
const TICKS = /^[✅✔☑👍👌💪🎉🙌🆗🏁]/u;

/** One sentence: places of its tokens, and whether a question mark ends it. */
type Sentence = { from: number; to: number; question: boolean };

function sentencesOf(tokens: readonly Token[], inFigure: Uint8Array): Sentence[] {
  const list: Sentence[] = [];
  let from = 0;
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i] as Token;
    const stop = token.word === '.' && tokens[i + 1]?.glued && tokens[i + 1]?.kind === 'word';
    if (i - from >= PIECE_TOKENS && inFigure[i] !== 1) {
      list.push({ from, to: i, question: false });
      from = i;
      continue;
    }
    if (token.kind !== 'mark' || !ENDS.has(token.word) || inFigure[i] || stop) continue;
    if (i > from) list.push({ from, to: i, question: token.word === '?' });
    else if (token.word === '?' && list.length > 0) (list.at(-1) as Sentence).question = true;
    from = i + 1;
  }
  if (from < tokens.length) list.push({ from, to: tokens.length, question: false });
  return list;
}

/** Signs that make a piece say something by itself. */
const SAYING: ReadonlySet<CueName> = new Set([
  'not',
  'not-yet',
  'left-to-do',
  'future',
  'later',
  'ready',
  'next',
  'finished',
  'good',
  'starting',
  'wait-for',
  'cannot',
  'question-word',
  'doubt',
  'defect',
  'none',
  'resume',
  'still',
  'needs',
  'other-side',
  'the-lot',
  'no',
  'except',
  'hand-tight',
  'clock-on',
  'clock-off',
]);

/** The clauses of a message, in order. */
export function cutClauses(
  tokens: readonly Token[],
  figures: readonly Figure[],
  tongue: Tongue,
): Clause[] {
  const inFigure = new Uint8Array(tokens.length);
  for (const figure of figures) {
    inFigure.fill(1, figure.from, figure.to);
    inFigure[figure.from] = 2;
  }
  const clauses: Clause[] = [];
  let next = 0;
  sentencesOf(tokens, inFigure).forEach((sentence, index) => {
    const cues = findCues(tokens, sentence.from, sentence.to, tongue.cues);
    const own: Figure[] = [];
    while (next < figures.length && (figures[next] as Figure).from < sentence.to)
      own.push(figures[next++] as Figure);
    const pieces = piecesOf(tokens, sentence, own, cues, inFigure, tongue);
    clauses.push(...statedBefore(sharePlaces(joinPieces(pieces, index, sentence.question))));
  });
  return clauses;
}

/** All in capitals: a capital letter says nothing about a name. */
function isShouted(tokens: readonly Token[], sentence: Sentence): boolean {
  let words = 0;
  for (let i = sentence.from; i < sentence.to; i += 1) {
    const token = tokens[i];
    if (token?.kind !== 'word') continue;
    if (!token.capital) return false;
    words += 1;
  }
  return words > 1;
}

function piecesOf(
  tokens: readonly Token[],
  sentence: Sentence,
  figures: readonly Figure[],
  cues: readonly Cue[],
  inFigure: Uint8Array,
  tongue: Tongue,
): Piece[] {
  const conjunctions = tongue.cues;
  const pieces: Piece[] = [];
  const shout = isShouted(tokens, sentence);
  let from = sentence.from;
  let joint = '';
  const close = (end: number) => {
    for (const span of tongue.pack.verbLast ? [] : subordinates(tokens, from, end, cues)) {
      closeMain(span.from);
      closeOne(span.to, span.kind);
    }
    closeMain(end);
  };
  const closeMain = (end: number) => {
    const cuts = innerCuts(tokens, from, end, inFigure, figures, cues, tongue);
    for (const cut of cuts) closeOne(cut);
    closeOne(end);
  };
  const closeOne = (to: number, hangs?: Hanging) => {
    if (to <= from) return;
    const piece = pieceOf(
      tokens,
      from,
      to,
      figures,
      cues,
      inFigure,
      tongue,
      joint,
      sentence.question,
      shout,
    );
    pieces.push(hangs ? { ...piece, hangs } : piece);
    joint = '';
    from = to;
  };
  for (let i = sentence.from; i < sentence.to; i += 1) {
    if (inFigure[i]) continue;
    const token = tokens[i] as Token;
    const dash = token.word === '-' && !(token.glued && tokens[i + 1]?.glued);
    const mark = token.kind === 'mark' && (MARKS.has(token.word) || dash);
    const and = token.word === '&' || token.word === '+';
    const word = token.kind === 'word' && isConjunction(token.word, conjunctions);
    if (!mark && !word && !and) continue;
    // "L + r", "1 and 2": a list that the figures hold together.
    if (and && inFigure[i - 1] && inFigure[i + 1] && sidesAround(figures, i)) continue;
    if (word && cues.some((cue) => cue.name === 'question-tag' && cue.from === i && cue.to - i > 1))
      continue;
    if (word && cues.some((cue) => cue.from < i && cue.to > i && cue.to - cue.from > 2)) continue;
    close(i);
    joint = token.word;
    from = i + 1;
  }
  close(sentence.to);
  return pieces;
}

const PREDICATE: ReadonlySet<CueName> = new Set([
  'finished',
  'later',
  'next',
  'left-to-do',
  'not-yet',
  'ready',
]);

/**
 * Where a line without marks goes from one report to the next: "washers on 1 2 3 injectors next". A new noun behind
 * a report opens a new one if something is said of it; a new verb behind verb and noun does too.
 */
function innerCuts(
  tokens: readonly Token[],
  from: number,
  to: number,
  inFigure: Uint8Array,
  figures: readonly Figure[],
  cues: readonly Cue[],
  tongue: Tongue,
): number[] {
  if (to - from < 4) return [];
  if (
    tongue.pack.verbLast &&
    cues.some((cue) => cue.name === 'condition' && cue.from >= from && cue.to <= to)
  )
    return [];
  const kinds: ('noun' | 'verb' | 'state' | '')[] = [];
  for (let i = from; i < to; i += 1) kinds.push(anchorOf(tokens, i, to, inFigure, cues, tongue));
  const cuts: number[] = [];
  let noun = false;
  let verb = false;
  let nounFirst = false;
  for (let i = from; i < to; i += 1) {
    const kind = kinds[i - from] ?? '';
    if (placeWithOwnWord(i, cuts.at(-1) ?? from, to, figures, cues, verb)) {
      cuts.push(i);
      noun = false;
      verb = false;
      continue;
    }
    const rest = figures.find((figure) => figure.kind === 'rest' && figure.from === i);
    // "Wheels chocked nobody move them", "lift 0.30 right needs another shim": what is told or wanted is new.
    const told =
      (/^(nobody|needs|need)$/.test(tokens[i]?.word ?? '') && tokens[i - 1]?.word !== 'still') ||
      isDont(tokens, i);
    const reported = verb || sizedBefore(figures, cuts.at(-1) ?? from, i);
    const own = reported && subjectWithVerb(tokens, i, to);
    if (!tongue.pack.verbLast && (told || own) && noun && nounFirst && reported && i + 1 < to) {
      cuts.push(i);
      noun = false;
      verb = false;
      continue;
    }
    // "Pump on not torqued", "gearbox in bolts finger tight": what is denied behind a report is another thing.
    if (!tongue.pack.verbLast && noun && verb && nounFirst && deniedFrom(tokens, i, to, cues)) {
      cuts.push(i);
      noun = false;
      verb = false;
      continue;
    }
    const opens = kind === 'noun' && kinds[i - from - 1] !== 'noun';
    if (
      (opens || rest) &&
      (verb || (rest && sizedBefore(figures, cuts.at(-1) ?? from, i))) &&
      (nounFirst || rest) &&
      (noun || rest) &&
      !ledByPreposition(tokens, i, tongue) &&
      saidLater(kinds, i - from, cues, i, to)
    ) {
      const start = phraseStart(tokens, i, from, inFigure, figures);
      const held =
        /^(once|if|when|until|till|unless|before|after|while|because|sobald|wenn|bis|bevor|nachdem)$/.test(
          tokens[start - 1]?.word ?? '',
        );
      const denied = cues.some(
        (cue) => TURNS.has(cue.name) && cue.from >= (cuts.at(-1) ?? from) && cue.from < start,
      );
      if (!held && !denied && start > (cuts.at(-1) ?? from)) {
        cuts.push(start);
        noun = kind === 'noun';
        verb = false;
        nounFirst = true;
        continue;
      }
    }
    if (
      kind === 'verb' &&
      verb &&
      noun &&
      !nounFirst &&
      tokens[i]?.entry?.forms.includes('past') &&
      !cues.some((cue) => TURNS.has(cue.name) && cue.from >= (cuts.at(-1) ?? from) && cue.from < i)
    ) {
      cuts.push(i);
      noun = false;
      continue;
    }
    if (kind === 'noun') {
      if (!noun && !verb) nounFirst = true;
      noun = true;
    } else if (kind !== '') {
      verb = true;
    }
  }
  return cuts;
}

/** "Road test done it is quiet": a pronoun with its verb begins something new. */
const subjectWithVerb = (tokens: readonly Token[], i: number, to: number): boolean =>
  i + 2 < to &&
  // "Its stands" without an apostrophe owns them.
  !(tokens[i]?.from === tokens[i + 1]?.from && tokens[i + 2]?.entry?.plan === true) &&
  /^(it|they|she|he)$/.test(tokens[i]?.word ?? '') &&
  /^(is|are|was|were|has|have|had|will|can|could|does|did|goes|went)$/.test(
    tokens[i + 1]?.word ?? '',
  ) &&
  !/^(that|which|as|than|when|if|once|before|after|and|how|what|until|till|like|sure|think|reckon|hope)$/.test(
    tokens[i - 1]?.word ?? '',
  );

/** "Do not" at the head of an order, and not behind its subject: "I do not". */
const isDont = (tokens: readonly Token[], i: number): boolean =>
  tokens[i]?.word === 'do' &&
  tokens[i + 1]?.word === 'not' &&
  !/^(i|we|they|you|that|which|pins|bolts|nuts)$/.test(tokens[i - 1]?.word ?? '') &&
  tokens[i - 1]?.entry?.plan !== true;

const sidesAround = (figures: readonly Figure[], i: number): boolean =>
  figures.some((figure) => figure.kind === 'positions' && figure.to === i) &&
  figures.some((figure) => figure.kind === 'positions' && figure.from === i + 1);

/** Signs that hold for all that stands behind them: "need the caliper hung" is one thing. */
const TURNS: ReadonlySet<CueName> = new Set([
  'not',
  'cannot',
  'future',
  'condition',
  'wish',
  'doubt',
  'needs',
  'must',
  'question-word',
]);

/** Words that say of a place that it is still to come. */
const TO_COME: ReadonlySet<CueName> = new Set(['not', 'not-yet', 'later', 'next', 'left-to-do']);

/** "Left done right not", "1 to 5 torqued 6 to follow": a second place with a word of its own opens something new. */
function placeWithOwnWord(
  i: number,
  from: number,
  to: number,
  figures: readonly Figure[],
  cues: readonly Cue[],
  verb: boolean,
): boolean {
  const place = figures.find((figure) => figure.from === i && figure.kind === 'positions');
  if (!place || place.to >= to || i <= from) return false;
  const own = cues.some((cue) => TO_COME.has(cue.name) && cue.from === place.to && cue.to <= to);
  if (!own) return false;
  const before = figures.filter((figure) => figure.from >= from && figure.to <= i);
  return (
    before.some((figure) => figure.kind === 'positions') &&
    (verb || before.some((figure) => /^(quantity|stage|number)$/.test(figure.kind)))
  );
}

/** A stage or a quantity before it reports as well as a verb does. */
const sizedBefore = (figures: readonly Figure[], from: number, i: number): boolean =>
  figures.some(
    (figure) =>
      figure.from >= from && figure.to <= i && /^(quantity|stage|count)$/.test(figure.kind),
  );

const deniedFrom = (
  tokens: readonly Token[],
  i: number,
  to: number,
  cues: readonly Cue[],
): boolean =>
  cues.some((cue) => (cue.name === 'not' || cue.name === 'not-yet') && cue.from === i) &&
  !tokens[i]?.entry?.plan &&
  tokens
    .slice(i + 1, to)
    .some((token) => token.entry?.forms.includes('past') === true && !token.entry.plan);

function anchorOf(
  tokens: readonly Token[],
  i: number,
  to: number,
  inFigure: Uint8Array,
  cues: readonly Cue[],
  tongue: Tongue,
): 'noun' | 'verb' | 'state' | '' {
  const token = tokens[i];
  if (!token) return '';
  if (token.kind === 'sign') return TICKS.test(token.word) || CROSS.test(token.word) ? 'state' : '';
  const entry = token.entry;
  if (inFigure[i] || token.kind !== 'word' || !entry) return '';
  if (cues.some((cue) => cue.from === i && PREDICATE.has(cue.name))) return 'state';
  if (tongue.pack.particles[token.word] && !entry.plan) {
    const next = tokens[i + 1];
    const leads =
      !tongue.pack.adverbs?.includes(token.word) &&
      next?.kind === 'word' &&
      i + 1 < to &&
      !inFigure[i + 1] &&
      (/^(the|a|an|this|that|my|its)$/.test(next.word) ||
        (next.entry?.plan === true && token.word !== 'off' && token.word !== 'out'));
    // "Gearbox in bolts finger tight": of the next noun something else is said.
    const opensNext =
      tokens[i - 1]?.entry?.plan === true &&
      next?.entry?.plan === true &&
      cues.some(
        (cue) =>
          cue.from === i + 2 && /^(hand-tight|not|not-yet|later|next|left-to-do)$/.test(cue.name),
      );
    return leads && !opensNext ? '' : 'state';
  }
  if (entry.forms.includes('past') && !(entry.plan && tokens[i + 1]?.entry?.plan)) return 'verb';
  if (entry.forms.includes('ing') && !entry.plan) return 'verb';
  if (entry.plan) return 'noun';
  return tongue.pack.states[token.word] ? 'state' : '';
}

const ledByPreposition = (tokens: readonly Token[], i: number, tongue: Tongue): boolean => {
  let k = i - 1;
  while (k >= 0 && /^(the|a|an|new|old|all|my|this|that|its)$/.test(tokens[k]?.word ?? '')) k -= 1;
  const word = tokens[k]?.word ?? '';
  return (
    tokens[k]?.kind === 'word' &&
    tongue.pack.prepositions.includes(word) &&
    !(tongue.pack.particles[word] !== undefined && k === i - 1)
  );
};

const saidLater = (
  kinds: readonly string[],
  at: number,
  cues: readonly Cue[],
  i: number,
  to: number,
) =>
  kinds.slice(at + 1).some((kind) => kind === 'verb' || kind === 'state') ||
  cues.some(
    (cue) => cue.from >= i && cue.to <= to && /^(not|later|next|hand-tight)$/.test(cue.name),
  );

/** The noun with the small words and the figure that belong before it: "new washers", "all six clamps". */
function phraseStart(
  tokens: readonly Token[],
  i: number,
  from: number,
  inFigure: Uint8Array,
  figures: readonly Figure[],
): number {
  let k = i;
  while (
    k > from &&
    /^(the|a|an|new|old|all|my|this|that|its|no|then|now|both|some)$/.test(
      tokens[k - 1]?.word ?? '',
    ) &&
    !inFigure[k - 1]
  )
    k -= 1;
  // "LH wheel off RH wheel seized": where the first place stood before its noun, so does the second.
  const placeFirst = figures.some((figure) => figure.kind === 'positions' && figure.from === from);
  const before = figures.find(
    (figure) =>
      figure.to === k &&
      (figure.kind === 'all' ||
        figure.kind === 'count' ||
        (placeFirst && figure.kind === 'positions' && !figure.bare)),
  );
  if (before && before.from > from && !figures.some((one) => one.to === before.from)) {
    const word = tokens[before.from - 1]?.word ?? '';
    if (!/^(on|in|for|of|at|to|from)$/.test(word)) return before.from;
  }
  return k;
}

const isConjunction = (word: string, table: Tongue['cues']) =>
  table.get(word)?.some((row) => row.name === 'conjunction' && row.words.length === 1) ?? false;

function pieceOf(
  tokens: readonly Token[],
  from: number,
  to: number,
  figures: readonly Figure[],
  cues: readonly Cue[],
  inFigure: Uint8Array,
  tongue: Tongue,
  joint: string,
  question: boolean,
  shout: boolean,
): Piece {
  const pack = tongue.pack;
  const verbs: VerbHit[] = [];
  const moved: ActionClass[] = [];
  const parts = new Map<string, number>();
  const unknown: string[] = [];
  const strangers: number[] = [];
  const particleAt: number[] = [];
  /** Verbs that say nothing of the work, with a prefix that may stand apart: "fange mit der Pumpe an". */
  const light: { at: number; lemma: string }[] = [];
  let tick = false;
  let cross = false;
  const inTime = (cue: Cue) =>
    figures.some(
      (figure) => figure.kind === 'time' && figure.from <= cue.from && cue.to <= figure.to,
    );
  const inside = cues.filter(
    (cue) =>
      cue.from >= from &&
      cue.to <= to &&
      !(tongue.pack.verbLast && inTime(cue)) &&
      !(cue.name === 'no' && isNumberSign(tokens, cue)),
  );
  const said = (i: number) =>
    inside.some(
      (cue) => cue.from <= i && i < cue.to && cue.name !== 'conjunction' && cue.name !== 'good',
    );
  const leftOut = inside.filter(
    (cue) =>
      cue.name === 'except' &&
      figures.some(
        (figure) =>
          figure.kind === 'positions' && figure.from >= cue.to && figure.from - cue.to <= 1,
      ),
  );
  for (let i = from; i < to; i += 1) {
    const token = tokens[i] as Token;
    if (leftOut.some((cue) => cue.from <= i && i < cue.to)) continue;
    if (token.kind === 'sign' && TICKS.test(token.word)) tick = true;
    if (token.kind === 'sign' && CROSS.test(token.word)) cross = true;
    if (token.kind !== 'word') continue;
    const entry = token.entry;
    if (!entry) continue;
    if (inFigure[i]) {
      if (entry.plan && entry.side === undefined && !pack.positionNouns.includes(entry.root))
        parts.set(entry.root, 0.5);
      else if (entry.plan) parts.set(entry.root, parts.get(entry.root) ?? 0.2);
      continue;
    }
    if (pack.particles[token.word] && !entry.plan) {
      // The out of "carried out" moves nothing.
      const called = inside.some((cue) => cue.name === 'finished' && cue.from < i && i < cue.to);
      if (!called) particleAt.push(i);
      continue;
    }
    const noun = entry.plan && (tokens[i + 1]?.entry?.plan ?? false) && entry.forms.includes('ing');
    // "After the run", "a second set": behind an article it is a noun.
    const named =
      entry.forms.includes('base') && /^(the|a|an|my|its|his)$/.test(tokens[i - 1]?.word ?? '');
    const past = entry.forms.includes('past') && !(named && !pack.verbLast);
    const base = entry.forms.includes('base') && !(entry.plan && nounHere(tokens, i, from));
    if (
      entry.forms.length > 0 &&
      !noun &&
      (past ||
        entry.forms.includes('ing') ||
        base ||
        (entry.forms.includes('third') && !entry.plan))
    ) {
      const leads = verbs.length === 0 && isLead(tokens, i, from, pack.pronouns);
      const asVerb = past || entry.forms.includes('ing') || !entry.plan || leads;
      const classes = withParticle(
        tokens,
        i,
        to,
        entry.lemma ?? entry.root,
        entry.classes,
        pack.phrasal,
        pack.verbLast ? 30 : 5,
      );
      // "steckt", "kommt" without their prefix say nothing of the work.
      const order = entry.forms.includes('base') && token.word.endsWith('n') && i === to - 1;
      if (pack.verbLast && classes.length === 0 && !entry.plan && !order) {
        moved.push(...(pack.states[token.word] ?? []));
        light.push({ at: i, lemma: entry.lemma ?? entry.root });
        continue;
      }
      const told =
        base && !past && (parts.size > 0 || figures.some((f) => f.from >= from && f.to <= i))
          ? toldAsPresent(tokens, i, from, to, inside)
          : undefined;
      if (asVerb) {
        verbs.push({
          at: i,
          lemma: entry.lemma ?? entry.root,
          classes,
          form:
            told ??
            ((past && !(base && leads && i === from)) ||
            (base && /^(is|are|was|were|am|has|have)$/.test(tokens[i - 1]?.word ?? ''))
              ? 'past'
              : entry.forms.includes('ing')
                ? 'ing'
                : base
                  ? 'base'
                  : 'third'),
          maybeNoun: base && entry.plan && told === undefined,
        });
      }
      if (entry.plan && !(leads && !past)) parts.set(entry.root, 1);
      else if (
        past &&
        entry.lemma !== undefined &&
        !tongue.common.has(entry.lemma) &&
        tongue.partRoots.has(entry.lemma)
      )
        parts.set(entry.lemma, Math.max(0.3, parts.get(entry.lemma) ?? 0));

      if (!asVerb && base && !leads) {
        verbs.push({
          at: i,
          lemma: entry.lemma ?? entry.root,
          classes: entry.classes,
          form: 'base',
          maybeNoun: true,
        });
      }
      continue;
    }
    if (
      entry.side &&
      !entry.plan &&
      /^(front|rear|left)$/.test(token.word) &&
      !entry.side.some((side) => tongue.scan.sidesOfPlan?.has(side)) &&
      !(token.word === 'left' && leftOver(tokens, i))
    )
      unknown.push(token.word);
    if (entry.plan && entry.side === undefined && ofSomethingElse(tokens, i, from, inFigure, pack))
      unknown.push(tokens[i - 1]?.word ?? '', token.word);
    else if (entry.plan)
      parts.set(
        entry.root,
        entry.side !== undefined
          ? 0.4
          : behindPlace(tokens, i, from, parts.size) ||
              (parts.size > 0 && behindWith(tokens, i, from))
            ? 0.45
            : parts.size > 0 && counted(tokens, i, inFigure)
              ? 0.35
              : 1,
      );
    else if (inside.some((cue) => cue.name === 'cannot' && cue.from <= i && i < cue.to)) continue;
    // "war fest wie Beton" tells how it was before.
    else if (pack.verbLast && wasSo(tokens, i, from, to, pack.states[token.word])) continue;
    else if (pack.states[token.word] && !isAttribute(tokens, i) && !goesHome(tokens, i))
      moved.push(...(pack.states[token.word] ?? []));
    else if (!entry.stop && !entry.known && !said(i) && token.word.length > 2) {
      unknown.push(token.word);
      if (shout || !(token.capital && i === from)) strangers.push(i);
    }
  }
  const alone = pack.verbLast
    ? withoutPrefixes(tokens, particleAt, [...verbs, ...light], pack)
    : particleAt;
  particles(tokens, alone, verbs, from, to, tongue, moved, inFigure, inside, figures);
  const told = verbs.some((verb) => verb.form === 'past');
  const own = figures.filter((figure) => figure.from >= from && figure.to <= to);
  const { excepted, signs } = exceptions(own, inside, verbs, moved, from);
  return {
    from,
    to,
    tokens,
    verbs,
    moved,
    parts,
    unknown,
    strangerBefore: isStrangerTelling(strangers, from, lastReport(tokens, from, to, verbs, pack)),
    figures: own.filter((figure) => !excepted.includes(figure)),
    excepted,
    cues: inside.filter(
      (cue) =>
        !signs.some((sign) => sign.from <= cue.from && cue.to <= sign.to) &&
        (isDenied(cue, inside) ||
          !nameOnly(
            cue,
            tokens,
            told || own.some((figure) => /^(quantity|number)$/.test(figure.kind)),
          )),
    ),
    joint,
    tick,
    cross,
    question,
  };
}

/** "Old bearing I press out": who has no past tense at hand says the object first. "Now" makes it what goes on. */
function toldAsPresent(
  tokens: readonly Token[],
  i: number,
  from: number,
  to: number,
  cues: readonly Cue[],
): 'past' | 'ing' | undefined {
  if (i - 2 < from || !/^(i|we)$/.test(tokens[i - 1]?.word ?? '')) return undefined;
  if (/^(is|are|was|were|have|has|need)$/.test(tokens[i + 1]?.word ?? '')) return undefined;
  const open = cues.some((cue) =>
    /^(not|not-yet|future|later|next|condition|wish|doubt|cannot|question-word)$/.test(cue.name),
  );
  if (open) return undefined;
  for (let k = i + 1; k < to; k += 1)
    if (/^(now|jetzt|still)$/.test(tokens[k]?.word ?? '')) return 'ing';
  return 'past';
}

/** A plan's noun that is also a verb stays a noun unless an object follows it: "clamp stage 2", "drain the coolant". */
function nounHere(tokens: readonly Token[], i: number, from: number): boolean {
  const next = tokens[i + 1];
  if (next === undefined || next.kind !== 'word') return true;
  if (/^(the|it|them|all|both|my|new|old|a|an|this|that|these|up|every|each)$/.test(next.word))
    return i > from && tokens[i - 1]?.entry?.plan === true;
  const before = tokens[i - 1]?.word ?? '';
  if (/^(to|will|not|can|should|please|must|would|could|i|we)$/.test(before)) return false;
  return true;
}

/** "Kein Ölverlust": a fault that is denied is one, whatever stands beside it. */
const isDenied = (cue: Cue, cues: readonly Cue[]): boolean =>
  cue.name === 'defect' && cues.some((no) => no.name === 'no' && cue.from - no.to === 1);

/** "No 4 injector is out": the sign of a number, not "none". */
const isNumberSign = (tokens: readonly Token[], cue: Cue): boolean =>
  cue.to - cue.from === 1 &&
  tokens[cue.from]?.word === 'no' &&
  tokens[cue.from]?.capital === true &&
  tokens[cue.to]?.kind === 'number' &&
  tokens[cue.to + 1]?.entry?.plan === true;

/** A sign that is only a word of a part's name: the play in "end play", the noise in "noise cover". */
function nameOnly(cue: Cue, tokens: readonly Token[], told: boolean): boolean {
  if (
    cue.to - cue.from !== 1 ||
    !/^(defect|nearly|good)$/.test(cue.name) ||
    !tokens[cue.from]?.entry?.plan
  )
    return false;
  return (
    told || tokens[cue.from + 1]?.entry?.plan === true || tokens[cue.from - 1]?.entry?.plan === true
  );
}

/** "On with a new ring": what goes with a part. */
function behindWith(tokens: readonly Token[], i: number, from: number): boolean {
  let k = i - 1;
  while (
    k > from &&
    (/^(a|an|the|its|their|my|new|fresh|old|both|all|neuem|neuen|neuer|einem|einer)$/.test(
      tokens[k]?.word ?? '',
    ) ||
      tokens[k]?.kind === 'number' ||
      tokens[k]?.entry?.plan === true)
  )
    k -= 1;
  return /^(with|mit|without|ohne)$/.test(tokens[k]?.word ?? '');
}

/** "Wheel off ten nuts": what is counted behind a part holds it and names nothing new. */
const counted = (tokens: readonly Token[], i: number, inFigure: Uint8Array): boolean =>
  tokens[i - 1]?.kind === 'number' && inFigure[i - 1] !== 0 && (tokens[i - 1]?.value ?? 0) > 1;

/** "No air left", "two left": what remains, and no side. */
const leftOver = (tokens: readonly Token[], i: number): boolean =>
  [tokens[i - 1], tokens[i - 2]].some((token) => /^(no|none|nothing|any)$/.test(token?.word ?? ''));

/** "Heart valve", "wifi code", "boat engine": a noun before the plan's word makes it the word of another thing. */
function ofSomethingElse(
  tokens: readonly Token[],
  i: number,
  from: number,
  inFigure: Uint8Array,
  pack: Tongue['pack'],
): boolean {
  const before = tokens[i - 1];
  if (pack.verbLast || i - 1 < from || before?.kind !== 'word' || inFigure[i - 1]) return false;
  const entry = before.entry;
  if (!entry || entry.plan || entry.stop || entry.side || entry.forms.length > 0) return false;
  if (before.capital || before.mended !== undefined || before.word.length < 4) return false;
  if (pack.particles[before.word] || pack.states[before.word]) return false;
  return !/(?:y|ed|ing|en|er|ish|est|ous|ic|al|ive|less|'s|s)$/.test(before.word);
}

/** "Down on the jack": the jack only says where, once another part was named. */
function behindPlace(tokens: readonly Token[], i: number, from: number, named: number): boolean {
  if (named === 0) return false;
  const before = tokens[i - 1]?.word ?? '';
  const earlier = tokens[i - 2]?.word ?? '';
  return (
    i - 2 > from &&
    /^(the|my|a)$/.test(before) &&
    /^(on|onto|under|against|by|with|off)$/.test(earlier)
  );
}

/** A word nobody knows before the word that reports, or where none reports: it may have been "not" or "off". */
const isStrangerTelling = (strangers: readonly number[], from: number, last: number): boolean =>
  strangers.length > 0 && (last < from || strangers.some((at) => at < last));

/** The place of the last word that reports: a verb, a particle, a state, "done". */
function lastReport(
  tokens: readonly Token[],
  from: number,
  to: number,
  verbs: readonly VerbHit[],
  pack: Tongue['pack'],
): number {
  let last = verbs.at(-1)?.at ?? from - 1;
  for (let i = to - 1; i > last; i -= 1) {
    const word = tokens[i]?.word ?? '';
    if (
      pack.particles[word] !== undefined ||
      pack.states[word] !== undefined ||
      word === 'done' ||
      word === 'finished'
    )
      last = i;
  }
  return last;
}

/** Positions right behind "except", "bar", "but not": and "not" where something was reported before it. */
function exceptions(
  figures: readonly Figure[],
  cues: readonly Cue[],
  verbs: readonly VerbHit[],
  moved: readonly ActionClass[],
  from: number,
): { excepted: readonly Figure[]; signs: readonly Cue[] } {
  const excepted: Figure[] = [];
  const signs: Cue[] = [];
  for (const cue of cues) {
    if (cue.name !== 'except' && cue.name !== 'not') continue;
    const behind = figures.find(
      (figure) => figure.kind === 'positions' && figure.from >= cue.to && figure.from - cue.to <= 1,
    );
    if (!behind) continue;
    const reported =
      verbs.some((verb) => verb.at < cue.from) ||
      moved.length > 0 ||
      cues.some((one) => one.name === 'finished' && one.to <= cue.from);
    if (cue.name === 'not' && (cue.from === from || !reported)) continue;
    if (!excepted.includes(behind)) excepted.push(behind);
    signs.push(cue);
  }
  return { excepted, signs };
}

/** "dry seal" is a seal; "seal dry" is a state. */
const isAttribute = (tokens: readonly Token[], i: number) => tokens[i + 1]?.entry?.plan === true;

/** "Then home", "off home": where people go. */
const goesHome = (tokens: readonly Token[], i: number): boolean =>
  tokens[i]?.word === 'home' &&
  /^(then|go|going|off|at|get|went|gone|,|time|from|now|take)$/.test(tokens[i - 1]?.word ?? ',');

function isLead(
  tokens: readonly Token[],
  i: number,
  from: number,
  pronouns: readonly string[],
): boolean {
  if (i === from) return true;
  const before = tokens[i - 1];
  if (before?.kind !== 'word') return before?.kind === 'mark';
  return (
    pronouns.includes(before.word) ||
    /^(to|will|can|not|should|please|must|would|could|do|does|did|just|and|then)$/.test(before.word)
  );
}

function withParticle(
  tokens: readonly Token[],
  i: number,
  to: number,
  lemma: string,
  classes: readonly ActionClass[],
  phrasal: Tongue['pack']['phrasal'],
  reach: number,
): readonly ActionClass[] {
  for (let k = Math.max(0, i - reach); reach > 5 && k < i; k += 1) {
    const pair = phrasal[`${tokens[k]?.word ?? ''} ${lemma}`];
    if (pair) return typeof pair === 'string' ? [pair] : pair;
  }
  for (let k = i + 1; k < Math.min(to, i + reach); k += 1) {
    const pair = phrasal[`${lemma} ${tokens[k]?.word ?? ''}`];
    if (pair) return typeof pair === 'string' ? [pair] : pair;
  }
  return classes;
}

/** "Die Pratzen waren fest", "sind fest gewesen": how tight it was before is no report that it was tightened. */
const wasSo = (
  tokens: readonly Token[],
  i: number,
  from: number,
  to: number,
  state: readonly ActionClass[] | undefined,
): boolean => {
  if (tokens[i - 1]?.word === 'were') return true;
  const tight = state?.some((one) => one === 'tighten' || one === 'loosen') === true;
  const before = tokens.slice(from, i).some((token) => token.word === 'were');
  return tight && (before || tokens.slice(i, to).some((token) => token.word === 'gewesen'));
};

/** Prefixes that belong to a verb before them, "ziehe die Pratzen an", are no reports of their own. */
const withoutPrefixes = (
  tokens: readonly Token[],
  places: readonly number[],
  verbs: readonly { readonly at: number; readonly lemma: string }[],
  pack: Tongue['pack'],
): readonly number[] =>
  places.filter(
    (i) =>
      !verbs.some(
        (verb) =>
          verb.at < i && pack.phrasal[`${verb.lemma} ${tokens[i]?.word ?? ''}`] !== undefined,
      ),
  );

/** A particle reports by itself unless it only leads to a place: "washers on 1-4" reports, "nuts torqued on 1-4" does not. */
function particles(
  tokens: readonly Token[],
  places: readonly number[],
  verbs: readonly VerbHit[],
  from: number,
  to: number,
  tongue: Tongue,
  moved: ActionClass[],
  inFigure: Uint8Array,
  cues: readonly Cue[],
  figures: readonly Figure[],
): void {
  for (const i of places) {
    const token = tokens[i] as Token;
    const next = tokens[i + 1];
    const adverb = tongue.pack.adverbs?.includes(token.word) === true;
    if (tongue.pack.verbLast && !adverb && i + 1 < to) continue;
    const leads =
      !adverb &&
      next !== undefined &&
      i + 1 < to &&
      next.kind === 'word' &&
      !inFigure[i + 1] &&
      (next.entry?.plan === true ||
        /^(the|a|an|new|old|this|that|my|its|his|her|our|stage|place|progress|bay|good|spec|there|to|total|all|stores|stock|front|case|line|order|turn|fact|time)$/.test(
          next.word,
        ));
    const behindVerb = verbs.some((verb) => verb.form !== 'base' && verb.at < i);
    const denied =
      token.word === 'in' && cues.some((cue) => cue.name === 'no' && cue.to <= i && i - cue.to < 4);
    // "Hoses off the pump": the noun before it came off; "cap off", "off the shelf" are told apart by it.
    const cameOff =
      (token.word === 'off' || (token.word === 'out' && next?.word === 'of')) &&
      verbs.length === 0 &&
      i - 1 >= from &&
      tokens[i - 1]?.entry?.plan === true;
    // "Dryer is on the floor": it is off, and the vehicle that is on it is down.
    if (verbs.length === 0 && /^(on|in|auf)$/.test(token.word) && laidAside(tokens, i, to)) {
      moved.push('remove', 'lower');
      continue;
    }
    if (leads && !denied && !cameOff && (token.word !== 'back' || behindVerb)) continue;
    const behindDone = cues.some(
      (cue) =>
        (cue.name === 'finished' || cue.name === 'good' || cue.name === 'starting') &&
        cue.to <= i &&
        cue.from >= from,
    );
    if ((behindVerb || behindDone) && next !== undefined && i + 1 < to && inFigure[i + 1]) continue;
    // "15 nm on 2 and 4": behind a figure it leads to the place.
    const behindFigure = figures.some(
      (figure) =>
        figure.from >= from && figure.to <= i && /^(quantity|stage|number)$/.test(figure.kind),
    );
    if (behindFigure && /^(on|in)$/.test(token.word) && i + 1 < to && inFigure[i + 1]) continue;
    if (behindDone && leads) continue;
    if (i === from && !adverb && token.word !== 'off' && token.word !== 'out' && to - from > 3)
      continue;
    if (token.word === 'back' && /^(on|in|up|to|at|from|off)$/.test(next?.word ?? '')) continue;
    if (token.word === 'out' && next?.word === 'of' && i === from) continue;
    if (
      token.word === 'back' &&
      next?.kind === 'word' &&
      i + 1 < to &&
      !inFigure[i + 1] &&
      !/^(on|in|up|to|together|at|now|and|again|down)$/.test(next.word) &&
      !behindVerb
    )
      continue;
    if (
      token.word === 'out' &&
      next?.word === 'of' &&
      !inFigure[i + 2] &&
      tokens[i + 2]?.entry?.plan !== true &&
      !/^(the|it|there|its)$/.test(tokens[i + 2]?.word ?? '')
    )
      continue;
    if (/^(later|then|top|about|straight|to)$/.test(tokens[i - 1]?.word ?? '')) continue;
    moved.push(...(tongue.pack.particles[token.word] ?? []));
  }
  // "truck on stands": with nothing else said, where the thing stands is the report.
  const onto = places.find(
    (i) =>
      /^(on|auf|under)$/.test(tokens[i]?.word ?? '') &&
      (i > from || tongue.pack.verbLast === true) &&
      tokens[i + 1]?.entry?.plan === true,
  );
  if (moved.length === 0 && verbs.length === 0 && onto !== undefined) moved.push('support', 'fit');
}

/** A place where parts are laid that came off. */
const laidAside = (tokens: readonly Token[], on: number, to: number): boolean => {
  if (!/^(is|are|down|now|lies|liegt|liegen|steht)$/.test(tokens[on - 1]?.word ?? '')) return false;
  const i = on + 1;
  const at = /^(the|a|my|der|dem)$/.test(tokens[i]?.word ?? '') ? i + 1 : i;
  const token = tokens[at];
  return (
    at < to &&
    token?.entry?.plan !== true &&
    /^(floor|bench|pallet|ground|deck|trolley|cart|table|werkbank|palette|boden)$/.test(
      token?.word ?? '',
    )
  );
};

const telling = (piece: Piece): boolean =>
  [...piece.parts.values()].some((value) => value >= 0.9) &&
  piece.figures.some(
    (figure) =>
      /^(quantity|stage|code)$/.test(figure.kind) ||
      // "Prop bolts 80", and not "8 bolts", which counts them.
      (figure.kind === 'number' &&
        figure.from > piece.from &&
        piece.tokens[figure.to]?.entry?.plan !== true),
  );

const says = (piece: Piece): boolean =>
  telling(piece) ||
  piece.verbs.some((verb) => !verb.maybeNoun) ||
  piece.moved.length > 0 ||
  piece.tick ||
  piece.cross ||
  piece.excepted.length > 0 ||
  piece.cues.some((cue) => SAYING.has(cue.name));

/** A piece that only doubts: nothing of the plan, no figure and no verb stands in it. */
const doubtsOnly = (piece: Piece): boolean =>
  piece.parts.size === 0 &&
  piece.figures.length === 0 &&
  piece.moved.length === 0 &&
  !piece.tick &&
  !piece.verbs.some((verb) => verb.classes.length > 0) &&
  !piece.cues.some((cue) => /^(finished|not|later|future|starting)$/.test(cue.name)) &&
  piece.cues.some((cue) => cue.name === 'doubt');

/** Whether a condition right beside a piece says when it is to be: "once it is cold I drain it". */
function isUnder(piece: Piece, pieces: readonly Piece[]): boolean {
  if (piece.hangs) return false;
  const at = pieces.indexOf(piece);
  const open = (one: Piece | undefined) =>
    one?.hangs === 'condition' && !toldAsPast(one.tokens, one.from, one.to);
  const behind = pieces[at + 1];
  return (at === 1 && open(pieces[0])) || (behind?.joint === '' && open(behind));
}

const NO_PARTS: ReadonlyMap<string, number> = new Map();

/** Pieces that say nothing alone belong to the one before or behind; pieces without a part take the one before. */
function joinPieces(pieces: readonly Piece[], sentence: number, question: boolean): Clause[] {
  const clauses: Clause[] = [];
  let waiting: Piece[] = [];
  const push = (group: readonly Piece[], lent: Piece | undefined) => {
    const before = clauses.at(-1);
    const named = group.some((piece) => [...piece.parts.values()].some((value) => value >= 0.35));
    const inherits = !named && before !== undefined;
    clauses.push({
      pieces: group,
      inherited: inherits ? partsOf(before) : NO_PARTS,
      around: before ? partsOf(before) : NO_PARTS,
      shared: [],
      lent,
      memo: newMemo(),
      sentence,
      question,
      ...(group.length === 1 && group[0]?.hangs && pieces.length > 1
        ? { hangs: group[0].hangs }
        : {}),
      ...(group.some((piece) => isUnder(piece, pieces)) ? { under: true as const } : {}),
    });
  };
  pieces.forEach((piece, index) => {
    if (piece.hangs && pieces.length > 1) {
      push([piece], undefined);
      return;
    }
    const speaks = says(piece);
    const rest = pieces.slice(index + 1);
    const speaksLater = rest.some(says);
    if (doubtsOnly(piece)) {
      // "Ich glaube, die Pratzen sind fest", "clamps done, I think": the doubt is about its neighbours.
      const last = clauses.at(-1);
      if (last) clauses[clauses.length - 1] = { ...last, pieces: [...last.pieces, piece] };
      if (speaksLater || !last) waiting.push(piece);
      return;
    }
    if (index > 0 && piece.cues.some((cue) => cue.name === 'private') && piece.parts.size === 0) {
      if (speaks && waiting.length === 0) push([piece], undefined);
      return;
    }
    if (speaks) {
      flush(piece);
      return;
    }
    if (
      piece.parts.size === 0 &&
      piece.figures.length === 0 &&
      piece.unknown.length > 0 &&
      index > 0
    )
      return;
    const before = clauses.at(-1);
    const onlyFigures = piece.parts.size === 0;
    if (
      piece.parts.size === 0 &&
      piece.figures.length === 0 &&
      piece.unknown.length === 0 &&
      speaksLater
    ) {
      waiting.push(piece);
      return;
    }
    if (
      before &&
      waiting.length === 0 &&
      (!speaksLater || (onlyFigures && takesFigures(before, piece)))
    ) {
      clauses[clauses.length - 1] = { ...before, pieces: [...before.pieces, piece] };
      return;
    }
    waiting.push(piece);
  });
  if (waiting.length > 0) {
    if (
      waiting.some(
        (piece) => piece.parts.size > 0 || piece.figures.length > 0 || piece.unknown.length > 0,
      )
    )
      push(waiting, undefined);
    waiting = [];
  }
  return forwardParts(clauses);

  /** A speaking piece closes a clause; subjects that waited for their verb get it lent, each by itself. */
  function flush(piece: Piece): void {
    const lists = waiting.filter((one) => one.parts.size > 0);
    const others = waiting.filter((one) => one.parts.size === 0);
    waiting = [];
    if (lists.length > 0 && laterElsewhere(lists, piece)) {
      push([...lists, ...others], undefined);
      push([piece], undefined);
      return;
    }
    if (
      piece.parts.size > 0 &&
      lists.length > 0 &&
      piece.joint !== ':' &&
      !lists.some((one) => one.joint === ':')
    ) {
      for (const one of lists) push([one], piece);
      push([...others, piece], undefined);
      return;
    }
    push([...lists, ...others, piece], undefined);
  }
}

/** "5 not torqued yet, rest of the clamps done": what is denied first is named behind it. */
function forwardParts(clauses: Clause[]): Clause[] {
  const [first, second] = clauses;
  if (
    !first ||
    !second ||
    first.inherited.size > 0 ||
    first.pieces.some((one) => one.parts.size > 0)
  )
    return clauses;
  const denied = first.pieces.some((one) =>
    one.cues.some((cue) => /^(not|not-yet|left-to-do)$/.test(cue.name)),
  );
  const placed = first.pieces.some((one) =>
    one.figures.some((figure) => figure.kind === 'positions' || figure.kind === 'left'),
  );
  const parts = partsOf(second);
  if (!denied || !placed || parts.size === 0) return clauses;
  return [{ ...first, inherited: parts }, ...clauses.slice(1)];
}

/** "Wheel nuts fl fr 600, rl rr tomorrow": a figure at one place, and another place that is still to come. */
function laterElsewhere(lists: readonly Piece[], piece: Piece): boolean {
  const places = (one: Piece) => one.figures.some((figure) => figure.kind === 'positions');
  return (
    piece.parts.size === 0 &&
    places(piece) &&
    piece.verbs.length === 0 &&
    piece.cues.some((cue) => TO_COME.has(cue.name)) &&
    lists.some(places) &&
    lists.some((one) => one.figures.some((figure) => /^(quantity|stage|number)$/.test(figure.kind)))
  );
}

/** "I took the shield off, was I to count the screws?": only the second half asks. */
function statedBefore(clauses: readonly Clause[]): readonly Clause[] {
  if (clauses.length < 2 || clauses[0]?.question !== true) return clauses;
  const asks = clauses.findIndex((clause) => {
    const piece = clause.pieces[0];
    return piece?.cues.some((cue) => cue.name === 'question-start' && cue.from === piece.from);
  });
  return clauses.map((clause, at) =>
    at < asks && isOwnPast(clause) ? { ...clause, states: true } : clause,
  );
}

/** "I took it off", "we have fitted the pump". */
function isOwnPast(clause: Clause): boolean {
  const piece = clause.pieces[0];
  if (!piece) return false;
  const at = piece.tokens
    .slice(piece.from, Math.min(piece.to, piece.from + 3))
    .findIndex((token) => /^(i|we)$/.test(token.word));
  if (at < 0) return false;
  const verb = piece.verbs[0];
  return verb?.form === 'past' && verb.at - piece.from - at <= 2;
}

const placesIn = (clause: Clause): readonly Figure[] =>
  clause.pieces.flatMap((piece) =>
    piece.figures.filter(
      (figure) =>
        (figure.kind === 'positions' && !(figure.bare && figure.queries.length === 1)) ||
        figure.kind === 'all',
    ),
  );

/** A clause without a place takes the one said before it in the sentence, else the one behind the whole sentence. */
function sharePlaces(clauses: readonly Clause[]): readonly Clause[] {
  if (clauses.length < 2) return clauses;
  const last = clauses.at(-1);
  const trailing = last?.pieces.at(-1);
  const behind =
    trailing && trailing.parts.size === 0 && !says(trailing)
      ? placesIn({ ...last, pieces: [trailing] } as Clause)
      : [];
  let before: readonly Figure[] = [];
  return clauses.map((clause) => {
    const own = placesIn(clause);
    if (own.length > 0) {
      before = own;
      return clause;
    }
    const shared = before.length > 0 ? before : behind;
    return shared.length > 0 ? { ...clause, shared } : clause;
  });
}

const partsOf = (clause: Clause): ReadonlyMap<string, number> => {
  const own = clause.pieces.flatMap((piece) => [...piece.parts]);
  return own.length > 0 ? new Map(own) : clause.inherited;
};

/** Bare figures behind a comma belong to what was said before them, unless it has its figures already. */
function takesFigures(clause: Clause, piece: Piece): boolean {
  const have = new Set(clause.pieces.flatMap((one) => one.figures.map((figure) => figure.kind)));
  return (
    piece.figures.every((figure) => figure.kind === 'quantity' || !have.has(figure.kind)) &&
    piece.figures.length > 0 &&
    /^(,|then|and|&|\+|plus|\(|:|-|)$/.test(piece.joint) &&
    piece.figures.every((f) => f.kind !== 'positions' || !have.has('positions'))
  );
}
