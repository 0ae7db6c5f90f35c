// What is true of a job now: derived from its events alone, never stored.
import type { JobEvent, JobEventOf } from '../../shared/event.ts';
import type { Flag } from '../../shared/flag.ts';
import type { Act, Quantity } from '../../shared/reading.ts';
import type { FluidTotal, StepStateName } from '../../shared/replay.ts';
import type { WorkCalendar } from '../trade/work-calendar.ts';
import type { Plan } from './plan.ts';

/** One act of one message that still stands, with its time and people settled. */
export type Report = {
  readonly message: string;
  readonly index: number;
  readonly act: Act;
  /** ISO, when posted (an act an edit added: when edited). */
  readonly posted: string;
  /** ISO, the time said, else the time of posting. */
  readonly when: string;
  readonly timeSaid: boolean;
  /** Who did the work, and who posted it. */
  readonly worker: string;
  readonly reporter: string;
  readonly role: string | undefined;
};

export type StepProgress = {
  readonly step: string;
  readonly position: string | null;
  readonly state: StepStateName;
  /** When it reached this state; null while open. */
  readonly at: string | null;
  readonly by: string | null;
  readonly messages: readonly string[];
  /** Stages of a tightening or loosening that have a record. */
  readonly stages: readonly number[];
  readonly figures: readonly Figure[];
  /** What the plan still wants to hear for this step, in plain words: "the volume in L". */
  readonly missing: readonly string[];
  readonly assumed: readonly string[];
};

export type Figure = {
  readonly of: string;
  readonly quantity: Quantity;
  readonly message: string;
  /** Limits in the plan's unit, with their source. */
  readonly limit?: {
    readonly min?: number;
    readonly max?: number;
    readonly unit: string;
    readonly source: string;
  };
  readonly within?: boolean;
  readonly assumed: boolean;
};

export type HoldState = {
  readonly step: string;
  readonly position: string | null;
  readonly state: 'not reached' | 'waits' | 'released' | 'refused';
  readonly by?: string;
  readonly at?: string;
};

export type OpenState = {
  readonly state: string;
  readonly title: string;
  readonly means: string | undefined;
  readonly positions: readonly string[];
  readonly since: string;
  readonly forbids: readonly string[];
};

/** A question the checker needs answered; the desk asks each once. */
export type Want = {
  readonly question: string;
  readonly message: string;
  readonly about: JobEventOf<'question-asked'>['about'];
  readonly asks: string;
  readonly choices: JobEventOf<'question-asked'>['choices'];
  readonly flag?: string;
};

export type OpenQuestion = {
  readonly question: string;
  readonly message: string;
  readonly asks: string;
  readonly about: JobEventOf<'question-asked'>['about'];
  readonly choices: JobEventOf<'question-asked'>['choices'];
  readonly askedAt: string;
  readonly state: 'open' | 'answered' | 'lapsed';
  readonly settledBy?: string;
};

export type Finding = {
  readonly message: string;
  readonly by: string;
  readonly at: string;
  readonly says: string;
  readonly state: 'open' | 'approved' | 'declined';
};

export type Blocked = {
  readonly message: string;
  readonly by: string;
  readonly since: string;
  readonly says: string;
  /** The whole message, where it is still there: it may name who was asked. */
  readonly text?: string;
};

/** Somebody began or stopped work on the job, or booked hours on it. */
export type Clocking = {
  readonly message: string;
  readonly who: string;
  /** ISO and the same in milliseconds: the time said, else the time of posting. */
  readonly at: string;
  readonly instant: number;
  readonly kind: 'on' | 'off' | 'booked';
  /** Minutes, of hours booked as such. */
  readonly minutes?: number;
};

export type JobView = {
  readonly job: string;
  readonly opened: JobEventOf<'job-opened'>;
  readonly plan: Plan;
  /** Positions on the job by set of the plan, in the plan's order. */
  readonly positions: ReadonlyMap<string, readonly string[]>;
  readonly options: readonly string[];
  readonly technician: string | undefined;
  readonly controller: string | undefined;
  readonly promised: string | undefined;
  readonly reports: readonly Report[];
  readonly steps: readonly StepProgress[];
  readonly holds: readonly HoldState[];
  readonly vehicleState: readonly OpenState[];
  readonly flags: readonly Flag[];
  readonly wants: readonly Want[];
  readonly questions: readonly OpenQuestion[];
  readonly findings: readonly Finding[];
  readonly blocked: readonly Blocked[];
  /** Steps whose order, holds and waiting times allow them now, gravest and earliest first. */
  readonly next: readonly { readonly step: string; readonly position: string | null }[];
  readonly fluids: readonly FluidTotal[];
  /** Why the job cannot be closed now, one sentence each; empty when it can. */
  readonly closeNeeds: readonly string[];
  readonly status: 'open' | 'closed' | 'cancelled';
  /** Who released the vehicle to the road, where somebody has; apart from closing the job. */
  readonly roadReleased?: { readonly by: string; readonly at: string };
  /** What people said about their time on the job, in posting order. */
  readonly clockings: readonly Clocking[];
  readonly minutesBooked: number;
  readonly lastEventAt: string;
};

/** What the checker must know that is not in the job's own events. */
export type Around = {
  /** Vehicle states of other open jobs on the same vehicle. */
  readonly otherStates?: readonly { readonly job: string; readonly state: OpenState }[];
  /** Earlier closed jobs on the same vehicle, newest first. */
  readonly earlier?: readonly {
    readonly job: string;
    readonly plan: string;
    readonly closedAt: string;
    /** What it found beside the work, one phrase each. */
    readonly found?: readonly string[];
  }[];
  /** People by the names the settings spell. */
  readonly people?: readonly {
    readonly name: string;
    readonly roles: readonly string[];
    readonly competences?: readonly string[];
  }[];
  /** Tools of the register with their dates. */
  readonly tools?: readonly { readonly id: string; readonly kind: string; readonly due?: string }[];
  readonly backAgainDays?: number;
  /** Latest odometer or hour meter known of the vehicle, for follow-ups due by distance. */
  readonly reading?: { readonly value: number; readonly unit: 'km' | 'mi' | 'h' };
  /** The shifts, for hours booked: breaks are taken off, forgotten clock-offs are seen. */
  readonly calendar?: WorkCalendar;
  /** Working minutes between two ISO instants; real minutes when left out. */
  readonly workingMinutes?: (from: string, to: string) => number;
};

/** `check(plan, events, now)`: see src/job/check.ts. Pure; any order of the same events gives the same view. */
export type Check = (
  plan: Plan,
  events: readonly JobEvent[],
  now: string,
  around?: Around,
) => JobView;
