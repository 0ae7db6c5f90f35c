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
    const word = token.kind === 'word' && conjunctions.has(token.word);
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

const sidesAround = (figures: readonly Figure[], i: number): boolean =>
  figures.some((figure) => figure.kind === 'positions' && figure.to === i) &&
  figures.some((figure) => figure.kind === 'positions' && figure.from === i + 1);
