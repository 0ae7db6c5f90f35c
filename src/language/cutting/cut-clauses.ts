// Cuts a message into clauses. Figures are found before, so that a comma in a list of positions cuts nothing.
import type { Clause } from '../clause.ts';
import { findCues } from '../cue-table.ts';
import type { Tongue } from '../lexicon.ts';
import type { Figure } from '../scan/figure.ts';
import type { Token } from '../tidy/token.ts';
import { joinPieces } from './join-pieces.ts';
import { sharePlaces, statedBefore } from './lend-parts.ts';
import { piecesOf } from './pieces.ts';
import { type Sentence, sentencesOf } from './sentences.ts';

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
export function isShouted(tokens: readonly Token[], sentence: Sentence): boolean {
  let words = 0;
  for (let i = sentence.from; i < sentence.to; i += 1) {
    const token = tokens[i];
    if (token?.kind !== 'word') continue;
    if (!token.capital) return false;
    words += 1;
  }
  return words > 1;
}
