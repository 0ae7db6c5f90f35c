// The pieces of a sentence: between marks, conjunctions and the cuts inside a line without marks.
import type { Piece } from '../clause.ts';
import type { Cue } from '../cue-table.ts';
import type { Tongue } from '../lexicon.ts';
import type { Figure } from '../scan/figure.ts';
import type { Token } from '../tidy/token.ts';
import { isShouted } from './cut-clauses.ts';
import { innerCuts } from './inner-cuts.ts';
import { pieceOf } from './piece-of.ts';
import type { Sentence } from './sentences.ts';
import { type Hanging, subordinates } from './subordinate.ts';

const MARKS = new Set([',', ';', ':', '(', ')', '|', '—', '/', '=', '>', '•', '*']);

export function piecesOf(
  tokens: readonly Token[],
  sentence: Sentence,
  figures: readonly Figure[],
  cues: readonly Cue[],
  inFigure: Uint8Array,
  tongue: Tongue,
): Piece[] {
  const { conjunctions } = tongue.cues;
  const cut: Cutting = {
    tokens,
    figures,
    cues,
    inFigure,
    tongue,
    question: sentence.question,
    shout: isShouted(tokens, sentence),
    pieces: [],
    from: sentence.from,
    joint: '',
  };
  for (let i = sentence.from; i < sentence.to; i += 1) {
    if (inFigure[i]) continue;
    const token = tokens[i] as Token;
    const dash = token.word === '-' && !(token.glued && tokens[i + 1]?.glued);
    const mark = token.kind === 'mark' && (MARKS.has(token.word) || dash);
    const and = token.word === '&' || token.word === '+';
    const word = token.kind === 'word' && conjunctions.has(token.word);
    if (!mark && !word && !and) continue;
    // "L + r", "1 and 2": a list that the figures hold together.
    if (and && inFigure[i - 1] && inFigure[i + 1] && sidesAround(figures, i)) continue;
    if (word && cues.some((cue) => cue.name === 'question-tag' && cue.from === i && cue.to - i > 1))
      continue;
    if (word && cues.some((cue) => cue.from < i && cue.to > i && cue.to - cue.from > 2)) continue;
    close(cut, i);
    cut.joint = token.word;
    cut.from = i + 1;
  }
  close(cut, sentence.to);
  return cut.pieces;
}

/** A sentence that is being cut: what it is made of, and how far the cutting has come. */
type Cutting = {
  readonly tokens: readonly Token[];
  readonly figures: readonly Figure[];
  readonly cues: readonly Cue[];
  readonly inFigure: Uint8Array;
  readonly tongue: Tongue;
  readonly question: boolean;
  readonly shout: boolean;
  readonly pieces: Piece[];
  from: number;
  joint: string;
};

/** Ends what was begun: conditions in it by themselves, the rest where reports meet. */
function close(cut: Cutting, end: number): void {
  if (!cut.tongue.pack.verbLast)
    for (const span of subordinates(cut.tokens, cut.from, end, cut.cues)) {
      closeMain(cut, span.from);
      closeOne(cut, span.to, span.kind);
    }
  closeMain(cut, end);
}

function closeMain(cut: Cutting, end: number): void {
  const { tokens, from, inFigure, figures, cues, tongue } = cut;
  for (const at of innerCuts(tokens, from, end, inFigure, figures, cues, tongue)) closeOne(cut, at);
  closeOne(cut, end);
}

function closeOne(cut: Cutting, to: number, hangs?: Hanging): void {
  if (to <= cut.from) return;
  const piece = pieceOf(
    cut.tokens,
    cut.from,
    to,
    cut.figures,
    cut.cues,
    cut.inFigure,
    cut.tongue,
    cut.joint,
    cut.question,
    cut.shout,
  );
  cut.pieces.push(hangs ? { ...piece, hangs } : piece);
  cut.joint = '';
  cut.from = to;
}

const sidesAround = (figures: readonly Figure[], i: number): boolean =>
  figures.some((figure) => figure.kind === 'positions' && figure.to === i) &&
  figures.some((figure) => figure.kind === 'positions' && figure.from === i + 1);
