/** What lies ahead of a job, as the forecast needs it. Instants are ms since 1970 UTC, times minutes. */
import type { ThreePoint } from '../three-point.ts';

/** One step at one position that has no record yet. */
export type WorkStep = {
  readonly id: string;
  /** Steps of one kind are told of together: the step's name in the plan. */
  readonly kind: string;
  /** Hands-on minutes. */
  readonly time: ThreePoint;
  /** Real minutes after the hands-on time in which nobody has to stand by; they go on overnight. */
  readonly handsOff: number;
  /** Ids of the steps before it that are still ahead. */
  readonly after: readonly string[];
  /** Real minutes to be waited after another step: one still ahead, or one that was done at an instant. */
  readonly waits: readonly { readonly after: string | number; readonly minutes: number }[];
  /** Hands-on minutes that went into it already. */
  readonly spent: number;
};

export type JobAhead = {
  readonly job: string;
  readonly steps: readonly WorkStep[];
  /** Who works on it; one of `Crew` each. Several work at once where the order allows. */
  readonly people: readonly string[];
};

/** A plan's expected hands-on minutes, (o + 4m + p) / 6. */
export const meanOf = ({ o, m, p }: ThreePoint): number => (o + 4 * m + p) / 6;

export const handsOnMean = (steps: readonly WorkStep[]): number =>
  steps.reduce((sum, { time }) => sum + meanOf(time), 0);
