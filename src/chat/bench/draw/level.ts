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

/** Letters that fit the rail and a bay on a phone without being cut. */
const SHORT = 110;

/**
 * What is wrong, in few enough words for places of a fixed height, and never cut within a word: the first sentence,
 * or as much of it as comes before a colon or comma, or a space where that would be little. Where and what to do stand in full behind it.
 */
export function whatWords(says: string, most = SHORT): string {
  const first = /^.*?[.?](?=\s|$)/su.exec(says)?.[0] ?? says;
  if (first.length <= most) return first;
  const head = first.slice(0, most);
  const end = Math.max(head.lastIndexOf(': '), head.lastIndexOf(', '), head.lastIndexOf('; '));
  const whole =
    end > most / 2 ? head.slice(0, end) : head.slice(0, Math.max(head.lastIndexOf(' '), 1));
  return `${whole} and more`;
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
