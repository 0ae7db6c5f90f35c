import type { Act } from '../../../shared/reading.ts';
import type { Report } from '../view.ts';

/** A report in the making: what still stands is settled in posting order, so it may change on the way. */
export type Draft = {
  readonly message: string;
  readonly index: number;
  act: Act;
  readonly posted: number;
  readonly postedIso: string;
  when: number;
  whenIso: string;
  timeSaid: boolean;
  readonly worker: string;
  readonly reporter: string;
  readonly role: string | undefined;
  /** Nodes of the step graph it reports on; empty for a watched act, or while its position is not known. */
  nodes: readonly number[];
  live: boolean;
  /** A question asks which positions are meant; nothing is recorded until it is answered. */
  unsettled: boolean;
  /** Another figure than the one on record, not yet settled which holds. */
  disputed: Draft | undefined;
};

/** A report that stands, with the times the checks compare. */
export type Fact = {
  readonly report: Report;
  /** Unique place in posting order. */
  readonly order: number;
  readonly posted: number;
  readonly when: number;
  readonly nodes: readonly number[];
  readonly unsettled: boolean;
  /** The earlier report whose figure this one contradicts. */
  readonly disputes: Report | undefined;
};

/** Kinds of act that say work was done or is in hand. */
export const WORK: ReadonlySet<Act['kind']> = new Set(['done', 'started', 'partial']);

/** By time of the work, then by posting order. */
export const byWhen = (a: Fact, b: Fact): number => a.when - b.when || a.order - b.order;
