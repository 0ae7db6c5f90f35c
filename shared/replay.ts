// The form of a transcript and of what `replay --json` prints. Fixed: other programs read it.
import { z } from 'zod';
import { JobEvent } from './event.ts';
import { Flag } from './flag.ts';
import { ROLES } from './plan.ts';

/** One line of a transcript. `edits` and `deletes` name an earlier line. */
export const TranscriptLine = z.strictObject({
  id: z.string(),
  at: z.iso.datetime({ offset: true }),
  by: z.string(),
  role: z.enum(ROLES).optional().describe('technician when left out'),
  text: z.string().optional().describe('may be left out only beside deletes'),
  edits: z.string().optional(),
  deletes: z.string().optional(),
});

export const STEP_STATES = [
  'open',
  'started',
  'partial',
  'done',
  'due-again',
  'not-on-job',
] as const;

export const StepState = z.strictObject({
  id: z.string(),
  position: z.string().nullable(),
  state: z.enum(STEP_STATES),
  at: z.string().nullable().describe('when it reached this state, by the time said else posted'),
  by: z.string().nullable(),
});

export const QuestionState = z.strictObject({
  at: z.string().describe('id of the message it is about'),
  asks: z.string(),
  settledBy: z.string().optional().describe('id of the message or tap that settled it'),
});

export const FluidTotal = z.strictObject({
  fluid: z.string(),
  drained: z.number(),
  filled: z.number(),
  unaccounted: z.number().describe('drained less filled'),
  unit: z.literal('L'),
});

export const Totals = z.strictObject({
  messages: z.number().int(),
  acts: z.number().int(),
  stepsDone: z.number().int(),
  stepsTotal: z.number().int().describe('steps times their positions on this job'),
  minutesBooked: z.number(),
  fluids: z.array(FluidTotal),
  flags: z.strictObject({
    stop: z.number().int(),
    caution: z.number().int(),
    advice: z.number().int(),
  }),
});

export const ReplayResult = z.strictObject({
  events: z.array(JobEvent),
  steps: z.array(StepState),
  vehicleState: z.array(z.string()).describe('names of the states of the plan that are true now'),
  flags: z.array(Flag),
  questions: z.array(QuestionState),
  closed: z.boolean(),
  totals: Totals,
});

export type TranscriptLine = z.infer<typeof TranscriptLine>;
export type StepStateName = (typeof STEP_STATES)[number];
export type StepState = z.infer<typeof StepState>;
export type QuestionState = z.infer<typeof QuestionState>;
export type FluidTotal = z.infer<typeof FluidTotal>;
export type Totals = z.infer<typeof Totals>;
export type ReplayResult = z.infer<typeof ReplayResult>;
