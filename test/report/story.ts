// One small job, written out by hand: two cylinders of six, a stop that a controller let be, a question, a finding.
import type { JobEvent } from '../../shared/event.ts';
import { check } from '../../src/job/check.ts';
import type { Around, JobView } from '../../src/job/view.ts';
import {
  act,
  at,
  cyl,
  done,
  litres,
  newtonMetres,
  opened,
  planOf,
  SIX,
  says,
} from '../job/story.ts';

export const SOURCE = 'demonstration value';
export const PLAN = planOf(
  [
    {
      id: 'read-faults',
      title: 'Read the fault codes before work',
      phase: 'make safe',
      report: [{ kind: 'trouble-codes', ask: 'before' }],
      time: { best: 5, likely: 5, worst: 5 },
    },
    {
      id: 'drain',
      title: 'Drain the coolant',
      phase: 'strip',
      weight: 'damage-critical',
      report: [{ kind: 'drained', fluid: 'coolant', min: 25, max: 30 }],
      time: { best: 10, likely: 20, worst: 60 },
    },
    {
      id: 'read-code',
      title: 'Read the trim code',
      phase: 'inspect',
      each: 'cylinders',
      report: [{ kind: 'code', of: 'trim-code', do: 'read', form: 'X{6}' }],
    },
    {
      id: 'fit',
      title: 'Fit the clamp',
      phase: 'refit',
      each: 'cylinders',
      weight: 'safety-critical',
      after: ['drain'],
      'paint-mark': true,
      renew: [{ part: 'sealing washer', count: 2 }],
      report: [
        {
          kind: 'tightening',
          of: 'clamp bolts',
          fasteners: 2,
          pattern: 'opposite',
          stages: [{ torque: 20, tolerance: 10 }, { angle: 90 }],
        },
      ],
      time: { best: 4, likely: 6, worst: 8 },
    },
    {
      id: 'enter-code',
      title: 'Enter the trim code',
      phase: 'refit',
      each: 'cylinders',
      report: [{ kind: 'code', of: 'trim-code', do: 'enter', form: 'X{6}' }],
    },
    {
      id: 'set-valves',
      title: 'Set the valve clearance',
      phase: 'refit',
      each: 'cylinders',
      report: [
        {
          kind: 'clearance',
          valves: [{ valve: 'inlet', target: 0.3, min: 0.25, max: 0.35 }],
          source: 'the plate on the demonstration engine',
        },
      ],
    },
    {
      id: 'fill',
      title: 'Fill the coolant',
      phase: 'refit',
      report: [{ kind: 'filled', fluid: 'coolant', min: 25, max: 30 }],
    },
    {
      id: 'look-over',
      title: 'Second person looks at the clamps',
      phase: 'prove',
      weight: 'safety-critical',
      check: ['fit'],
      hold: { release: ['controller'] },
    },
    {
      id: 'recheck-faults',
      title: 'Read the fault codes after the run',
      phase: 'hand back',
      report: [{ kind: 'trouble-codes', ask: 'none-active' }],
    },
  ],
  {
    positions: SIX,
    fluids: { coolant: { title: 'coolant', tolerance: { litres: 1, percent: 5 } } },
    source: SOURCE,
  },
);

export const AROUND: Around = {
  people: [
    { name: 'Sam', roles: ['technician'] },
    { name: 'Ade', roles: ['technician'] },
    { name: 'Wen', roles: ['controller'] },
  ],
};

export const PHOTO = 'ab'.repeat(32);

export const OPENED = opened({
  by: 'Wen',
  plan: { id: 'test-plan', title: 'Test plan', hash: PLAN.hash, text: PLAN.text },
  positions: cyl(1, 3),
  complaint: 'Misfire on cylinder 3',
  reading: { value: 412350, unit: 'km' },
  technician: 'Sam',
  controller: 'Wen',
  promised: at('12:00'),
});

const SKIPPED = 'skipped|drain||';

/** The job until all its work is done but the last reading of the fault codes. */
export const WORK: readonly JobEvent[] = [
  OPENED,
  ...says('m1', '07:10', 'Sam', [done('read-faults', { code: 'SPN 653 FMI 5' })], {
    text: 'faults read, SPN 653 FMI 5',
  }),
  ...says('m2', '07:40', 'Sam', [
    done('read-code', { code: '4M2XPT' }, cyl(1)),
    done('read-code', { code: 'B8TW4N' }, cyl(3)),
  ]),
  ...says('m3', '08:00', 'Sam', [
    done('fit', { stage: 1, quantity: newtonMetres(20), renewed: [] }, cyl(1, 3)),
  ]),
  {
    id: 'm3:announced',
    at: at('08:00:20'),
    by: 'chargehand',
    kind: 'flag-announced',
    flag: SKIPPED,
    level: 'caution',
    says: 'Skipped: "Drain the coolant".',
  },
  { id: 'w1', at: at('08:05'), by: 'Wen', kind: 'flag-acknowledged', flag: SKIPPED },
  {
    id: 'w2',
    at: at('08:06'),
    by: 'Wen',
    kind: 'flag-overridden',
    flag: SKIPPED,
    reason: 'drained on the night shift, I saw the container',
  },
  ...says('m4', '08:20', 'Sam', [
    done('fit', { stage: 2, note: 'paint marked', tool: 'AG-01' }, cyl(1)),
    done('fit', { stage: 2, angle: { value: 110, unit: 'deg' } }, cyl(3)),
  ]),
  ...says('m5', '08:30', 'Sam', [
    act('finding', undefined, { note: 'sleeve cracked at cylinder 3' }),
  ]),
  {
    id: 'p1',
    at: at('08:31'),
    by: 'Sam',
    kind: 'photo-kept',
    message: 'm5',
    name: 'sleeve.jpg',
    type: 'image/jpeg',
    bytes: 20480,
    sha256: PHOTO,
  },
  {
    id: 'f1',
    at: at('08:35'),
    by: 'Wen',
    kind: 'finding-settled',
    message: 'm5',
    settled: 'approved',
    reason: 'new sleeve is in the stores',
    positions: [],
    options: [],
  },
  ...says('m6', '08:50', 'Sam', [done('drain', { quantity: litres(28), time: at('06:50') })]),
  ...says('m7', '09:00', 'Sam', [
    done('enter-code', { code: '4m2 xpt' }, cyl(1)),
    done('enter-code', { code: 'B8TW4M' }, cyl(3)),
  ]),
  ...says('m8', '09:10', 'Sam', [
    done('set-valves', { valve: 'inlet', quantity: { value: 0.3, unit: 'mm' } }, cyl(1)),
    done('set-valves', { valve: 'inlet', quantity: { value: 0.37, unit: 'mm' } }, cyl(3)),
  ]),
  ...says('m9', '09:20', 'Sam', [done('fill', { quantity: litres(26.5) })]),
  ...says('m10', '09:30', 'Ade', [done('look-over')]),
  {
    id: 'h1',
    at: at('09:35'),
    by: 'Wen',
    kind: 'hold-released',
    step: 'look-over',
    position: null,
    role: 'controller',
  },
  ...says('m11', '09:40', 'Ade', [], { text: 'old injector no. 77-4411, tagged, shelf 4' }),
  {
    id: 'q1',
    at: at('09:41'),
    by: 'chargehand',
    kind: 'question-asked',
    question: 'q1',
    message: 'm11',
    asks: 'Which cylinder?',
    about: 'other',
    choices: [{ says: 'cylinder 1' }, { says: 'cylinder 3' }],
  },
  { id: 'q1a', at: at('09:42'), by: 'Ade', kind: 'question-answered', question: 'q1', choice: 1 },
];

export const viewOf = (events: readonly JobEvent[], now = at('10:00')): JobView =>
  check(PLAN, events, now, AROUND);

export const ZONE = 'Europe/Berlin';
export const END = 'c0'.repeat(32);
export const OPTIONS = { chainEnd: END, zone: ZONE, now: at('10:00'), hours: true } as const;
