// Random small plans and what might be reported on a job that follows one.
import fc from 'fast-check';
import type { JobEvent } from '../../../shared/event.ts';
import { PlanFile, type Step } from '../../../shared/plan.ts';
import type { Act } from '../../../shared/reading.ts';

export type RandomJob = { readonly plan: PlanFile; readonly events: readonly JobEvent[] };

const START = Date.parse('2026-03-02T08:00:00Z');
const MINUTE = 60_000;
const iso = (time: number): string => new Date(time).toISOString();
const PEOPLE = ['Ana', 'Ben', 'Cal'] as const;
const some = <T>(weight: number, arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.oneof({ weight: 10 - weight, arbitrary: fc.constant(undefined) }, { weight, arbitrary });

const randomStep = fc.record({
  weight: fc.constantFrom('routine', 'damage-critical', 'safety-critical'),
  each: fc.constantFrom(undefined, undefined, 'side'),
  after: fc.array(fc.nat(9), { maxLength: 2 }),
  ask: fc.constantFrom('none', 'none', 'quantity', 'stages'),
  hold: fc.constantFrom(false, false, false, true),
  check: fc.constantFrom(false, false, false, false, true),
  checked: fc.nat(9),
  wait: some(2, fc.constantFrom(5, 15, 45)),
  undoes: some(2, fc.nat(9)),
  option: fc.constantFrom(false, false, false, false, true),
  raise: some(1, fc.constant('caution' as const)),
});

const randomState = fc.record({
  opener: fc.nat(9),
  closer: fc.nat(9),
  forbids: fc.nat(9),
  act: fc.boolean(),
});

/** Two steps that belong together: out and in, off and on. Both once, or both at each position. */
const randomPair = fc.record({ first: fc.nat(9), second: fc.nat(9), each: fc.boolean() });
type RandomPair = typeof randomPair extends fc.Arbitrary<infer T> ? T : never;

const randomPlan = fc
  .record({
    steps: fc.array(randomStep, { minLength: 2, maxLength: 6 }),
    states: fc.array(randomState, { maxLength: 2 }),
    fluid: some(3, randomPair),
    clips: some(3, randomPair),
  })
  .map(({ steps, states, fluid, clips }) => planOf(steps, states, fluid, clips));

type RandomStep = typeof randomStep extends fc.Arbitrary<infer T> ? T : never;
type RandomState = typeof randomState extends fc.Arbitrary<infer T> ? T : never;

function planOf(
  drawn: readonly RandomStep[],
  states: readonly RandomState[],
  fluid: RandomPair | undefined,
  clips: RandomPair | undefined,
): PlanFile {
  const id = (n: number) => `s${n}`;
  const steps = drawn.map((it, n): Record<string, unknown> => {
    const earlier = [...new Set(it.after.map((k) => k % Math.max(1, n)))].filter((k) => k < n);
    const later =
      it.undoes === undefined ? undefined : n + 1 + (it.undoes % Math.max(1, drawn.length - n - 1));
    // A step that undoes others is undone by none, so that rework does not run in circles.
    const undoes =
      later !== undefined && later < drawn.length && drawn[later]?.undoes === undefined;
    return {
      id: id(n),
      title: `Step ${n}`,
      phase: 'strip',
      weight: it.weight,
      ...(it.weight === 'routine' ? {} : { why: 'It matters.' }),
      ...(it.each ? { each: it.each } : {}),
      ...(earlier.length > 0 ? { after: earlier.map(id) } : {}),
      ...(it.ask === 'none' || it.check ? {} : { report: [askOf(it.ask)] }),
      ...(it.hold && n < drawn.length - 1 ? { hold: { release: ['controller'] } } : {}),
      ...(it.check && n > 0 ? { check: [id(it.checked % n)] } : {}),
      ...(it.wait !== undefined && earlier[0] !== undefined
        ? { waits: [{ after: id(earlier[0]), minutes: it.wait, because: 'it sets' }] }
        : {}),
      ...(undoes && later !== undefined ? { undoes: [id(later)] } : {}),
      ...(it.option ? { option: 'extra' } : {}),
      ...(it.raise ? { raise: { skipped: it.raise } } : {}),
    };
  });
  for (const [n, state] of states.entries()) putState(steps, state, `x${n}`);
  putPair(steps, clips, [
    { kind: 'off', part: 'clips', count: 6 },
    { kind: 'on', part: 'clips', count: 6 },
  ]);
  putPair(steps, fluid, [
    { kind: 'drained', fluid: 'coolant', min: 20 },
    { kind: 'filled', fluid: 'coolant' },
  ]);
  return PlanFile.parse({
    plan: 'random',
    title: 'Random',
    machine: 'none',
    notice: 'made up',
    source: 'made up',
    positions: { side: { names: ['left', 'right'] } },
    options: { extra: 'extra work' },
    fluids: { coolant: { title: 'coolant' } },
    ...(states.length === 0
      ? {}
      : {
          states: Object.fromEntries(
            states.map((state, n) => [
              `x${n}`,
              { title: `state ${n}`, ...(state.act ? { forbids: ['start'] } : {}) },
            ]),
          ),
        }),
    watched: [{ id: 'start-it', title: 'Start it', is: 'start' }],
    steps,
  });
}

function putState(steps: Record<string, unknown>[], state: RandomState, name: string): void {
  const opener = state.opener % steps.length;
  const closer = state.closer % steps.length;
  if (opener === closer) return;
  const put = (n: number, key: string) => {
    const step = steps[n];
    if (step) step[key] = [...((step[key] as string[] | undefined) ?? []), name];
  };
  put(opener, 'opens');
  put(closer, 'closes');
  const other = state.forbids % steps.length;
  if (other !== opener && other !== closer) put(other, 'not-while');
}

function putPair(
  steps: Record<string, unknown>[],
  pair: RandomPair | undefined,
  asks: readonly Record<string, unknown>[],
): void {
  const numbers = [pair?.first, pair?.second].map((n) => (n ?? 0) % steps.length);
  const pick = numbers.map((n) => steps[n]);
  if (!pair || numbers[0] === numbers[1] || pick.some((step) => step?.report || step?.check))
    return;
  for (const [n, step] of pick.entries()) {
    if (!step) continue;
    step.report = [asks[n]];
    delete step.each;
    if (pair.each) step.each = 'side';
  }
}

function askOf(kind: 'quantity' | 'stages'): Record<string, unknown> {
  if (kind === 'quantity') return { kind: 'quantity', of: 'play', unit: 'mm', min: 2, max: 4 };
  return {
    kind: 'tightening',
    of: 'bolts',
    stages: [{ torque: 40 }, { torque: 80, tolerance: 10 }],
  };
}

const randomReport = fc.record({
  step: fc.nat(6),
  kind: fc.constantFrom('done', 'done', 'done', 'done', 'done', 'started', 'partial'),
  positions: fc.constantFrom<readonly string[]>(
    ['left', 'right'],
    ['left'],
    ['right'],
    [],
    ['middle'],
  ),
  figure: fc.constantFrom(undefined, 1, 2, 3, 4, 5),
  stage: fc.constantFrom(1, 2),
  torque: fc.constantFrom(undefined, undefined, 38, 42, 37, 72, 88, 89),
  litres: fc.constantFrom(undefined, 10, 20, 21, 21.5, 30),
  clips: fc.constantFrom(undefined, 2, 4, 5, 6),
  again: fc.constantFrom(false, false, false, true),
  ago: some(2, fc.integer({ min: 1, max: 40 })),
  by: fc.constantFrom(...PEOPLE),
  named: some(1, fc.constantFrom(...PEOPLE)),
  deleted: fc.constantFrom(false, false, false, false, false, false, false, true),
  joins: fc.constantFrom(false, false, false, true),
  edited: some(1, fc.constantFrom(1, 2, 3, 4, 5, 40)),
  release: some(2, fc.constantFrom('hold-released', 'hold-released', 'hold-refused')),
  gap: fc.constantFrom(1, 3, 10, 20),
});
type RandomReport = typeof randomReport extends fc.Arbitrary<infer T> ? T : never;

/** A plan with the events of a job, in posting order: a tidy beginning with gaps, then anything. */
export const randomJob: fc.Arbitrary<RandomJob> = fc
  .record({
    plan: randomPlan,
    tidy: fc.boolean(),
    leftOut: fc.array(fc.nat(12), { maxLength: 2 }),
    reports: fc.array(randomReport, { maxLength: 8 }),
    positions: fc.constantFrom<readonly string[]>([], ['left'], ['left', 'right']),
    extra: fc.boolean(),
  })
  .map(({ plan, tidy, leftOut, reports, positions, extra }) => {
    const orderly = tidy ? tidyReports(plan, positions, extra) : [];
    const kept = orderly.filter((_, n) => !leftOut.includes(n));
    return { plan, events: eventsOf(plan, [...kept, ...reports], positions, extra) };
  });

/** Every step in the order of the plan as it should be, with its figure, stages and release. */
function tidyReports(plan: PlanFile, positions: readonly string[], extra: boolean): RandomReport[] {
  const reports: RandomReport[] = [];
  const onJob = plan.steps.filter((step) => step.option === undefined || extra);
  for (const [n, step] of onJob.entries()) {
    const places = positions.length > 0 ? positions : ['left', 'right'];
    const tidy: RandomReport = {
      step: n,
      kind: 'done',
      positions: step.each === undefined ? [] : places,
      figure: 3,
      stage: 1,
      torque: undefined,
      litres: 30,
      clips: 6,
      again: false,
      ago: undefined,
      by: step.check ? 'Ben' : 'Ana',
      named: undefined,
      deleted: false,
      joins: false,
      edited: undefined,
      release: undefined,
      gap: 20,
    };
    reports.push(tidy);
    if (step.report?.[0]?.kind === 'tightening') reports.push({ ...tidy, stage: 2 });
    if (!step.hold) continue;
    for (const place of step.each === undefined ? [''] : places) {
      reports.push({ ...tidy, positions: place === '' ? [] : [place], release: 'hold-released' });
    }
  }
  return reports;
}

function eventsOf(
  plan: PlanFile,
  reports: readonly RandomReport[],
  positions: readonly string[],
  extra: boolean,
): readonly JobEvent[] {
  const events: JobEvent[] = [
    {
      id: 'e-open',
      kind: 'job-opened',
      at: iso(START),
      by: 'Ines',
      job: '1001',
      vehicle: { name: 'bus 12' },
      plan: { id: plan.plan, title: plan.title, hash: 'h', text: '' },
      positions: [...positions],
      options: extra ? ['extra'] : [],
      technician: 'Ana',
      controller: 'Ines',
    },
  ];
  let now = START;
  const figures = new Map<string, number | undefined>();
  for (const [n, report] of reports.entries()) {
    now += report.gap * MINUTE;
    const onJob = plan.steps.filter((step) => step.option === undefined || extra);
    const targets: readonly (Step | undefined)[] = [...onJob, undefined];
    const step = targets[report.step % targets.length];
    if (report.release !== undefined && step?.hold) {
      const position = step.each === undefined ? null : (report.positions[0] ?? 'left');
      events.push({
        id: `e${n}`,
        kind: report.release,
        at: iso(now),
        by: report.named ?? 'Ines',
        role: 'controller',
        step: step.id,
        position,
      });
      continue;
    }
    // Seconds keep any two times apart.
    const time = report.ago === undefined ? undefined : now - report.ago * MINUTE + (n + 1) * 1000;
    const act = actOf(step, report, figures, time);
    const before = events.at(-1);
    const joined = before?.kind === 'message-read' && before.revision === 0 ? before : undefined;
    if (report.joins && joined && !joined.acts.some((other) => other.step === act.step)) {
      // Said in the same message as the one before: several acts at one time.
      joined.acts.push(act);
      continue;
    }
    const message = `m${n}`;
    const read = { kind: 'message-read', by: 'chargehand', message, pass: 0, relied: [] } as const;
    events.push({
      id: `p${n}`,
      kind: 'message-posted',
      at: iso(now),
      by: report.by,
      role: 'technician',
      message,
      channel: 'bench',
      text: `report ${n}`,
    });
    events.push({ ...read, relied: [], id: `r${n}`, at: iso(now), revision: 0, acts: [act] });
    if (report.edited !== undefined && act.quantity) {
      // An edit of a figure keeps the time of the message.
      const later = iso(now + MINUTE / 3);
      const quantity = { ...act.quantity, value: report.edited };
      events.push({
        id: `t${n}`,
        kind: 'message-edited',
        at: later,
        by: report.by,
        message,
        text: `edit ${n}`,
      });
      events.push({
        ...read,
        relied: [],
        id: `s${n}`,
        at: later,
        revision: 1,
        acts: [{ ...act, quantity }],
      });
      if (step && !step.report?.some(({ kind }) => kind === 'tightening'))
        figures.set(step.id, report.edited);
    }
    if (report.deleted) {
      events.push({
        id: `d${n}`,
        kind: 'message-deleted',
        at: iso(now + MINUTE / 2),
        by: report.by,
        message,
      });
    }
  }
  return events;
}

function actOf(
  step: Step | undefined,
  report: RandomReport,
  figures: Map<string, number | undefined>,
  time: number | undefined,
): Act {
  const ask = step?.report?.[0];
  const kind = report.kind as Act['kind'];
  const positions = step?.each === undefined ? [] : [...report.positions];
  const staged = ask?.kind === 'tightening';
  const act: Act = {
    kind: staged ? 'done' : kind,
    step: step?.id ?? 'start-it',
    positions,
    assumed: [],
    span: [0, 1],
  };
  if (report.named !== undefined && report.named !== report.by) act.by = report.named;
  if (time !== undefined) act.time = iso(time);
  if (staged) {
    act.stage = report.stage;
    if (report.torque !== undefined) act.quantity = { value: report.torque, unit: 'N.m' };
    return act;
  }
  if (ask?.kind === 'drained' || ask?.kind === 'filled') {
    // "Again" with a volume is a top-up; that is left to other tests.
    if (report.litres !== undefined) act.quantity = { value: report.litres, unit: 'L' };
    return act;
  }
  if (report.again && kind === 'done') act.again = true;
  if ((ask?.kind === 'off' || ask?.kind === 'on') && report.clips !== undefined) {
    act.count = { done: report.clips, of: 6 };
  }
  if (ask?.kind === 'quantity') {
    // Without "again" a second, different figure would be asked about; here it stays the same.
    const key = step?.id ?? '';
    const value = figures.has(key) && !report.again ? figures.get(key) : report.figure;
    figures.set(key, value);
    if (value !== undefined) act.quantity = { value, unit: 'mm' };
  }
  return act;
}
