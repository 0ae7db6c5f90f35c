// Recorded facts of a job, in the past tense. They are added to, never changed.
// What a message says lives in message-read: it names the message and can be superseded when an earlier message
// arrives late, so the order of arrival never decides.
import { z } from 'zod';
import { PHASES } from './plan.ts';
import { Act } from './reading.ts';

const When = z.iso.datetime({ offset: true });
const base = {
  id: z.string().min(1).describe('unique in the job; the same delivery always makes the same id'),
  at: When.describe('when it happened in the workshop: for a message, when it was posted'),
  by: z.string().describe('name of the person as the settings spell it, or "chargehand"'),
};

const Distance = z.strictObject({
  value: z.number().nonnegative(),
  unit: z.enum(['km', 'mi', 'h']),
});

export const JobOpened = z.strictObject({
  ...base,
  kind: z.literal('job-opened'),
  job: z.string(),
  vehicle: z.strictObject({ name: z.string(), vin: z.string().optional() }),
  reading: Distance.optional().describe('odometer, or engine hours'),
  complaint: z.string().optional(),
  plan: z.strictObject({ id: z.string(), title: z.string(), hash: z.string(), text: z.string() }),
  positions: z
    .array(z.string())
    .describe('positions on this job, as the plan names them; all when empty'),
  options: z.array(z.string()),
  technician: z.string().optional(),
  controller: z.string().optional(),
  promised: When.optional(),
});

export const JobEvent = z.discriminatedUnion('kind', [
  JobOpened,
  z.strictObject({
    ...base,
    kind: z.literal('message-posted'),
    message: z.string(),
    channel: z.string(),
    text: z.string().nullable().describe('null once a retention rule or a request removed it'),
    role: z.string().optional(),
    under: z.string().optional().describe('who the writer worked under then, as the settings said'),
    typed: When.optional().describe('when it was typed, where that was earlier than its arrival'),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('message-edited'),
    message: z.string(),
    text: z.string().nullable(),
  }),
  z.strictObject({ ...base, kind: z.literal('message-deleted'), message: z.string() }),
  z.strictObject({
    ...base,
    kind: z.literal('message-read'),
    message: z.string(),
    revision: z.number().int().nonnegative().describe('0 as posted, then one more for each edit'),
    pass: z
      .number()
      .int()
      .nonnegative()
      .describe('read again when an earlier message arrived late: one more'),
    acts: z.array(Act),
    relied: z
      .array(z.string())
      .describe('messages and questions whose content was needed to read this one'),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('photo-kept'),
    message: z.string(),
    name: z.string(),
    type: z.string(),
    bytes: z.number().int(),
    sha256: z.string(),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('question-asked'),
    question: z.string(),
    message: z.string().describe('what it is about'),
    asks: z.string(),
    about: z.enum(['reading', 'before-or-after', 'figure', 'repeat', 'job', 'other']),
    choices: z.array(
      z.strictObject({
        says: z.string(),
        acts: z.array(Act).optional(),
        value: z.string().optional(),
      }),
    ),
    flag: z.string().optional().describe('identity of the flag the answer bears on'),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('question-answered'),
    question: z.string(),
    choice: z.number().int().nullable().describe('index of the choice; null for none of these'),
    message: z.string().optional().describe('the message that answered, where it was typed'),
    acts: z
      .array(Act)
      .optional()
      .describe('what the answer makes of the asked message, where it settles its reading'),
  }),
  z.strictObject({ ...base, kind: z.literal('question-lapsed'), question: z.string() }),
  z.strictObject({
    ...base,
    kind: z.enum(['hold-released', 'hold-refused']),
    step: z.string(),
    position: z.string().nullable(),
    reason: z.string().optional(),
    role: z.string().optional(),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('flag-announced'),
    flag: z.string(),
    level: z.string(),
    says: z.string(),
    to: z.string().optional().describe('who was told by name: the first who may settle a stop'),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('flag-withdrawn'),
    flag: z.string(),
    says: z.string(),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('flag-acknowledged'),
    flag: z.string(),
    how: z
      .enum(['button', 'words', 'wrote'])
      .optional()
      .describe('by the button, by saying so, or by writing in the job after it was said'),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('flag-overridden'),
    flag: z.string(),
    reason: z.string(),
  }),
  z.strictObject({ ...base, kind: z.literal('flag-passed-on'), flag: z.string(), to: z.string() }),
  z.strictObject({
    ...base,
    kind: z.literal('finding-settled'),
    message: z.string().describe('the message that raised it'),
    settled: z.enum(['approved', 'declined']),
    reason: z.string().optional(),
    positions: z.array(z.string()).describe('positions that join the job'),
    options: z.array(z.string()).describe('options that join the job'),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('job-changed'),
    technician: z.string().optional(),
    controller: z.string().optional(),
    promised: When.nullable().optional(),
    reason: z.string().optional(),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('job-corrected'),
    vehicle: z
      .strictObject({ name: z.string(), vin: z.string().optional() })
      .optional()
      .describe('the vehicle it is, where the job was opened with another'),
    positions: z.array(z.string()).optional().describe('in place of those it was opened with'),
    reading: Distance.optional(),
    reason: z.string(),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('plan-moved'),
    plan: z.strictObject({ id: z.string(), title: z.string(), hash: z.string(), text: z.string() }),
    changes: z.array(z.string()),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('message-moved'),
    message: z.string(),
    from: z.string(),
    to: z.string(),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('wait-nudged'),
    wait: z.string().describe('what waits: block, hold or finding with what it is about'),
    to: z.string().describe('the controller who was told'),
    says: z.string(),
  }),
  z.strictObject({
    ...base,
    kind: z.literal('handed-over'),
    shift: z
      .string()
      .optional()
      .describe('date and name of the shift that ended, where the handover was made at its end'),
    to: z.string().optional(),
    phase: z.enum(PHASES).optional(),
    says: z.string(),
  }),
  z.strictObject({ ...base, kind: z.literal('road-released'), role: z.string().optional() }),
  z.strictObject({ ...base, kind: z.literal('job-closed'), reading: Distance.optional() }),
  z.strictObject({ ...base, kind: z.literal('job-reopened'), reason: z.string() }),
  z.strictObject({ ...base, kind: z.literal('job-cancelled'), reason: z.string() }),
]);

export type JobEvent = z.infer<typeof JobEvent>;
export type JobOpened = z.infer<typeof JobOpened>;
export type JobEventKind = JobEvent['kind'];
export type JobEventOf<K extends JobEventKind> = Extract<JobEvent, { readonly kind: K }>;

/** How an event is stored: `hash` is SHA-256 over the one before and this event, with texts by their salted hash. */
export const StoredEvent = z.strictObject({
  event: JobEvent,
  salt: z.string(),
  textHash: z.string().optional(),
  hash: z.string(),
});
export type StoredEvent = z.infer<typeof StoredEvent>;
