import type { JobEventOf } from '../../../shared/event.ts';
import type { Answer } from '../facts/answers.ts';
import type { TimedEvent } from '../facts/canonical.ts';
import type { OtherAct } from '../facts/collect.ts';
import type { Fact } from '../facts/fact.ts';
import type { Frame } from '../facts/frame.ts';
import type { MessageRecord } from '../facts/message-log.ts';
import type { Plan } from '../plan.ts';
import type { Around, Clocking } from '../view.ts';
import type { Rework } from './cycles.ts';
import type { Doneness, Evaluate } from './doneness.ts';
import type { Graph } from './graph.ts';
import type { HoldHistory } from './holds.ts';
import type { StateHistory } from './vehicle-state.ts';

/** A controller let a flag be, with a reason. */
export type Override = { readonly id: string; readonly at: number; readonly by: string };

/** Everything that is true of a job before any check has looked at it. */
export type Job = {
  readonly plan: Plan;
  readonly opened: JobEventOf<'job-opened'>;
  readonly around: Around;
  readonly now: number;
  readonly nowIso: string;
  readonly events: readonly TimedEvent[];
  readonly frame: Frame;
  readonly graph: Graph;
  readonly log: readonly MessageRecord[];
  readonly answers: ReadonlyMap<string, Answer>;
  /** Standing reports of work by the time of the work. */
  readonly facts: readonly Fact[];
  /** The same in posting order. */
  readonly posting: readonly Fact[];
  readonly misplaced: readonly { readonly fact: Fact; readonly position: string }[];
  readonly others: readonly OtherAct[];
  readonly reworks: readonly Rework[];
  readonly done: Doneness;
  readonly evaluate: Evaluate;
  readonly holds: HoldHistory;
  readonly states: StateHistory;
  /** Overrides by the identity of the flag, oldest first. */
  readonly overrides: ReadonlyMap<string, readonly Override[]>;
  readonly clockings: readonly Clocking[];
  readonly minutesBooked: number;
};
