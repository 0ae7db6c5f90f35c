import { describe, expect, it } from 'vitest';
import {
  aheadAt,
  type JobRun,
  paceSoFar,
  paceThatFits,
  pastPace,
} from '../../../src/trade/forecast/pace.ts';
import { paceBelief } from '../../../src/trade/forecast/pace-belief.ts';
import type { WorkStep } from '../../../src/trade/forecast/work-ahead.ts';
import { workClock } from '../../../src/trade/forecast/work-clock.ts';
import { workCalendar } from '../../../src/trade/work-calendar.ts';
import { valueIn } from '../unwrap.ts';

const day = { name: 'day', from: '08:00', to: '16:00' };
const calendar = valueIn(
  workCalendar({ zone: 'UTC', week: { mon: [day], tue: [day], wed: [day] } }),
);
const at = (clock: string, date = '2026-06-01') => Date.parse(`${date}T${clock}:00Z`);
const START = at('08:00');
const clock = workClock(calendar, START);

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
const job = (...steps: WorkStep[]) => ({ job: '1', people: ['Jo'], steps });

describe('the pace that fits', () => {
  it('is elapsed over planned for one pair of hands', () => {
    // 120 planned, done after 180: 1.5.
    const work = job(step('a', 60), step('b', 60, { after: ['a'] }));
    expect(paceThatFits(work, clock, START, at('11:00'))).toBeCloseTo(1.5, 2);
  });

  it('leaves hands-off time as planned', () => {
    // 60·f, half an hour to cure, 60·f: done after 180 is f = 1.25.
    const work = job(step('a', 60, { handsOff: 30 }), step('b', 60, { after: ['a'] }));
    expect(paceThatFits(work, clock, START, at('11:00'))).toBeCloseTo(1.25, 2);
  });

  it('counts working time only', () => {
    // 480 planned fill Monday; done on Tuesday at noon is 480 + 240 = 720: 1.5.
    expect(paceThatFits(job(step('a', 480)), clock, START, at('12:00', '2026-06-02'))).toBeCloseTo(
      1.5,
      2,
    );
  });
});

const run = (doneAt: Readonly<Record<string, number>>): JobRun => ({
  whole: job(
    step('a', 60),
    step('b', 60, { after: ['a'] }),
    step('c', 60, { after: ['b'], waits: [{ after: 'a', minutes: 100 }] }),
    step('d', 60, { after: ['c'] }),
  ),
  start: START,
  doneAt: new Map(Object.entries(doneAt)),
});

describe('a job as far as it went', () => {
  it('has ahead what has no record, and waits from when it was done', () => {
    const ahead = aheadAt(run({ a: at('09:00') }), at('09:00'));
    expect(ahead.steps.map(({ id, after }) => [id, after])).toEqual([
      ['b', []],
      ['c', ['b']],
      ['d', ['c']],
    ]);
    expect(ahead.steps[1]?.waits).toEqual([{ after: at('09:00'), minutes: 100 }]);
  });

  it('tells its share, and the logarithm of its pace', () => {
    // Two of four hours planned, done after three: 1.5.
    const soFar = paceSoFar(run({ a: at('09:30'), b: at('11:00') }), clock);
    expect(soFar?.share).toBe(0.5);
    expect(soFar?.minutes).toBe(120);
    expect(soFar?.log).toBeCloseTo(Math.log(1.5), 2);
    expect(paceSoFar(run({}), clock)).toBeNull();
  });

  it('once over tells the pace of the whole, and at each cut of what was done and what was left', () => {
    // a and b took two hours, as planned: 1. c waits until 100 minutes after a, 10:40, so that c and d fill 200 of the
    // four hours to 14:00: 200/120. The whole: 60·f, the wait of 100, 120·f make 360: f = 260/180.
    const past = pastPace(
      run({ a: at('09:00'), b: at('10:00'), c: at('12:00'), d: at('14:00') }),
      clock,
    );
    const whole = past?.cuts.find(({ share }) => share === 0);
    expect(whole?.soFar).toBeNull();
    expect(Math.exp(whole?.rest ?? 0)).toBeCloseTo(260 / 180, 2);
    const half = past?.cuts.find(({ share }) => share === 0.4);
    expect(Math.exp(half?.soFar ?? 9)).toBeCloseTo(1, 2);
    expect(Math.exp(half?.rest ?? 9)).toBeCloseTo(200 / 120, 2);
  });

  it('says nothing of pace when all was reported at once', () => {
    expect(pastPace(run({ a: START, b: START, c: START, d: START }), clock)).toBeUndefined();
  });
});

describe('what is believed of the pace', () => {
  it('is the plan where nothing is known', () => {
    expect(paceBelief(null, [])).toMatchObject({ middle: 0, jobs: 0, freedom: 4 });
  });

  it('counts the pace so far half after four hours, and less before', () => {
    // D / (D + 240): a half at 240, a fifth at 60.
    expect(paceBelief({ share: 0.5, log: 0.4, minutes: 240 }, []).middle).toBeCloseTo(0.2, 9);
    expect(paceBelief({ share: 0.2, log: 0.4, minutes: 60 }, []).middle).toBeCloseTo(0.08, 9);
  });

  const past = (soFar: number, rest: number, n: number) => ({
    job: `p${n}`,
    cuts: [
      { share: 0, soFar: null, rest },
      { share: 0.4, soFar, rest },
    ],
  });

  it('draws the plan towards past jobs, two of them standing for the plan', () => {
    const ten = Array.from({ length: 10 }, (_, n) => past(0.3, 0.3, n));
    // 10 · 0.3 / 12.
    expect(paceBelief(null, ten).middle).toBeCloseTo(0.25, 9);
    expect(paceBelief(null, ten.slice(0, 2)).middle).toBeCloseTo(0.15, 9);
  });

  it('learns from past jobs how far the pace so far goes on', () => {
    const goesOn = Array.from({ length: 12 }, (_, n) => past((n - 5.5) / 10, (n - 5.5) / 10, n));
    const doesNot = Array.from({ length: 12 }, (_, n) => past((n - 5.5) / 10, 0, n));
    const now = { share: 0.4, log: 0.4, minutes: 240 };
    // Sxx = 1.43 in both, prior weight 2 · 0.4 · 0.25 = 0.2 at the slope of a half: (1.43 + 0.1)/1.63 and 0.1/1.63.
    expect(paceBelief(now, goesOn).middle).toBeCloseTo((0.4 * 1.53) / 1.63, 6);
    expect(paceBelief(now, doesNot).middle).toBeCloseTo((0.4 * 0.1) / 1.63, 6);
  });

  it('is wider to the slow side where past jobs ran over, and narrower with many jobs alike', () => {
    const alike = Array.from({ length: 20 }, (_, n) => past(0, 0, n));
    const over = alike.map((job, n) => (n % 4 === 0 ? past(0, 0.8, n) : job));
    expect(paceBelief(null, alike).slower).toBeLessThan(paceBelief(null, []).slower / 2);
    const { slower, faster } = paceBelief(null, over);
    expect(slower).toBeGreaterThan(1.5 * faster);
  });
});
