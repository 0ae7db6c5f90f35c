// The README's table of questions for a figure, from the examples beside each kind; a test asks them all.
import { FIGURE_KINDS } from '../../src/desk/figures/index.ts';

export const figureTable = (): string => {
  const rows = FIGURE_KINDS.flatMap(({ means, examples }) => {
    const [first] = examples;
    return first
      ? [
          `| ${means.replaceAll('|', '\\|')} | \`${first.type.replaceAll('|', '\\|').replaceAll('\n', ' / ')}\` |`,
        ]
      : [];
  });
  return ['| for | you type |', '| --- | --- |', ...rows].join('\n');
};
