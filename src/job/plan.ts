// The compiled plan: the file's own content with the look-ups that checking and reading need.
import type { PlanFile, Step, Watched } from '../../shared/plan.ts';

export type Plan = PlanFile & {
  /** SHA-256 of the text, hex. */
  readonly hash: string;
  /** The file as it stood when the job was opened. */
  readonly text: string;
  readonly stepById: ReadonlyMap<string, Step>;
  readonly watchedById: ReadonlyMap<string, Watched>;
  /** Every step that comes before a step, through the whole order. */
  readonly before: ReadonlyMap<string, ReadonlySet<string>>;
  /** Every step that rests on a step, through the whole order. */
  readonly behind: ReadonlyMap<string, ReadonlySet<string>>;
  /** The set of positions a position name belongs to. */
  readonly setOf: ReadonlyMap<string, string>;
};
