// What one message was understood to say. The form is fixed: other programs read it.
import { z } from 'zod';

export const ACT_KINDS = [
  'done',
  'started',
  'partial',
  'not-done',
  'intends',
  'asks',
  'corrects',
  'retracts',
  'blocked',
  'resumed',
  'finding',
  'clock',
  'command',
  'unsure',
] as const;

export const Quantity = z.strictObject({
  value: z.number(),
  unit: z.string().describe('as spelled in src/trade/units.ts; gal, qt and pt alone are ambiguous'),
  low: z.number().optional(),
  high: z.number().optional(),
  approx: z.boolean().optional(),
});

/** One way in which an unsure act could be meant; `says` is the label of its button. */
export const Candidate = z.strictObject({
  says: z.string(),
  kind: z.enum(ACT_KINDS).optional(),
  step: z.string().optional(),
  positions: z.array(z.string()).optional(),
  stage: z.number().int().optional(),
  quantity: Quantity.optional(),
});

export const Act = z.strictObject({
  kind: z.enum(ACT_KINDS),
  step: z.string().optional().describe('id of a step or of a watched act of the plan'),
  positions: z
    .array(z.string())
    .describe('spelled as the plan names them, in the order of the plan'),
  quantity: Quantity.optional(),
  angle: z.strictObject({ value: z.number(), unit: z.literal('deg') }).optional(),
  stage: z.number().int().positive().optional(),
  count: z.strictObject({ done: z.number().int(), of: z.number().int().optional() }).optional(),
  code: z.string().optional().describe('component code or trouble code, as written'),
  time: z
    .string()
    .optional()
    .describe('when it was done: ISO 8601 with offset; HH:MM where the message has no date'),
  by: z
    .string()
    .optional()
    .describe('the person named as having done it, where it is not the writer'),
  job: z.string().optional(),
  was: z.string().optional().describe('what a correction replaces, as written'),
  command: z
    .string()
    .optional()
    .describe('for command and asks: a name of src/language/commands.ts'),
  again: z.boolean().optional().describe('said to be done once more: rework'),
  renewed: z
    .array(z.string())
    .optional()
    .describe(
      'parts said to be new, as the plan names them under renew; empty: said of no named part',
    ),
  tool: z.string().optional().describe('the tool named for it, as written'),
  valve: z.string().optional().describe('the valve a clearance belongs to, as the plan names it'),
  note: z.string().optional().describe('the words of a finding, of what blocks, of a remark'),
  assumed: z
    .array(z.string())
    .describe('each begins with what was assumed: "position: the only one on this job"'),
  candidates: z.array(Candidate).optional(),
  span: z.tuple([z.number().int(), z.number().int()]).describe('UTF-16 offsets into the raw text'),
});

/** One line that `read` takes. */
export const ReadInput = z.strictObject({
  id: z.string(),
  text: z.string(),
  at: z.iso.datetime({ offset: true }).optional(),
  by: z.string().optional(),
  previous: z
    .string()
    .optional()
    .describe('the text before it in the thread; begins "bot:" if it was ours'),
});

/** One line that `read` prints. */
export const Reading = z.strictObject({ id: z.string(), text: z.string(), acts: z.array(Act) });

export type ActKind = (typeof ACT_KINDS)[number];
export type Quantity = z.infer<typeof Quantity>;
export type Candidate = z.infer<typeof Candidate>;
export type Act = z.infer<typeof Act>;
export type ReadInput = z.infer<typeof ReadInput>;
export type Reading = z.infer<typeof Reading>;
