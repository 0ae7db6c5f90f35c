// A bench view without a store: jobs of an invented depot that a test changes by hand.
import type {
  BenchFlag,
  BenchJob,
  BenchStage,
  BenchView,
} from '../../../src/chat/bench/bench-view.ts';
import type { Card, Form } from '../../../src/desk/card.ts';

export type FakeView = BenchView & {
  readonly put: (job: BenchJob) => void;
  readonly remove: (job: string) => void;
};

export const PEOPLE = [
  { name: 'Sam', roles: ['technician'] },
  { name: 'Ayo', roles: ['technician'] },
  { name: 'Kim', roles: ['controller'] },
] as const;

export const OPEN_FORM: Form = {
  title: 'Open a job',
  submit: 'Open it',
  fields: [
    { name: 'job', label: 'Job number', kind: 'text', required: true },
    {
      name: 'vehicle',
      label: 'Vehicle',
      kind: 'text',
      required: true,
      hint: 'Fleet number or plate',
    },
    {
      name: 'plan',
      label: 'Plan',
      kind: 'choice',
      required: true,
      choices: [
        { value: 'renew-injectors', label: 'Renew injectors' },
        { value: 'renew-coolant-pump', label: 'Renew coolant pump' },
      ],
    },
    {
      name: 'positions',
      label: 'Positions',
      kind: 'choices',
      required: false,
      choices: [
        { value: 'cylinder 1', label: 'cylinder 1' },
        { value: 'cylinder 2', label: 'cylinder 2' },
      ],
    },
    { name: 'odometer', label: 'Odometer', kind: 'number', required: false, unit: 'km' },
    { name: 'promised', label: 'Promised', kind: 'date-time', required: false },
    { name: 'complaint', label: 'Complaint', kind: 'long-text', required: false },
  ],
};

export const stopFlag: BenchFlag = {
  key: 'skipped|drain-coolant||',
  level: 'stop',
  says: 'Skipped: "Drain the coolant". "Remove injector, cylinder 3" is reported, and it needs that first. Report it now with the litres, or ask the controller to release it with a reason.',
  since: '2025-03-04T10:40:00+00:00',
  actions: [
    {
      label: 'Release with a reason',
      weight: 'main',
      intent: { do: 'override', job: '1042', flag: 'skipped|drain-coolant||' },
      form: {
        title: 'Release with a reason',
        submit: 'Release',
        fields: [{ name: 'reason', label: 'Reason', kind: 'long-text', required: true }],
      },
    },
    {
      label: 'I have seen it',
      weight: 'plain',
      intent: { do: 'acknowledge', job: '1042', flag: 'skipped|drain-coolant||' },
    },
  ],
};

export const cautionFlag: BenchFlag = {
  key: 'count-short|refit-clips||clips',
  level: 'caution',
  says: 'Count short: 5 of 6 line clips are back on. Find the sixth or report it renewed.',
  since: '2025-03-04T09:55:00+00:00',
  actions: [],
};

export const adviceFlag: BenchFlag = {
  key: 'over-time|strip||',
  level: 'advice',
  says: 'Over time: stripping took 2 h 10 min, 1 h 30 min planned.',
  since: '2025-03-04T10:10:00+00:00',
  actions: [],
};

export const job1042: BenchJob = {
  job: '1042',
  vehicle: 'Bus 27, city 12 m',
  plan: 'Renew injectors',
  machine: 'Six-cylinder demonstration engine D6',
  notice:
    'Demonstration values for an invented machine. The maker’s current data and local rules come first.',
  complaint: 'Rough idle, smoke when cold',
  status: 'open',
  phase: 'strip',
  technician: 'Sam',
  controller: 'Kim',
  promised: '2025-03-04T16:00:00+00:00',
  openedAt: '2025-03-04T07:35:00+00:00',
  progress: { done: 9, total: 38 },
  vehicleState: [
    'Coolant out: do not start the engine',
    'Fuel system open: keep dirt out, no naked flame',
  ],
  waits: ['Parts: six injector seals, ordered 09:20'],
  flags: [],
  next: [
    {
      step: 'drain-coolant',
      position: null,
      title: 'Drain the coolant',
      phase: 'strip',
      safety: true,
      caution: 'Hot coolant scalds: open the cap only when the engine is below 50 °C.',
      says: 'Drain the coolant done',
      figure: { label: 'Litres drained', unit: 'L', limits: '26 to 30 L, demonstration value' },
    },
    {
      step: 'remove-lines',
      position: 'cylinder 3',
      title: 'Remove the fuel line',
      phase: 'strip',
      safety: false,
      says: 'Fuel line cyl 3 off',
    },
  ],
  steps: [
    {
      step: 'battery-off',
      title: 'Disconnect the battery',
      phase: 'make safe',
      position: null,
      state: 'done',
      at: '2025-03-04T07:50:00+00:00',
      by: 'Sam',
      figures: [],
      assumed: [],
    },
    {
      step: 'drain-coolant',
      title: 'Drain the coolant',
      phase: 'strip',
      position: null,
      state: 'open',
      at: null,
      by: null,
      figures: [],
      assumed: [],
    },
    {
      step: 'remove-injector',
      title: 'Remove injector',
      phase: 'strip',
      position: 'cylinder 3',
      state: 'done',
      at: '2025-03-04T10:38:00+00:00',
      by: 'Sam',
      figures: ['12 N·m'],
      assumed: ['cylinder 3, the only one open'],
    },
  ],
  actions: [
    { label: 'Close the job', weight: 'plain', intent: { do: 'close-job', job: '1042' } },
    { label: 'Cancel the job', weight: 'grave', intent: { do: 'cancel-job', job: '1042' } },
  ],
};

export const job1043: BenchJob = {
  ...job1042,
  job: '1043',
  vehicle: 'Bus 14, midi 9 m',
  plan: 'Renew wheel-end hub bearing',
  machine: 'Demonstration axle A2',
  complaint: 'Hum from rear left',
  phase: 'refit',
  technician: 'Ayo',
  progress: { done: 21, total: 30 },
  vehicleState: ['On stands: nobody underneath without the second pair'],
  waits: [],
  flags: [],
  next: [],
};

export const STAGES: readonly BenchStage[] = [
  {
    step: 'Tighten the wheel nuts',
    position: 'front left',
    of: '10 × wheel nuts, opposite',
    stage: '1',
    planned: '200 N·m (180 to 220 N·m)',
    said: '200 N·m',
    tool: 'TW-07',
    at: '2025-03-04T10:20:00+00:00',
    by: 'Sam',
    source: 'demonstration value for an invented axle',
  },
  {
    step: 'Tighten the wheel nuts',
    position: 'front left',
    of: '10 × wheel nuts, opposite',
    stage: '2',
    planned: '600 N·m (576 to 624 N·m)',
    said: '',
    tool: '',
    at: null,
    by: null,
    source: 'demonstration value for an invented axle',
  },
];

export const HANDOVER: Card = {
  text: 'Handover, job 1042.',
  title: 'Handover, job 1042',
  blocks: [
    { kind: 'text', text: 'Vehicle now: Coolant out.' },
    { kind: 'facts', rows: [['Next', 'Drain the coolant']] },
  ],
};

/** What takes a controller, as far as these tests go. */
const CONTROLLERS: ReadonlySet<string> = new Set([
  'override',
  'acknowledge',
  'release',
  'refuse',
  'settle-finding',
  'cancel-job',
]);

/** A view of these jobs. */
export function fakeView(jobs: readonly BenchJob[] = []): FakeView {
  const kept = new Map(jobs.map((job) => [job.job, job]));
  const listeners = new Set<(job: string) => void>();
  const changed = (job: string) => {
    for (const listener of listeners) listener(job);
  };
  return {
    workshop: async () => ({ name: 'Harrow Lane depot', zone: 'Europe/London', people: PEOPLE }),
    openJobs: async () => [...kept.values()].filter(({ status }) => status === 'open'),
    job: async (job) => kept.get(job),
    may: ({ roles }, intent) => !CONTROLLERS.has(intent.do) || roles.includes('controller'),
    tightening: async () => STAGES,
    handover: async () => HANDOVER,
    openJobForm: async () => OPEN_FORM,
    onChange: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    put: (job) => {
      kept.set(job.job, job);
      changed(job.job);
    },
    remove: (job) => {
      kept.delete(job);
      changed(job);
    },
  };
}
