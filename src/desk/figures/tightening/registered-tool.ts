// "TW-03", "tw 3", "wrench tw3": a tool of the register, however its mark is typed.
import type { Asked } from '../asking/asked.ts';
import type { RegisteredTool } from '../figure-kind.ts';

const MARK = /(?<![\p{L}\d])(\p{L}{1,4})[\s-]?0*(\d{1,4})(?![\p{L}\d])/gu;

const bare = (mark: string): string =>
  mark
    .toLowerCase()
    .replace(/[\s-]/g, '')
    .replace(/(\p{L})0+(?=\d)/u, '$1');

/** The tool of the register that a question names. */
export function toolIn(
  asked: Asked,
  tools: readonly RegisteredTool[] | undefined,
): RegisteredTool | undefined {
  const marks = new Set(marksIn(asked).map(bare));
  return tools?.find(({ id }) => marks.has(bare(id)));
}

/** Everything in a question that may be the mark of a tool. */
export function marksIn(asked: Asked): readonly string[] {
  return [...asked.plain.matchAll(MARK)].map(([mark]) => mark);
}
