// One turn of the desk: something happened on a job, and this is what is recorded and what is said.
import type { JobEvent, JobEventOf } from '../../../shared/event.ts';
import type { Around, JobView } from '../../job/view.ts';
import type { PastJob } from '../answers/history.ts';
import type { Card, Post } from '../card.ts';
import type { PastJobs } from '../forecast/forecast.ts';
import type { Reports } from '../reports.ts';
import type { Workshop } from '../workshop.ts';

/** A job as the desk holds it: its recorded events, in the order in which they were stored. */
export type JobState = {
  readonly events: readonly JobEvent[];
  readonly view: JobView;
  /** Text of the job sheet as last posted, where it is known: other jobs on the vehicle bear on it too. */
  readonly sheet?: string;
};

/** Messages of one job that belong to another: the shell hands them there before it writes this turn. */
export type Elsewhere = {
  readonly job: string;
  readonly from: string;
  readonly by: string;
  /** Id of the turn that moves them: the same turn again moves nothing twice. */
  readonly turn: string;
  readonly messages: readonly JobEventOf<'message-posted'>[];
};

/** What surrounds a turn: the time now (ISO with offset), the people and other jobs. */
export type Moment = {
  readonly workshop: Workshop;
  readonly now: string;
  readonly around: Around;
  /** Views of all open jobs, for answers that need them; undefined until asked for through `needs`. */
  readonly openJobs?: readonly JobView[];
  /** Jobs that are over and were asked for through `needs`, newest first. */
  readonly pastJobs?: readonly PastJob[];
  /** How past jobs on the plans of the open jobs went; comes with `openJobs`. */
  readonly paces?: PastJobs;
  /** Pictures and papers; left out where nothing can be shown, as in a replay. */
  readonly reports?: Reports;
  /** Numbers of the open jobs, for "that was for 2210". */
  readonly jobNumbers: readonly string[];
  /** Seconds for which a `skipped` is held back; 0 in a replay of arrivals without a clock. */
  readonly holdBack: number;
};

export type Turn = {
  readonly state: JobState;
  readonly events: readonly JobEvent[];
  readonly posts: readonly Post[];
  readonly elsewhere?: readonly Elsewhere[];
  /** When to look again although nothing arrives: a flag held back, a question about to lapse. */
  readonly again?: string;
};

/** What a person says, on any channel. */
export type Said = {
  readonly id: string;
  readonly message: string;
  readonly channel: string;
  readonly at: string;
  readonly by: string;
  readonly roles: readonly string[];
  readonly text: string;
  readonly typed?: string;
  /** Said by a button: decided by what stands when it arrives. */
  readonly tapped?: true;
};

/** One piece of a reply: gathered, so that a message gets at most one. Lower `order` comes first. */
export type Piece = { readonly order: number; readonly card: Card };
