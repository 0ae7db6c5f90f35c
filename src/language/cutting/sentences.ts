// The sentences of a message: where a mark or a line break ends one.
import { PIECE_TOKENS } from '../thresholds.ts';
import type { Token } from '../tidy/token.ts';

const ENDS = new Set(['.', '!', '?', '\n', ';', '…']);

/** One sentence: places of its tokens, and whether a question mark ends it. */
export type Sentence = { from: number; to: number; question: boolean };

export function sentencesOf(tokens: readonly Token[], inFigure: Uint8Array): Sentence[] {
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
