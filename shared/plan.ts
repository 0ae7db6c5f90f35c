// The plan file: the planned sequence for one kind of work, written by a workshop controller in YAML.
// Every level is strict; src/job/plan-check.ts turns what zod finds into complaints with line and remedy.
import { z } from 'zod';

/** Words are lower-case-insensitive; a name is what other lines of the plan refer to. */
const Name = z
  .string()
  .regex(
    /^[a-z0-9]+(-[a-z0-9]+)*$/,
    'small letters, digits and single hyphens, such as drain-coolant',
  );
const Text = z.string().trim().min(1).max(500);
const Words = z.array(z.string().trim().min(1).max(80)).max(60);
const Source = Text.describe('Where a limit comes from, shown wherever the limit is shown.');

export const PHASES = ['make safe', 'strip', 'inspect', 'refit', 'prove', 'hand back'] as const;
export const WEIGHTS = ['safety-critical', 'damage-critical', 'routine'] as const;
export const ROLES = ['technician', 'controller', 'manager'] as const;
export const LEVELS = ['stop', 'caution', 'advice'] as const;
export const PATTERNS = ['opposite', 'star', 'centre-outwards', 'in-order'] as const;
/** Unit spellings are those of src/trade/units.ts. */
export const PLAN_UNITS = [
  'N.m',
  'lbf.ft',
  'lbf.in',
  'kgf.m',
  'L',
  'mL',
  'gal_us',
  'gal_imp',
  'qt_us',
  'qt_imp',
  'pt_us',
  'pt_imp',
  'bar',
  'psi',
  'kPa',
  'MPa',
  'mm',
  'cm',
  'm',
  'in',
  'thou',
  'um',
  'Cel',
  'degF',
  'km',
  'mi',
  'kg',
  'g',
  'lb',
  'h',
  'min',
  's',
  'V',
  'mV',
  'Ohm',
  'kOhm',
  'A',
  'mA',
  'rpm',
  'deg',
  '%',
  'count',
] as const;
const Unit = z.enum(PLAN_UNITS);

/** The same thing in another language: `also: {de: {title: …, words: […]}}`. */
const Also = z.record(
  z.string().regex(/^[a-z]{2}$/),
  z.strictObject({ title: Text.optional(), words: Words.optional() }),
);

const Stage = z.strictObject({
  torque: z.number().positive().optional(),
  unit: z
    .enum(['N.m', 'lbf.ft', 'lbf.in', 'kgf.m'])
    .optional()
    .describe('of the torque; N.m when left out'),
  angle: z.number().positive().optional().describe('degrees of turn'),
  tolerance: z
    .number()
    .positive()
    .max(50)
    .optional()
    .describe('per cent of the torque; 5 when left out'),
  'tolerance-angle': z.number().positive().optional().describe('degrees; 5 when left out'),
  why: Text.optional(),
});

/** What must be reported with a step. Several may stand in one step. */
export const Ask = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('quantity'),
    of: Text.describe('what is measured, such as bearing play'),
    unit: Unit,
    min: z.number().optional(),
    max: z.number().optional(),
    words: Words.optional(),
    source: Source.optional(),
  }),
  z.strictObject({
    kind: z.enum(['drained', 'filled']),
    fluid: Name,
    unit: Unit.optional().describe('L when left out'),
    min: z.number().nonnegative().optional(),
    max: z.number().positive().optional(),
    source: Source.optional(),
  }),
  z.strictObject({
    kind: z.enum(['tightening', 'loosening']),
    of: Text.describe('the fasteners, such as clamp bolts'),
    fasteners: z.number().int().positive().optional(),
    pattern: z.enum(PATTERNS).optional(),
    tool: Name.optional().describe('a kind of tool that must be named and in date'),
    stages: z.array(Stage).min(1).max(12),
    source: Source.optional(),
  }),
  z.strictObject({
    kind: z.enum(['off', 'on']),
    part: Text.describe('what is counted, such as pipe clips; the same words for off and on'),
    count: z.number().int().positive(),
    words: Words.optional(),
  }),
  z.strictObject({
    kind: z.literal('code'),
    of: Name.describe(
      'the component code, such as trim-code; the same name where it is read and entered',
    ),
    do: z.enum(['read', 'enter']).describe('read from the label, or entered in the control unit'),
    form: Text.describe(
      "A letter, 9 digit, X letter or digit, H hexadecimal, 'quoted' as it stands",
    ),
    alphabet: z
      .string()
      .optional()
      .describe('the only characters that occur, where the maker leaves some out'),
    check: z
      .enum(['mod-10', 'mod-11-2', 'mod-11-10', 'mod-37-2', 'mod-37-36', 'mod-97-10'])
      .optional()
      .describe('check characters of ISO/IEC 7064, or mod-10 of ISO/IEC 7812'),
    source: Source.optional(),
  }),
  z.strictObject({
    kind: z.literal('clearance'),
    valves: z
      .array(z.strictObject({ valve: Text, target: z.number(), min: z.number(), max: z.number() }))
      .min(1),
    unit: z.enum(['mm', 'in', 'thou']).optional(),
    pitch: z.number().positive().optional().describe('mm of thread of the adjuster for one turn'),
    source: Source.optional(),
  }),
  z.strictObject({
    kind: z.literal('trouble-codes'),
    ask: z.enum(['before', 'cleared', 'none-active']),
  }),
  z.strictObject({ kind: z.literal('photo'), of: Text }),
  z.strictObject({ kind: z.literal('remark'), of: Text }),
]);

const Minutes = z
  .number()
  .nonnegative()
  .max(60 * 24 * 14);

const Time = z.strictObject({
  best: Minutes,
  likely: Minutes,
  worst: Minutes,
  'hands-off': Minutes.optional().describe('minutes more in which nobody has to stand by'),
});

export const Step = z.strictObject({
  id: Name,
  title: Text.max(80).describe('action and part, as a technician would say it: Drain the coolant'),
  phase: z.enum(PHASES),
  weight: z.enum(WEIGHTS).optional().describe('routine when left out'),
  why: Text.optional().describe('one sentence for the flag; required unless the step is routine'),
  after: z
    .array(Name)
    .optional()
    .describe('steps that come first; steps not tied may come in any order'),
  each: Name.optional().describe(
    'once for each position of this set; once for the job when left out',
  ),
  words: Words.optional().describe('other ways in which technicians say that this step is done'),
  also: Also.optional(),
  report: z.array(Ask).max(8).optional(),
  hold: z
    .strictObject({
      release: z.array(z.enum(ROLES)).min(1).describe('who may release it'),
      why: Text.optional(),
    })
    .optional()
    .describe('a hold point: once the step is done nobody goes past it until it is released'),
  check: z
    .array(Name)
    .min(1)
    .optional()
    .describe('an independent check of these steps, by somebody who did none of them'),
  opens: z
    .array(Name)
    .optional()
    .describe('vehicle states that are true once this step is started or done'),
  closes: z.array(Name).optional().describe('vehicle states that are over once this step is done'),
  'not-while': z
    .array(Name)
    .optional()
    .describe('vehicle states under which this step must not happen'),
  is: Name.optional().describe(
    'a known act other jobs on the vehicle may forbid, such as engine-start',
  ),
  undoes: z.array(Name).optional().describe('steps to be done again when this one is done again'),
  waits: z
    .array(
      z.strictObject({
        after: Name,
        minutes: Minutes,
        because: Text,
        source: Source.optional(),
      }),
    )
    .optional()
    .describe('at least so long after another step'),
  within: z
    .strictObject({
      after: Name,
      minutes: Minutes.optional(),
      km: z.strictObject({ min: z.number().nonnegative(), max: z.number().positive() }).optional(),
      because: Text,
      source: Source.optional(),
    })
    .optional()
    .describe('at the latest so long after another step; may be due after the vehicle has left'),
  renew: z
    .array(
      z.strictObject({
        part: Text,
        count: z.number().int().positive().optional(),
        words: Words.optional(),
      }),
    )
    .optional()
    .describe('single-use parts that must be new'),
  option: Name.optional().describe('only when the job has this option, or a finding added it'),
  competence: z.array(Name).optional().describe('only people with one of these competences'),
  'paint-mark': z.boolean().optional().describe('fasteners are paint-marked when finally tight'),
  raise: z
    .partialRecord(z.string(), z.enum(LEVELS))
    .optional()
    .describe('a flag level above the usual, by rule'),
  time: Time.optional().describe('minutes for one position: best, likely, worst'),
  caution: Text.optional().describe('the usual caution, shown where this step can hurt somebody'),
  source: Source.optional().describe('for every limit of this step that has none of its own'),
});

/** An act outside the sequence that matters to the vehicle state, such as a start of the engine to move the vehicle. */
const Watched = z.strictObject({
  id: Name,
  title: Text.max(80),
  is: Name.optional(),
  words: Words.optional(),
  also: Also.optional(),
  opens: z.array(Name).optional(),
  closes: z.array(Name).optional(),
  'not-while': z.array(Name).optional(),
});

export const PlanFile = z.strictObject({
  plan: Name,
  title: Text.max(100),
  machine: Text,
  notice: Text.describe('shown wherever a limit of this plan is shown'),
  source: Source.optional().describe('for every limit that has none of its own'),
  language: z
    .string()
    .regex(/^[a-z]{2}$/)
    .optional()
    .describe('en when left out'),
  positions: z
    .record(
      Name,
      z.strictObject({
        names: z.array(z.string().trim().min(1).max(40)).min(1).max(60),
        words: Words.optional().describe('words for one of them: cyl, pot, injector'),
        also: Also.optional(),
      }),
    )
    .optional(),
  parts: z
    .record(
      z.string().trim().min(1).max(60),
      z.strictObject({ words: Words.optional(), also: Also.optional() }),
    )
    .optional()
    .describe('parts named in the titles, with the other words for them'),
  fluids: z
    .record(
      Name,
      z.strictObject({
        title: Text,
        words: Words.optional(),
        also: Also.optional(),
        tolerance: z
          .strictObject({
            litres: z.number().nonnegative(),
            percent: z.number().nonnegative().max(100),
          })
          .optional()
          .describe('drained against filled may differ by the larger; 1 L and 5 % when left out'),
      }),
    )
    .optional(),
  states: z
    .record(
      Name,
      z.strictObject({
        title: Text,
        means: Text.optional().describe('what follows for people: do not start the engine'),
        forbids: z
          .array(Name)
          .optional()
          .describe('acts (see is) that must not happen on this vehicle now'),
        also: Also.optional(),
      }),
    )
    .optional(),
  tools: z
    .record(Name, z.strictObject({ title: Text, words: Words.optional() }))
    .optional()
    .describe('kinds of tool a tightening may ask for'),
  options: z.record(Name, Text).optional(),
  watched: z.array(Watched).optional(),
  engine: z
    .strictObject({
      'firing-order': z.array(z.number().int().positive()).min(1),
      inlet: z.number().int().positive().optional(),
      exhaust: z.number().int().positive().optional(),
    })
    .optional()
    .describe('for valve clearances'),
  steps: z.array(Step).min(1).max(200),
});

export type PlanFile = z.infer<typeof PlanFile>;
export type Step = z.infer<typeof Step>;
export type Ask = z.infer<typeof Ask>;
export type Stage = z.infer<typeof Stage>;
export type Watched = z.infer<typeof Watched>;
export type Phase = (typeof PHASES)[number];
export type Weight = (typeof WEIGHTS)[number];
export type Role = (typeof ROLES)[number];
export type Level = (typeof LEVELS)[number];

/** One complaint of `plan check`: what, where, what was expected and how to mend it. */
export const Complaint = z.strictObject({
  level: z.enum(['error', 'warning']),
  line: z.number().int().positive(),
  path: z.string().describe('such as steps[3].after[0]'),
  what: z.string(),
  expected: z.string(),
  mend: z.string(),
});
export type Complaint = z.infer<typeof Complaint>;

/** What `plan check FILE --json` prints. */
export const PlanCheckResult = z.strictObject({
  file: z.string(),
  plan: z.string().nullable(),
  good: z.boolean(),
  complaints: z.array(Complaint),
  reads: z
    .array(z.string())
    .describe('the plan read back in plain sentences; empty when it has errors'),
});
export type PlanCheckResult = z.infer<typeof PlanCheckResult>;
