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

const randomPlan = fc
  .record({
    steps: fc.array(randomStep, { minLength: 2, maxLength: 6 }),
    states: fc.array(randomState, { maxLength: 2 }),
  })
  .map(({ steps, states }) => planOf(steps, states));

type RandomStep = typeof randomStep extends fc.Arbitrary<infer T> ? T : never;
type RandomState = typeof randomState extends fc.Arbitrary<infer T> ? T : never;

function planOf(drawn: readonly RandomStep[], states: readonly RandomState[]): PlanFile {
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
  return PlanFile.parse({
    plan: 'random',
    title: 'Random',
    machine: 'none',
    notice: 'made up',
    source: 'made up',
    positions: { side: { names: ['left', 'right'] } },
    options: { extra: 'extra work' },
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
  again: fc.constantFrom(false, false, false, true),
  ago: some(2, fc.integer({ min: 1, max: 40 })),
  by: fc.constantFrom(...PEOPLE),
  named: some(1, fc.constantFrom(...PEOPLE)),
  deleted: fc.constantFrom(false, false, false, false, false, false, false, true),
  release: some(2, fc.constantFrom('hold-released', 'hold-released', 'hold-refused')),
  gap: fc.constantFrom(1, 3, 10, 20),
});
type RandomReport = typeof randomReport extends fc.Arbitrary<infer T> ? T : never;

/** A plan with the events of a job, in posting order. */
export const randomJob: fc.Arbitrary<RandomJob> = fc
  .record({
    plan: randomPlan,
    reports: fc.array(randomReport, { maxLength: 10 }),
    positions: fc.constantFrom<readonly string[]>([], ['left'], ['left', 'right']),
    extra: fc.boolean(),
  })
  .map(({ plan, reports, positions, extra }) => ({
    plan,
    events: eventsOf(plan, reports, positions, extra),
  }));

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
    const message = `m${n}`;
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
    events.push({
      id: `r${n}`,
      kind: 'message-read',
      at: iso(now),
      by: 'chargehand',
      message,
      revision: 0,
      pass: 0,
      acts: [act],
      relied: [],
    });
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
  if (report.again && kind === 'done') act.again = true;
  if (ask?.kind === 'quantity') {
    // Without "again" a second, different figure would be asked about; here it stays the same.
    const key = step?.id ?? '';
    const value = figures.has(key) && !report.again ? figures.get(key) : report.figure;
    figures.set(key, value);
    if (value !== undefined) act.quantity = { value, unit: 'mm' };
  }
  return act;
}
