import { describe, expect, it } from 'vitest';
import { simulateFinish, spreadOfPace } from '../../../src/trade/forecast/simulate-finish.ts';
import type { WorkStep } from '../../../src/trade/forecast/work-ahead.ts';
import { workClock } from '../../../src/trade/forecast/work-clock.ts';
import { workCalendar } from '../../../src/trade/work-calendar.ts';
import { valueIn } from '../unwrap.ts';

const day = { name: 'day', from: '08:00', to: '16:00' };
const calendar = valueIn(
  workCalendar({ zone: 'UTC', week: { mon: [day], tue: [day], wed: [day], thu: [day] } }),
);
const at = (clock: string, date = 1) => Date.parse(`2026-06-0${date}T${clock}:00Z`);
const clocks = (now: number, ...names: string[]) =>
  new Map(names.map((name) => [name, workClock(calendar, now)]));
const AS_PLANNED = { middle: 0, slower: 0, faster: 0, freedom: 10, jobs: 0 };

const step = (id: string, minutes: number, more: Partial<WorkStep> = {}): WorkStep => ({
  id,
  kind: id,
  time: { o: minutes, m: minutes, p: minutes },
  handsOff: 0,
  after: [],
  waits: [],
  spent: 0,
  ...more,
});
const RUNS = { seed: 1, runs: 20 };

describe('the finish', () => {
  it('of work without spread is laid on the hours of the people', () => {
    // 300 + 300: eight hours on Monday, two on Tuesday.
    const job = { job: '1', people: ['Jo'], pace: AS_PLANNED };
    const steps = [step('a', 300), step('b', 300, { after: ['a'] })];
    const [found] = simulateFinish(
      [{ ...job, steps }],
      clocks(at('08:00'), 'Jo'),
      at('08:00'),
      RUNS,
    );
    expect(found?.likely).toBe(at('10:00', 2));
    expect(found?.cautious).toBe(at('10:00', 2));
  });

  it('lets a cure go on overnight', () => {
    // Done by hand at 16:00 on Monday, ten hours to cure are over at 02:00: the next step begins at 08:00.
    const steps = [step('seal', 480, { handsOff: 600 }), step('fill', 60, { after: ['seal'] })];
    const job = { job: '1', people: ['Jo'], pace: AS_PLANNED, steps };
    const [found] = simulateFinish([job], clocks(at('08:00'), 'Jo'), at('08:00'), RUNS);
    expect(found?.likely).toBe(at('09:00', 2));
    expect(found?.drivers.find(({ kind }) => kind === 'seal')?.waiting).toBe(600);
  });

  it('fills hands-off time with what does not depend on it', () => {
    const steps = [
      step('cool', 10, { handsOff: 60 }),
      step('open', 30, { after: ['cool'] }),
      step('covers', 40),
    ];
    const job = { job: '1', people: ['Jo'], pace: AS_PLANNED, steps };
    const [found] = simulateFinish([job], clocks(at('08:00'), 'Jo'), at('08:00'), RUNS);
    // Cooling until 09:10, the covers meanwhile, 30 minutes more.
    expect(found?.likely).toBe(at('09:40'));
    expect(found?.drivers.map(({ kind }) => kind)).toEqual(['cool', 'open']);
  });

  it('waits so long after a step that was done before', () => {
    const steps = [step('torque again', 10, { waits: [{ after: at('08:00'), minutes: 30 }] })];
    const job = { job: '1', people: ['Jo'], pace: AS_PLANNED, steps };
    const [found] = simulateFinish([job], clocks(at('08:10'), 'Jo'), at('08:10'), RUNS);
    expect(found?.likely).toBe(at('08:40'));
  });

  it('takes off what went into a step in hand, but never all of it', () => {
    const finish = (spent: number) =>
      simulateFinish(
        [{ job: '1', people: ['Jo'], pace: AS_PLANNED, steps: [step('a', 100, { spent })] }],
        clocks(at('08:00'), 'Jo'),
        at('08:00'),
        RUNS,
      )[0]?.likely;
    expect(finish(40)).toBe(at('09:00'));
    expect(finish(500)).toBe(at('08:10'));
  });

  it('of two jobs on one person puts the more urgent one first', () => {
    const two = ['urgent', 'other'].map((job) => ({
      job,
      people: ['Jo'],
      pace: AS_PLANNED,
      steps: [step('a', 60), step('b', 60, { after: ['a'] })],
    }));
    const found = simulateFinish(two, clocks(at('08:00'), 'Jo'), at('08:00'), RUNS);
    expect(found.map(({ likely }) => likely)).toEqual([at('10:00'), at('12:00')]);
    // The other waits for the hands: the urgent job drives it.
    expect(found[1]?.drivers.some(({ job }) => job === 'urgent')).toBe(true);
  });

  it('shares the people there are, and lets nobody be in two places', () => {
    const three = ['1', '2', '3'].map((job) => ({
      job,
      people: ['Jo', 'Mo'],
      pace: AS_PLANNED,
      steps: [step('a', 120)],
    }));
    const found = simulateFinish(three, clocks(at('08:00'), 'Jo', 'Mo'), at('08:00'), RUNS);
    expect(found.map(({ likely }) => likely)).toEqual([at('10:00'), at('10:00'), at('12:00')]);
  });

  it('is the same for the same seed, later on a slow job, and has no time where nobody works', () => {
    const spread = { ...step('a', 100), time: { o: 60, m: 100, p: 300 } };
    const job = { job: '1', people: ['Jo'], steps: [spread] };
    const finish = (middle: number, seed: number) =>
      simulateFinish(
        [{ ...job, pace: { middle, slower: 0.4, faster: 0.25, freedom: 4, jobs: 0 } }],
        clocks(at('08:00'), 'Jo'),
        at('08:00'),
        { seed, runs: 200 },
      )[0];
    expect(finish(0, 7)).toEqual(finish(0, 7));
    expect(finish(0, 7)?.likely).not.toBe(finish(0, 8)?.likely);
    expect(finish(0.5, 7)?.likely).toBeGreaterThan(finish(0, 7)?.likely ?? 0);
    expect(finish(0, 7)?.cautious).toBeGreaterThan(finish(0, 7)?.likely ?? 0);
    const nobody = simulateFinish(
      [{ ...job, people: [], pace: AS_PLANNED }],
      clocks(at('08:00')),
      at('08:00'),
      RUNS,
    );
    expect(nobody[0]?.likely).toBeNaN();
  });

  it('says how often a promise is missed', () => {
    const late = (due: number) =>
      simulateFinish(
        [{ job: '1', people: ['Jo'], pace: AS_PLANNED, steps: [step('a', 60)], due }],
        clocks(at('08:00'), 'Jo'),
        at('08:00'),
        RUNS,
      )[0]?.late;
    expect(late(at('09:00'))).toBe(0);
    expect(late(at('08:59'))).toBe(1);
  });
});

it('the spread of a job is what its steps do not have by themselves', () => {
  // Two steps of 30, 60, 90: variance 2 · 10² = 200 on a mean of 120: 0.01389; of 0.04 are left 0.02611.
  const steps = [1, 2].map((n) => ({ ...step(`${n}`, 60), time: { o: 30, m: 60, p: 90 } }));
  expect(spreadOfPace(steps, 0.2)).toBeCloseTo(Math.sqrt(0.04 - 200 / 14_400), 9);
  expect(spreadOfPace(steps, 0.01)).toBe(0.05);
});
