// The record of a job: what the next shift, the warranty desk, the inspector and the customer are given.
// It is made from the job's events alone; `chain` ties it to them.
import { z } from 'zod';
import { RULES } from './flag.ts';
import { LEVELS, PHASES, WEIGHTS } from './plan.ts';
import { ACT_KINDS } from './reading.ts';
import { FluidTotal, STEP_STATES } from './replay.ts';

/** Goes up when a program that reads the old form would have to change. */
export const RECORD_VERSION = 1;

const When = z.iso.datetime({ offset: true });
const Name = z.string().describe('a person, as the settings spell the name');
const Message = z.string().describe('id of the message it rests on');
const Sha256 = z.string().regex(/^[0-9a-f]{64}$/, 'SHA-256 as 64 small hexadecimal digits');

/** Where on the job: the step by its name in the plan and by its title. */
const place = { step: z.string(), title: z.string(), position: z.string().nullable() };
const seen = { at: When.describe('by the time said, else the time of posting'), by: Name };

export const Measured = z.strictObject({
  value: z.number(),
  unit: z.string().describe('as spelled in src/trade/units.ts'),
  low: z.number().optional(),
  high: z.number().optional(),
  approx: z.boolean().optional(),
});

export const RecordLimit = z.strictObject({
  min: z.number().optional(),
  max: z.number().optional(),
  unit: z.string(),
  source: z.string().describe('where the limit comes from'),
});

export const RecordStep = z.strictObject({
  ...place,
  phase: z.enum(PHASES),
  weight: z.enum(WEIGHTS),
  state: z.enum(STEP_STATES),
  at: When.nullable(),
  by: Name.nullable(),
  reportedBy: z.array(Name).describe('who posted it, where that was somebody else'),
  missing: z.array(z.string()).describe('what the plan still wants to hear'),
  assumed: z.array(z.string()).describe('each begins with what was assumed'),
  messages: z.array(Message),
});

export const RecordFigure = z.strictObject({
  ...place,
  ...seen,
  of: z.string(),
  measured: Measured,
  limit: RecordLimit.nullable(),
  within: z.boolean().nullable().describe('null where there is no limit to compare it with'),
  assumed: z.boolean().describe("true: nobody said it, the plan's value stands for it"),
  message: Message,
});

const StageFigure = z.strictObject({
  measured: Measured,
  within: z.boolean().nullable(),
  assumed: z.boolean(),
});

export const RecordStage = z.strictObject({
  stage: z.number().int().positive(),
  torque: z.strictObject({ planned: z.number(), ...RecordLimit.shape }).nullable(),
  angle: z.strictObject({ planned: z.number(), ...RecordLimit.shape }).nullable(),
  done: z.boolean(),
  said: z.array(StageFigure),
  at: When.nullable(),
  by: Name.nullable(),
  tool: z.string().nullable().describe('as written'),
});

export const RecordTightening = z.strictObject({
  ...place,
  kind: z.enum(['tightening', 'loosening']),
  of: z.string().describe('the fasteners'),
  fasteners: z.number().int().nullable(),
  pattern: z.string().nullable(),
  paintMark: z.boolean().nullable().describe('null where the plan asks for none'),
  stages: z.array(RecordStage),
});

const CodeSaid = z.strictObject({ code: z.string(), ...seen, message: Message });

export const RecordCode = z.strictObject({
  of: z.string().describe('name of the code in the plan'),
  position: z.string().nullable(),
  read: CodeSaid.nullable().describe('from the label'),
  entered: CodeSaid.nullable().describe('in the control unit'),
  agree: z.boolean().nullable().describe('null until both are on record'),
});

export const RecordFluid = z.strictObject({
  ...FluidTotal.shape,
  title: z.string(),
  allowed: z.number().describe('litres by which filled may differ from drained'),
  balanced: z.boolean().nullable().describe('null until something was drained and filled'),
});

export const RecordClearance = z.strictObject({
  ...place,
  ...seen,
  valve: z.string(),
  measured: Measured,
  target: z.number(),
  min: z.number(),
  max: z.number(),
  unit: z.string(),
  source: z.string(),
  within: z.boolean().nullable(),
  message: Message,
});

const TroubleReading = z.strictObject({
  ...place,
  ...seen,
  codes: z.array(z.string()).describe('empty: said to be none, or to be cleared'),
  message: Message,
});

export const RecordTrouble = z.strictObject({
  before: z.array(TroubleReading),
  cleared: z.array(TroubleReading),
  after: z.array(TroubleReading),
  gone: z.array(z.string()).describe('there before the work and not after it'),
  still: z.array(z.string()).describe('there before and after'),
  fresh: z.array(z.string()).describe('there after the work and not before'),
});

export const RecordReport = z.strictObject({
  message: Message,
  kind: z.enum(ACT_KINDS),
  step: z.string().nullable(),
  title: z.string().nullable(),
  positions: z.array(z.string()),
  at: When,
  timeSaid: z.boolean().describe('false: the time of posting stands for it'),
  posted: When,
  by: Name.describe('who did it'),
  reportedBy: Name.describe('who posted it'),
  says: z.string().describe('what was understood, in words'),
  assumed: z.array(z.string()),
});

export const RecordFlag = z.strictObject({
  flag: z.string().describe('its identity: rule, step, position and part'),
  rule: z.enum(RULES),
  level: z.enum(LEVELS),
  step: z.string().nullable(),
  title: z.string().nullable(),
  position: z.string().nullable(),
  part: z.string().nullable(),
  says: z.string(),
  raisedBy: z.array(z.string()),
  announcedAt: When.nullable(),
  state: z.enum(['open', 'withdrawn', 'overridden', 'settled']),
  settledBy: z.array(z.string()).describe('ids of the messages or events that settled it'),
  settledByWho: Name.nullable(),
  settledAt: When.nullable(),
  reason: z.string().nullable(),
  told: z
    .array(z.strictObject({ at: When, to: Name }))
    .optional()
    .describe('who was told by name when it was said'),
  acknowledged: z.array(
    z.strictObject({
      ...seen,
      how: z
        .enum(['button', 'words', 'wrote'])
        .optional()
        .describe('by the button, by saying so, or by writing in the job after it was said'),
    }),
  ),
  passedOn: z.array(z.strictObject({ at: When, to: Name })),
});

export const RecordPhoto = z.strictObject({
  ...seen,
  name: z.string(),
  type: z.string(),
  bytes: z.number().int(),
  sha256: z.string(),
  message: Message,
  shows: z.array(z.string()).describe('titles of the steps its message reports'),
});

export const JobRecord = z.strictObject({
  version: z.literal(RECORD_VERSION),
  madeAt: When,
  zone: z.string().describe('IANA time zone of the workshop'),
  job: z.strictObject({
    number: z.string(),
    status: z.enum(['open', 'closed', 'cancelled']),
    vehicle: z.strictObject({ name: z.string(), vin: z.string().nullable() }),
    complaint: z.string().nullable(),
    openedAt: When,
    openedBy: Name,
    promised: When.nullable(),
    technician: Name.nullable(),
    controller: Name.nullable(),
    readings: z.array(
      z.strictObject({ when: z.enum(['opened', 'closed']), value: z.number(), unit: z.string() }),
    ),
    positions: z.array(z.strictObject({ set: z.string(), names: z.array(z.string()) })),
    options: z.array(z.strictObject({ option: z.string(), title: z.string() })),
  }),
  plan: z.strictObject({
    id: z.string(),
    title: z.string(),
    machine: z.string(),
    hash: z.string().describe('SHA-256 of the text of the plan the job goes by'),
    openedWith: z.string().describe('hash of the plan the job was opened with'),
    notice: z.string().describe('belongs beside every limit'),
    moved: z.array(
      z.strictObject({ at: When, by: Name, hash: z.string(), changes: z.array(z.string()) }),
    ),
  }),
  people: z.array(z.strictObject({ name: Name, did: z.array(z.string()) })),
  steps: z.array(RecordStep),
  figures: z.array(RecordFigure),
  tightening: z.array(RecordTightening),
  codes: z.array(RecordCode),
  fluids: z.array(RecordFluid),
  clearances: z.array(RecordClearance),
  troubleCodes: RecordTrouble,
  parts: z
    .array(
      z.strictObject({
        ...place,
        part: z.string(),
        count: z.number().int().nullable(),
        saidNew: z.strictObject({ ...seen, message: Message }).nullable(),
      }),
    )
    .describe('single-use parts of steps that are done or in hand'),
  photos: z.array(RecordPhoto),
  flags: z.array(RecordFlag),
  overrides: z.array(z.strictObject({ flag: z.string(), ...seen, reason: z.string() })),
  holds: z
    .array(
      z.strictObject({
        ...place,
        decision: z.enum(['released', 'refused', 'waits']),
        at: When.nullable(),
        by: Name.nullable(),
        role: z.string().nullable(),
        reason: z.string().nullable(),
        counts: z.boolean().describe('false: the hold point no longer stands as decided here'),
      }),
    )
    .describe('decisions in order, then the hold points that wait'),
  questions: z.array(
    z.strictObject({
      question: z.string(),
      message: Message,
      asks: z.string(),
      askedAt: When,
      state: z.enum(['open', 'answered', 'lapsed']),
      answer: z.string().nullable(),
      answeredBy: Name.nullable(),
      answeredAt: When.nullable(),
    }),
  ),
  findings: z.array(
    z.strictObject({
      message: Message,
      ...seen,
      says: z.string(),
      state: z.enum(['open', 'approved', 'declined']),
      decidedBy: Name.nullable(),
      decidedAt: When.nullable(),
      reason: z.string().nullable(),
    }),
  ),
  waits: z
    .array(z.strictObject({ message: Message, says: z.string(), by: Name, since: When }))
    .describe('what stops the work now'),
  handovers: z.array(z.strictObject({ ...seen, to: Name.nullable(), says: z.string() })),
  nudges: z
    .array(z.strictObject({ at: When, to: Name, says: z.string() }))
    .optional()
    .describe('what waited for long, and the controller who was told of it'),
  reports: z.array(RecordReport).describe('every report that stands, by the time of the work'),
  messages: z
    .array(
      z.strictObject({
        message: z.string(),
        at: When,
        by: Name,
        text: z.string().nullable().describe('null once it was removed or deleted'),
        edited: z.number().int().nonnegative(),
        deleted: z.boolean(),
      }),
    )
    .describe('what was posted, in order'),
  minutes: z
    .strictObject({ booked: z.number(), planned: z.number() })
    .optional()
    .describe('left out where hours may not be shown'),
  signOff: z.strictObject({
    checks: z
      .array(z.strictObject({ ...place, at: When, by: Name }))
      .describe('independent checks that count'),
    closed: z.strictObject(seen).nullable(),
    roadRelease: z.strictObject({ ...seen, role: z.string().nullable() }).nullable(),
    reopened: z.array(z.strictObject({ ...seen, reason: z.string() })),
    cancelled: z.strictObject({ ...seen, reason: z.string() }).nullable(),
  }),
  stillNeeded: z.array(z.string()).describe('why the job cannot be closed; empty when it can'),
  chain: z.strictObject({
    events: z.number().int().nonnegative(),
    end: Sha256.nullable().describe('hash of the last event; null where none was handed over'),
    proves: z.string(),
  }),
});

export type JobRecord = z.infer<typeof JobRecord>;
export type RecordStep = z.infer<typeof RecordStep>;
export type RecordFigure = z.infer<typeof RecordFigure>;
export type RecordLimit = z.infer<typeof RecordLimit>;
export type RecordTightening = z.infer<typeof RecordTightening>;
export type RecordStage = z.infer<typeof RecordStage>;
export type RecordCode = z.infer<typeof RecordCode>;
export type RecordFluid = z.infer<typeof RecordFluid>;
export type RecordClearance = z.infer<typeof RecordClearance>;
export type RecordTrouble = z.infer<typeof RecordTrouble>;
export type RecordReport = z.infer<typeof RecordReport>;
export type RecordFlag = z.infer<typeof RecordFlag>;
export type RecordPhoto = z.infer<typeof RecordPhoto>;
export type Measured = z.infer<typeof Measured>;
