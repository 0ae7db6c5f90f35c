// What the bench page shows beside the conversation. The floor answers it from the store; the bench only draws it.

import type { Level, Phase, Role } from '../../../shared/plan.ts';
import type { Action, Form } from '../../desk/card.ts';

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
  readonly waits: readonly string[];
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
  /** The form that opens a job. */
  readonly openJobForm: () => Promise<Form>;
  /** Calls back whenever a job changed, with its number. Returns the way to stop listening. */
  readonly onChange: (listener: (job: string) => void) => () => void;
};
