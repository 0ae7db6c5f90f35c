// What the bench page shows beside the conversation. The floor answers it from the store; the bench only draws it.

import type { Level, Phase, Role } from '../../../shared/plan.ts';
import type { Action, Card, Form, Intent } from '../../desk/card.ts';

export type BenchFlag = {
  readonly key: string;
  readonly level: Level;
  /** What is wrong, where, what to do: three sentences at most. */
  readonly says: string;
  readonly since: string;
  readonly acknowledgedBy?: string;
  readonly actions: readonly Action[];
};

export type BenchNext = {
  readonly step: string;
  readonly position: string | null;
  readonly title: string;
  readonly phase: Phase;
  readonly safety: boolean;
  readonly caution?: string;
  /** The report one tap makes, in words a technician would type: "Drain the coolant done". */
  readonly says: string;
  /** A figure the step needs: asked for on a numeric keypad before the report is sent. */
  readonly figure?: { readonly label: string; readonly unit: string; readonly limits?: string };
};

/** One row of the tightening sheet: a stage of a fastening, planned beside what was said. */
export type BenchStage = {
  readonly step: string;
  readonly position: string | null;
  readonly of: string;
  readonly stage: string;
  readonly planned: string;
  readonly said: string;
  readonly tool: string;
  readonly at: string | null;
  readonly by: string | null;
  readonly source: string;
};

/** A hold point, and who may release it: by role, and not those who did the work. */
export type BenchHold = {
  readonly step: string;
  readonly position: string | null;
  readonly who: readonly string[];
};

export type BenchJob = {
  readonly job: string;
  readonly vehicle: string;
  readonly plan: string;
  readonly machine: string;
  readonly notice: string;
  readonly complaint?: string;
  readonly status: 'open' | 'closed' | 'cancelled';
  readonly phase: Phase | null;
  readonly technician?: string;
  readonly controller?: string;
  readonly promised?: string;
  readonly openedAt: string;
  readonly progress: { readonly done: number; readonly total: number };
  /** Vehicle states in words: "Coolant out: do not start the engine". */
  readonly vehicleState: readonly string[];
  /** What it waits for, from whom and since when, one phrase each. */
  readonly waits: readonly string[];
  /** When it will be ready, in a few words; left out where nothing can be said. */
  readonly forecast?: string;
  readonly holds?: readonly BenchHold[];
  /** What is still open before the job can be closed, one sentence each. */
  readonly closeNeeds?: readonly string[];
  readonly flags: readonly BenchFlag[];
  readonly next: readonly BenchNext[];
  /** Every step in the order of the plan, for the job card. */
  readonly steps: readonly {
    readonly step: string;
    readonly title: string;
    readonly phase: Phase;
    readonly position: string | null;
    readonly state: string;
    readonly at: string | null;
    readonly by: string | null;
    readonly figures: readonly string[];
    readonly assumed: readonly string[];
  }[];
  readonly actions: readonly Action[];
};

export type BenchView = {
  readonly workshop: () => Promise<{
    readonly name: string;
    readonly zone: string;
    readonly people: readonly { readonly name: string; readonly roles: readonly Role[] }[];
  }>;
  /** All open jobs, most urgent first. */
  readonly openJobs: () => Promise<readonly BenchJob[]>;
  readonly job: (job: string) => Promise<BenchJob | undefined>;
  /** Whether a button means anything in a person's hands. What it sends is checked again when it arrives. */
  readonly may?: (
    person: { readonly name: string; readonly roles: readonly Role[] },
    intent: Intent,
    job: BenchJob | undefined,
  ) => boolean;
  /** Every stage of every fastening of a job, in the order of the plan. */
  readonly tightening?: (job: string) => Promise<readonly BenchStage[] | undefined>;
  /** What the next hands have to know. */
  readonly handover?: (job: string) => Promise<Card | undefined>;
  /** The form that opens a job. */
  readonly openJobForm: () => Promise<Form>;
  /** Calls back whenever a job changed, with its number. Returns the way to stop listening. */
  readonly onChange: (listener: (job: string) => void) => () => void;
};

/** What one line of a trial was understood to say, and what was answered. */
export type BenchPlanTrial = {
  readonly said: string;
  readonly read: readonly string[];
  readonly answers: readonly string[];
};

export type BenchPlanSaved =
  | { readonly ok: true; readonly plan: string; readonly title: string; readonly says: string }
  | { readonly ok: false; readonly what: string; readonly doThis: string };

/** What the plan desk does beside checking. */
export type BenchPlanDesk = {
  /** Plans to begin with, by name and title; the first is a short one to learn from. */
  readonly samples: () => readonly { readonly plan: string; readonly title: string }[];
  readonly textOf: (plan: string) => string | undefined;
  /** Messages said against the plan as it stands in the editor; nothing is kept. Empty where the plan has errors. */
  readonly tryOut: (text: string, messages: readonly string[]) => readonly BenchPlanTrial[];
  readonly save: (text: string, by: string) => Promise<BenchPlanSaved>;
};
