// Limits in a table name their source by a number, and the sources stand once below: "18 to 22 N·m [1]".
import type { RecordLimit } from '../../../shared/record.ts';
import type { DocumentBlock } from '../document.ts';
import { limitWords } from '../words.ts';

export type LimitSources = {
  /** The limit in words with the number of its source; "no limit" where there is none. */
  readonly limit: (limit: RecordLimit | null) => string;
  readonly number: (source: string) => string;
  /** The sources named so far, and the notice of the plan. */
  readonly blocks: (notice: string) => readonly DocumentBlock[];
};

export const limitSources = (): LimitSources => {
  const known: string[] = [];
  const number = (source: string): string => {
    if (source === '') return '';
    if (!known.includes(source)) known.push(source);
    return ` [${known.indexOf(source) + 1}]`;
  };
  return {
    number,
    limit: (limit) => (limit ? `${limitWords(limit)}${number(limit.source)}` : 'no limit'),
    blocks: (notice) => [
      ...(known.length > 0
        ? [
            {
              kind: 'text' as const,
              small: true,
              text: `Where the limits come from: ${known.map((source, index) => `[${index + 1}] ${source}`).join('; ')}.`,
            },
          ]
        : []),
      { kind: 'text', small: true, text: notice },
    ],
  };
};
