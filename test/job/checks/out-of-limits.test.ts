import { describe, expect, it } from 'vitest';
import {
  act,
  answers,
  done,
  flagsOf,
  litres,
  newtonMetres,
  only,
  overrides,
  planOf,
  says,
  stateOf,
  viewOf,
} from '../story.ts';

const play = planOf([
  {
    id: 'measure',
    title: 'Measure the play',
    weight: 'damage-critical',
    report: [{ kind: 'quantity', of: 'play', unit: 'mm', min: 0.05, max: 0.1 }],
  },
  { id: 'next', after: ['measure'] },
]);
const measured = (value: number, unit = 'mm', more = {}) =>
  says('m1', '08:00', 'Tom', [done('measure', { quantity: { value, unit, ...more } })]);

describe('a measured figure', () => {
  it.each([
    [0.05, 'mm', 0],
    [0.1, 'mm', 0],
    [0.049, 'mm', 1],
    [0.101, 'mm', 1],
    [0.07, 'mm', 0],
    // 3 thou = 0.0762 mm; 5 thou = 0.127 mm (1 thou = 0.0254 mm).
    [3, 'thou', 0],
    [5, 'thou', 1],
  ])('%s %s', (value, unit, flags) => {
    expect(only(viewOf(play, [measured(value, unit)]), 'out-of-limits')).toHaveLength(flags);
  });

  it('both ends of a range said have to lie within', () => {
    expect(
      only(viewOf(play, [measured(0.09, 'mm', { low: 0.08, high: 0.1 })]), 'out-of-limits'),
    ).toEqual([]);
    expect(
      only(viewOf(play, [measured(0.09, 'mm', { low: 0.08, high: 0.12 })]), 'out-of-limits'),
    ).toHaveLength(1);
  });

  it('says both figures with their unit and the source of the limit', () => {
    const view = viewOf(play, [measured(0.12)]);
    expect(flagsOf(view)).toEqual(['out-of-limits|measure|| caution']);
    expect(view.flags[0]?.says).toBe(
      'Out of limits: "Measure the play", play. 0.12 mm reported, 0.05 to 0.1 mm expected (demonstration value). Job 1042, 08:00. Measure it again and correct the report, or put it right and report it again.',
    );
  });

  it('the step counts as reported, what follows raises no skipped, and closing is refused', () => {
    const view = viewOf(play, [measured(0.12), says('m2', '08:10', 'Tom', [done('next')])]);
    expect(stateOf(view, 'measure')).toBe('done');
    expect(only(view, 'skipped')).toEqual([]);
    expect(view.closeNeeds).toEqual(['Flag open: Out of limits: "Measure the play", play.']);
  });

  it('a correction takes it away, doing the step again settles it', () => {
    const corrected = [
      measured(0.12),
      says('m2', '08:05', 'Tom', [
        act('corrects', 'measure', { quantity: { value: 0.08, unit: 'mm' }, was: '0.12' }),
      ]),
    ];
    expect(flagsOf(viewOf(play, corrected))).toEqual([]);
    const again = [
      measured(0.12),
      says('m2', '08:05', 'Tom', [
        done('measure', { quantity: { value: 0.08, unit: 'mm' }, again: true }),
      ]),
    ];
    expect(flagsOf(viewOf(play, again))).toEqual(['out-of-limits|measure|| settled']);
  });

  it('an override covers the figure, not the next one', () => {
    const events = [measured(0.12), overrides('out-of-limits|measure||', '08:02')];
    expect(flagsOf(viewOf(play, events))).toEqual(['out-of-limits|measure|| overridden']);
    const later = says('m3', '08:10', 'Tom', [
      done('measure', { quantity: { value: 0.2, unit: 'mm' }, again: true }),
    ]);
    expect(flagsOf(viewOf(play, [...events, later]))).toEqual(['out-of-limits|measure|| caution']);
  });

  it('another figure without "again" is asked about, and either one counts until then', () => {
    const events = [
      measured(0.08),
      says('m2', '08:10', 'Tom', [done('measure', { quantity: { value: 0.2, unit: 'mm' } })]),
    ];
    const view = viewOf(play, events);
    expect(only(view, 'out-of-limits')).toHaveLength(1);
    expect(view.wants).toMatchObject([{ about: 'repeat', message: 'm2' }]);
    const answered = (choice: number) =>
      flagsOf(viewOf(play, [...events, answers(view, 'repeat', choice, '08:12')]));
    expect(answered(0)).toEqual(['out-of-limits|measure|| caution']);
    expect(answered(2)).toEqual([]);
  });
});

describe('volumes add up over the containers', () => {
  const plan = planOf(
    [{ id: 'drain', report: [{ kind: 'drained', fluid: 'coolant', min: 30, max: 34 }] }],
    { fluids: { coolant: { title: 'coolant' } } },
  );
  const drained = (id: string, clock: string, value: number, kind: 'done' | 'partial' = 'done') =>
    says(id, clock, 'Tom', [act(kind, 'drain', { quantity: litres(value) })]);

  it('28 L of 30 to 34', () => {
    const view = viewOf(plan, [drained('m1', '08:00', 28)]);
    expect(view.flags[0]?.says).toContain('28 L reported, 30 to 34 L expected');
  });
  it('28 L and then 4 L make 32', () => {
    expect(
      only(viewOf(plan, [drained('m1', '08:00', 28), drained('m2', '08:01', 4)]), 'out-of-limits'),
    ).toEqual([]);
  });
  it('a part of it is not too little, more than the system holds is too much at once', () => {
    expect(flagsOf(viewOf(plan, [drained('m1', '08:00', 12, 'partial')]))).toEqual([]);
    expect(flagsOf(viewOf(plan, [drained('m1', '08:00', 35, 'partial')]))).toHaveLength(1);
  });
  it('other units: 9 US gallons are 34.07 L, too much; 8.9 are 33.69 L', () => {
    const gallons = (value: number) =>
      says('m1', '08:00', 'Tom', [done('drain', { quantity: { value, unit: 'gal_us' } })]);
    expect(flagsOf(viewOf(plan, [gallons(9)]))).toHaveLength(1);
    expect(flagsOf(viewOf(plan, [gallons(8.9)]))).toEqual([]);
  });
});

describe('stages of tightening', () => {
  const plan = planOf([
    {
      id: 'clamp',
      report: [
        {
          kind: 'tightening',
          of: 'bolts',
          stages: [
            { torque: 20, tolerance: 10 },
            { torque: 45 },
            { angle: 90, 'tolerance-angle': 10 },
          ],
        },
      ],
    },
  ]);
  const stage = (n: number, more: object) =>
    says(`m${n}`, `08:0${n}`, 'Tom', [done('clamp', { stage: n, ...more })]);
  it.each([
    // 20 N·m ±10 %: 18 to 22. 45 N·m ±5 %: 42.75 to 47.25. 90° ±10°.
    [1, { quantity: newtonMetres(22) }, 0],
    [1, { quantity: newtonMetres(22.1) }, 1],
    [1, { quantity: newtonMetres(17.9) }, 1],
    [2, { quantity: newtonMetres(47.25) }, 0],
    [2, { quantity: newtonMetres(48) }, 1],
    [3, { angle: { value: 100, unit: 'deg' } }, 0],
    [3, { angle: { value: 101, unit: 'deg' } }, 1],
    // 33 lbf·ft = 44.7 N·m, 36 lbf·ft = 48.8 N·m (1 lbf·ft = 1.3558 N·m).
    [2, { quantity: { value: 33, unit: 'lbf.ft' } }, 0],
    [2, { quantity: { value: 36, unit: 'lbf.ft' } }, 1],
    [4, {}, 1],
  ])('stage %i with %j', (n, more, flags) => {
    expect(only(viewOf(plan, [stage(n, more)]), 'out-of-limits')).toHaveLength(flags);
  });
  it('names the stage as the part', () => {
    expect(only(viewOf(plan, [stage(2, { quantity: newtonMetres(60) })]), 'out-of-limits')).toEqual(
      ['out-of-limits|clamp||2 advice'],
    );
  });
  it("a numbered stage without its figure stands for the plan's value, as an assumption", () => {
    const view = viewOf(plan, [stage(1, {})]);
    const [step] = view.steps;
    expect(step?.figures).toMatchObject([
      { quantity: { value: 20, unit: 'N.m' }, assumed: true, within: true },
    ]);
    expect(step?.assumed).toEqual(["stage 1: 20 N·m, the plan's value"]);
  });
});

it('a clearance without its valve belongs to the valve whose target is nearest', () => {
  const plan = planOf([
    {
      id: 'valves',
      report: [
        {
          kind: 'clearance',
          valves: [
            { valve: 'inlet', target: 0.3, min: 0.25, max: 0.35 },
            { valve: 'exhaust', target: 0.6, min: 0.55, max: 0.65 },
          ],
        },
      ],
    },
  ]);
  const set = (value: number) => done('valves', { quantity: { value, unit: 'mm' } });
  const view = viewOf(plan, [says('m1', '08:00', 'Tom', [set(0.3), set(0.7)])]);
  expect(flagsOf(view)).toEqual(['out-of-limits|valves||exhaust advice']);
  expect(view.wants).toEqual([]);
  expect(view.steps[0]).toMatchObject({
    state: 'done',
    assumed: ['valve: inlet, from the figure', 'valve: exhaust, from the figure'],
  });
});

it('clearances, each valve by itself', () => {
  const plan = planOf([
    {
      id: 'valves',
      report: [
        {
          kind: 'clearance',
          valves: [
            { valve: 'inlet', target: 0.3, min: 0.25, max: 0.35 },
            { valve: 'exhaust', target: 0.6, min: 0.55, max: 0.65 },
          ],
        },
      ],
    },
  ]);
  const set = (valve: string, value: number) =>
    done('valves', { valve, quantity: { value, unit: 'mm' } });
  const view = viewOf(plan, [
    says('m1', '08:00', 'Tom', [set('inlet', 0.35), set('exhaust', 0.7)]),
  ]);
  expect(flagsOf(view)).toEqual(['out-of-limits|valves||exhaust advice']);
  expect(stateOf(view, 'valves')).toBe('done');
});
