// Cuts a message into clauses. Figures are found before, so that a comma in a list of positions cuts nothing.
import type { Clause, Piece, VerbHit } from './clause.ts';
import { type Cue, findCues } from './cue-table.ts';
import type { Tongue } from './lexicon.ts';
import type { ActionClass, CueName } from './pack.ts';
import type { Figure } from './scan/figure.ts';
import type { Token } from './tidy/token.ts';

const MARKS = new Set([',', ';', ':', '(', ')', '|', '—', '/', '=', '>', '•', '*']);
const ENDS = new Set(['.', '!', '?', '\n', ';', '…']);
const TICKS = /^[✅✔☑👍👌💪🎉🙌🆗🏁]/u;

/** One sentence: places of its tokens, and whether a question mark ends it. */
type Sentence = { from: number; to: number; question: boolean };

function sentencesOf(tokens: readonly Token[], inFigure: Uint8Array): Sentence[] {
  const list: Sentence[] = [];
  let from = 0;
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i] as Token;
    const stop = token.word === '.' && tokens[i + 1]?.glued && tokens[i + 1]?.kind === 'word';
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
  'no',
  'except',
]);

/** The clauses of a message, in order. */
export function cutClauses(
  tokens: readonly Token[],
  figures: readonly Figure[],
  tongue: Tongue,
): Clause[] {
  const inFigure = new Uint8Array(tokens.length);
  for (const figure of figures) inFigure.fill(1, figure.from, figure.to);
  const clauses: Clause[] = [];
  let next = 0;
  sentencesOf(tokens, inFigure).forEach((sentence, index) => {
    const cues = findCues(tokens, sentence.from, sentence.to, tongue.cues);
    const own: Figure[] = [];
    while (next < figures.length && (figures[next] as Figure).from < sentence.to)
      own.push(figures[next++] as Figure);
    const pieces = piecesOf(tokens, sentence, own, cues, inFigure, tongue);
    clauses.push(...joinPieces(pieces, index, sentence.question));
  });
  return clauses;
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
  let from = sentence.from;
  let joint = '';
  const close = (to: number) => {
    if (to > from)
      pieces.push(
        pieceOf(tokens, from, to, figures, cues, inFigure, tongue, joint, sentence.question),
      );
  };
  for (let i = sentence.from; i < sentence.to; i += 1) {
    if (inFigure[i]) continue;
    const token = tokens[i] as Token;
    const dash = token.word === '-' && !(token.glued && tokens[i + 1]?.glued);
    const mark = token.kind === 'mark' && (MARKS.has(token.word) || dash);
    const and = token.word === '&' || token.word === '+';
    const word = token.kind === 'word' && isConjunction(token.word, conjunctions);
    if (!mark && !word && !and) continue;
    if (word && cues.some((cue) => cue.from < i && cue.to > i && cue.to - cue.from > 2)) continue;
    close(i);
    joint = token.word;
    from = i + 1;
  }
  close(sentence.to);
  return pieces;
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
): Piece {
  const pack = tongue.pack;
  const verbs: VerbHit[] = [];
  const moved: ActionClass[] = [];
  const parts = new Map<string, number>();
  const unknown: string[] = [];
  const particleAt: number[] = [];
  let tick = false;
  const inside = cues.filter((cue) => cue.from >= from && cue.to <= to);
  const said = (i: number) =>
    inside.some(
      (cue) => cue.from <= i && i < cue.to && cue.name !== 'conjunction' && cue.name !== 'good',
    );
  for (let i = from; i < to; i += 1) {
    const token = tokens[i] as Token;
    if (token.kind === 'sign' && TICKS.test(token.word)) tick = true;
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
      particleAt.push(i);
      continue;
    }
    const noun = entry.plan && (tokens[i + 1]?.entry?.plan ?? false) && entry.forms.includes('ing');
    const past = entry.forms.includes('past');
    const base = entry.forms.includes('base');
    if (
      entry.forms.length > 0 &&
      !noun &&
      (past || entry.forms.includes('ing') || base || entry.forms.includes('third'))
    ) {
      const leads = verbs.length === 0 && isLead(tokens, i, from, pack.pronouns);
      const asVerb = past || entry.forms.includes('ing') || !entry.plan || leads;
      if (asVerb) {
        verbs.push({
          at: i,
          lemma: entry.lemma ?? entry.root,
          classes: withParticle(
            tokens,
            i,
            to,
            entry.lemma ?? entry.root,
            entry.classes,
            pack.phrasal,
          ),
          form:
            past && !(base && leads && i === from)
              ? 'past'
              : entry.forms.includes('ing')
                ? 'ing'
                : base
                  ? 'base'
                  : 'third',
          maybeNoun: base && entry.plan,
        });
      }
      if (entry.plan && !(leads && !past)) parts.set(entry.root, 1);
      else if (past && entry.lemma !== undefined && tongue.weightOf.has(entry.lemma))
        parts.set(entry.lemma, Math.max(0.3, parts.get(entry.lemma) ?? 0));
      else if (entry.plan) parts.set(entry.root, 0.5);
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
    if (entry.plan) parts.set(entry.root, entry.side === undefined ? 1 : 0.4);
    else if (pack.states[token.word] && !isAttribute(tokens, i))
      moved.push(...(pack.states[token.word] ?? []));
    else if (!entry.stop && !entry.known && !said(i) && token.word.length > 2)
      unknown.push(token.word);
  }
  particles(tokens, particleAt, verbs, from, to, tongue, moved, inFigure);
  return {
    from,
    to,
    tokens,
    verbs,
    moved,
    parts,
    unknown,
    figures: figures.filter((figure) => figure.from >= from && figure.to <= to),
    cues: inside,
    joint,
    tick,
    question,
  };
}

/** "dry seal" is a seal; "seal dry" is a state. */
const isAttribute = (tokens: readonly Token[], i: number) => tokens[i + 1]?.entry?.plan === true;

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
  phrasal: Readonly<Record<string, ActionClass>>,
): readonly ActionClass[] {
  for (let k = i + 1; k < Math.min(to, i + 5); k += 1) {
    const pair = phrasal[`${lemma} ${tokens[k]?.word ?? ''}`];
    if (pair) return [pair];
  }
  return classes;
}

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
): void {
  for (const i of places) {
    const token = tokens[i] as Token;
    const next = tokens[i + 1];
    const leads =
      next !== undefined &&
      i + 1 < to &&
      next.kind === 'word' &&
      !inFigure[i + 1] &&
      (next.entry?.plan === true ||
        /^(the|a|an|this|that|my|its|his|her|our|stage|place|progress|bay|good|spec|there|to)$/.test(
          next.word,
        ));
    const behindVerb = verbs.some((verb) => verb.form !== 'base' && verb.at < i);
    if (leads && (token.word !== 'back' || behindVerb)) continue;
    if (behindVerb && next !== undefined && i + 1 < to && inFigure[i + 1]) continue;
    if (i === from && token.word !== 'off' && token.word !== 'out' && to - from > 3) continue;
    if (token.word === 'back' && /^(on|in|up|to|at|from|off)$/.test(next?.word ?? '')) continue;
    if (/^(later|then|top|about|straight)$/.test(tokens[i - 1]?.word ?? '')) continue;
    moved.push(...(tongue.pack.particles[token.word] ?? []));
  }
}

const says = (piece: Piece): boolean =>
  piece.verbs.some((verb) => !verb.maybeNoun) ||
  piece.moved.length > 0 ||
  piece.tick ||
  piece.cues.some((cue) => SAYING.has(cue.name));

const NO_PARTS: ReadonlyMap<string, number> = new Map();

/** Pieces that say nothing alone belong to the one before or behind; pieces without a part take the one before. */
function joinPieces(pieces: readonly Piece[], sentence: number, question: boolean): Clause[] {
  const clauses: Clause[] = [];
  let waiting: Piece[] = [];
  const push = (group: readonly Piece[], lent: Piece | undefined) => {
    const before = clauses.at(-1);
    const named = group.some((piece) => piece.parts.size > 0);
    const inherits = !named && before !== undefined;
    clauses.push({
      pieces: group,
      inherited: inherits ? partsOf(before) : NO_PARTS,
      inheritedFigures: before
        ? before.pieces.flatMap((piece) => piece.figures).concat(before.inheritedFigures)
        : [],
      lent,
      sentence,
      question,
    });
  };
  pieces.forEach((piece, index) => {
    const speaks = says(piece);
    const rest = pieces.slice(index + 1);
    const speaksLater = rest.some(says);
    if (speaks) {
      flush(piece);
      return;
    }
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
  return clauses;

  /** A speaking piece closes a clause; subjects that waited for their verb get it lent, each by itself. */
  function flush(piece: Piece): void {
    const lists = waiting.filter((one) => one.parts.size > 0);
    const others = waiting.filter((one) => one.parts.size === 0);
    waiting = [];
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
    piece.joint === ',' &&
    piece.figures.every((f) => f.kind !== 'positions' || !have.has('positions'))
  );
}
