// The three levels: told apart by word and by shape (bar, notch, dot), never by colour.
import type { Level } from '../../../../shared/plan.ts';
import type { BenchFlag, BenchJob } from '../bench-view.ts';

export const LEVEL_WORD: Readonly<Record<Level, string>> = {
  stop: 'Stop',
  caution: 'Caution',
  advice: 'Advice',
};

const RANK: Readonly<Record<Level, number>> = { stop: 0, caution: 1, advice: 2 };

export type Raised = { readonly flag: BenchFlag; readonly job: string };

/** All flags of these jobs, stops first, and within a level the one that stands longest first. */
export function raisedOn(jobs: readonly BenchJob[]): readonly Raised[] {
  return jobs
    .flatMap(({ flags, job }) => flags.map((flag) => ({ flag, job })))
    .sort(
      (a, b) =>
        RANK[a.flag.level] - RANK[b.flag.level] ||
        Date.parse(a.flag.since) - Date.parse(b.flag.since),
    );
}

/** "1 stop, 2 cautions" in words; undefined where nothing stands. */
export function countWords(flags: readonly Pick<BenchFlag, 'level'>[]): string | undefined {
  const count = (level: Level) => flags.filter((flag) => flag.level === level).length;
  const words = [
    [count('stop'), 'stop', 'stops'] as const,
    [count('caution'), 'caution', 'cautions'] as const,
    [count('advice'), 'advice', 'advices'] as const,
  ].flatMap(([number, one, more]) =>
    number === 0
      ? []
      : [
          one === 'advice' && number > 1
            ? `${number} pieces of advice`
            : `${number} ${number === 1 ? one : more}`,
        ],
  );
  return words.length === 0 ? undefined : words.join(', ');
}
