// Says at the end of a run which tests were left out and why, in the words of their titles.
import type { Reporter } from 'vitest/node';

/** The reason in a title: "… (left out on a machine without PostgreSQL: …)", or the title itself. */
export const reasonIn = (title: string): string =>
  [...title.matchAll(/\(([^()]*\b(?:left out|not there|no |not |without|where|only)[^()]*)\)/g)]
    .at(-1)?.[1]
    ?.trim() ?? title;

/** One line for each reason, with how many tests it leaves out. */
export const leftOutLines = (titles: readonly string[]): readonly string[] => {
  const counts = new Map<string, number>();
  for (const title of titles) {
    const reason = reasonIn(title);
    counts.set(reason, (counts.get(reason) ?? 0) + 1);
  }
  return [...counts].map(([reason, count]) => `  ${count} × ${reason}`);
};

export const leftOut: Reporter = {
  onTestRunEnd: (modules) => {
    const titles = modules.flatMap((module) =>
      [...module.children.allTests('skipped')].map((test) => test.fullName),
    );
    if (titles.length === 0) return;
    console.log(`\nLeft out: ${titles.length} tests.\n${leftOutLines(titles).join('\n')}`);
  },
};
