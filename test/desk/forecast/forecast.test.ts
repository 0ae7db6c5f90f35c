// The forecast of jobs as the desk asks for it: from views, in the hours of the workshop, with the people there are.
import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../../shared/event.ts';
import type { Settings } from '../../../shared/settings.ts';
import { forecastCard, readyWords } from '../../../src/desk/answers/forecast.ts';
import { forecastJob, forecastWorkshop, pastPaceOf } from '../../../src/desk/forecast/forecast.ts';
import { handsAtOnce, jobRun } from '../../../src/desk/forecast/job-run.ts';
import { planLaidOut } from '../../../src/desk/forecast/plan-laid-out.ts';
import { workshopHours } from '../../../src/desk/forecast/workshop-hours.ts';
import { check } from '../../../src/job/check.ts';
import { act, at, cyl, done, opened, planOf, SIX, says, started } from '../../job/story.ts';

const time = (minutes: number, handsOff?: number) => ({
  best: minutes,
  likely: minutes,
  worst: minutes,
  ...(handsOff === undefined ? {} : { 'hands-off': handsOff }),
});
const PLAN = planOf(
  [
    { id: 'drain', title: 'Drain it', time: time(30) },
    { id: 'clean', title: 'Clean the seat', after: ['drain'], each: 'cylinders', time: time(20) },
    { id: 'seal', title: 'Seal it', after: ['clean'], time: time(10, 60) },
    {
      id: 'fill',
      title: 'Fill it',
      phase: 'prove',
      after: ['seal'],
      waits: [{ after: 'seal', minutes: 30, because: 'it cures' }],
      time: time(20, 30),
    },
    {
      id: 'retorque',
      title: 'Torque again on the road',
      phase: 'hand back',
      within: { after: 'fill', km: { min: 40, max: 80 }, because: 'it settles' },
      time: time(15),
    },
    { id: 'spare', title: 'Only with the option', option: 'extra', time: time(500) },
  ],
  { positions: SIX, options: { extra: 'Something more' } },
);

/** Tuesday 12 May 2026, a day from 07:00 to 15:00 with a break. */
const SETTINGS: Settings = {
  workshop: 'Depot',
  zone: 'Europe/Berlin',
  people: [
    { name: 'Sam', roles: ['technician'] },
    { name: 'Ade', roles: ['technician'], shifts: ['late'] },
    { name: 'Wen', roles: ['controller'] },
  ],
  shifts: [
    {
      name: 'day',
      days: ['mon', 'tue', 'wed', 'thu', 'fri'],
      from: '07:00',
      to: '15:00',
      breaks: [{ name: 'tea', from: '10:00', to: '10:30' }],
    },
    { name: 'late', days: ['mon', 'tue', 'wed', 'thu', 'fri'], from: '15:00', to: '18:00' },
  ],
};
const own = (name: string, shift: string): Settings => ({
  ...SETTINGS,
  people: SETTINGS.people.map((one) => (one.name === name ? { ...one, shifts: [shift] } : one)),
});
const viewOf = (events: readonly JobEvent[], now: string) => check(PLAN, events, at(now));
const start = (more: Parameters<typeof opened>[0] = {}) =>
  opened({ at: at('07:00'), positions: cyl(1, 2), technician: 'Sam', ...more });
const ground = (now: string, settings = own('Sam', 'day')) => ({
  settings,
  now: at(now),
  past: new Map(),
});
const minutesUntil = (iso: string | null, from: string): number =>
  (Date.parse(iso ?? '') - Date.parse(at(from))) / 60_000;

describe('a job as the forecast sees it', () => {
  const events = [start(), ...says('1', '07:40', 'Sam', [done('drain')])];
  const run = jobRun(viewOf(events, '07:40'));

  it('has its steps at their positions with what comes before, and none that comes after it has left', () => {
    expect(run.whole.steps.map(({ id, after }) => [id, after])).toEqual([
      ['drain|', []],
      ['clean|cylinder 1', ['drain|']],
      ['clean|cylinder 2', ['drain|']],
      ['seal|', ['clean|cylinder 1', 'clean|cylinder 2']],
      ['fill|', ['seal|']],
    ]);
    expect([...run.doneAt]).toEqual([['drain|', Date.parse(at('07:40'))]]);
  });

  it('counts time that a step waits and has hands off once', () => {
    // "Fill it" waits 30 minutes and has 30 hands-off: the same half hour.
    expect(run.whole.steps.find(({ kind }) => kind === 'fill')).toMatchObject({
      handsOff: 0,
      waits: [{ after: 'seal|', minutes: 30 }],
    });
    expect(run.whole.steps.find(({ kind }) => kind === 'seal')?.handsOff).toBe(60);
  });

  it('began twice the usual time of its first report before it, not before the opening, or when a start was said', () => {
    expect(run.start).toBe(Date.parse(at('07:00')));
    const late = viewOf([start(), ...says('1', '12:00', 'Sam', [done('drain')])], '12:00');
    expect(jobRun(late).start).toBe(Date.parse(at('11:00')));
    const said = viewOf([start(), ...says('1', '09:00', 'Sam', [started('drain')])], '09:10');
    expect(jobRun(said).start).toBe(Date.parse(at('09:00')));
    expect(jobRun(viewOf([start()], '09:00')).start).toBe(Date.parse(at('07:00')));
  });

  it('is worked by as many as report beside each other for an hour', () => {
    const reports = (by: string, ...clocks: string[]) =>
      clocks.flatMap((clock, n) =>
        says(`${by}${n}`, clock, by, [done('clean', {}, cyl(1 + (n % 2)))]),
      );
    const two = viewOf(
      [
        start(),
        ...reports('Sam', '08:00', '09:00', '10:00'),
        ...reports('Ade', '08:10', '09:10', '10:10'),
      ],
      '11:00',
    );
    expect(handsAtOnce(two)).toBe(2);
    const after = viewOf(
      [
        start(),
        ...reports('Sam', '08:00', '09:00', '10:00'),
        ...reports('Ade', '12:00', '13:00', '14:00'),
      ],
      '15:00',
    );
    expect(handsAtOnce(after)).toBe(1);
  });
});

describe('when it will be ready', () => {
  it('is the plan at its pace, in the hours of its technician', () => {
    // 30 + 2·20 + 10, an hour to cure and half an hour more to wait, 20: 190 minutes and the break of 30: 10:40, about;
    // the pace of a job nobody began is drawn about the plan, so half are earlier.
    const view = viewOf([start()], '07:00');
    const { likely, cautious, left, people } = forecastJob(view, ground('07:00'));
    expect(minutesUntil(likely, '07:00')).toBeGreaterThan(195);
    expect(minutesUntil(likely, '07:00')).toBeLessThan(240);
    expect(minutesUntil(cautious, '07:00')).toBeGreaterThan(minutesUntil(likely, '07:00'));
    expect(left).toBe(5);
    expect(people).toEqual(['Sam']);
  });

  it('goes on the next day for somebody whose shift ends, and the same evening for somebody on the later one', () => {
    const view = viewOf([start({ at: at('14:00') })], '14:00');
    const day = forecastJob(view, ground('14:00'));
    // An hour is left of the day shift: the rest on Wednesday.
    expect(day.likely?.slice(0, 10)).toBe('2026-05-13');
    const later = viewOf([start({ at: at('14:00'), technician: 'Ade' })], '14:00');
    const evening = forecastJob(later, ground('14:00'));
    // 15:00 to 18:00 holds the 100 minutes of hands and the 90 of cure, just about.
    expect(minutesUntil(evening.likely, '14:00')).toBeGreaterThan(200);
  });

  it('is later at a slow pace so far, drawn back towards the plan', () => {
    const slow = viewOf(
      [
        start(),
        ...says('0', '07:00', 'Sam', [started('drain')]),
        ...says('1', '09:00', 'Sam', [done('drain')]),
      ],
      '09:00',
    );
    const quick = viewOf([start(), ...says('1', '07:30', 'Sam', [done('drain')])], '07:30');
    const paceOf = (view: typeof slow, now: string) => forecastJob(view, ground(now));
    // 120 minutes for 30 is a pace of 4; 30 planned minutes count 30/270.
    const { soFar, pace } = paceOf(slow, '09:00');
    expect(soFar?.log).toBeCloseTo(Math.log(4), 2);
    expect(pace.middle).toBeCloseTo((Math.log(4) * 30) / 270, 2);
    expect(paceOf(quick, '07:30').pace.middle).toBeCloseTo(0, 2);
  });

  it('goes by past jobs on the same plan', () => {
    const over = viewOf(
      [
        start(),
        ...says('1', '07:45', 'Sam', [done('drain')]),
        ...says('2', '08:45', 'Sam', [done('clean', {}, cyl(1, 2))]),
        ...says('3', '09:00', 'Sam', [done('seal')]),
        ...says('4', '11:30', 'Sam', [done('fill')]),
        { id: 'closed', at: at('11:35'), by: 'Wen', kind: 'job-closed' },
      ],
      '12:00',
    );
    const pace = pastPaceOf(over, SETTINGS);
    // Drained, cleaned and sealed at half as slow again: 45, 60 and 15 minutes for 30, 40 and 10.
    expect(Math.exp(pace?.cuts.find(({ share }) => share === 0.6)?.soFar ?? 0)).toBeCloseTo(1.5, 1);
    const view = viewOf([start()], '07:00');
    const past = new Map([
      ['test-plan', Array.from({ length: 8 }, () => pace).flatMap((p) => p ?? [])],
    ]);
    const known = forecastJob(view, { ...ground('07:00'), past });
    const unknown = forecastJob(view, ground('07:00'));
    expect(known.pace.jobs).toBe(8);
    expect(Date.parse(known.likely ?? '')).toBeGreaterThan(Date.parse(unknown.likely ?? ''));
    expect(forecastCard(view, [view], { ...ground('07:00'), past }).text).toContain(
      '8 past jobs on this plan looked at',
    );
    expect(pastPaceOf(view, SETTINGS)).toBeUndefined();
  });

  it('is the same whenever it is asked at the same moment', () => {
    const view = viewOf([start()], '07:00');
    expect(forecastJob(view, ground('07:00'))).toEqual(forecastJob(view, ground('07:00')));
  });

  it('of the workshop gives each person one job at a time, the promised one first', () => {
    const one = viewOf([start({ job: '1', promised: at('12:00') })], '07:00');
    const two = viewOf([start({ job: '2' })], '07:00');
    const all = forecastWorkshop([two, one], ground('07:00'));
    const alone = forecastJob(two, ground('07:00'));
    expect(Date.parse(all.get('2')?.likely ?? '')).toBeGreaterThan(Date.parse(alone.likely ?? ''));
    expect(Date.parse(all.get('1')?.likely ?? '')).toBeLessThan(
      Date.parse(all.get('2')?.likely ?? ''),
    );
  });

  it('without a technician is for whoever is free', () => {
    const { technician: _, ...nobody } = start() as Extract<JobEvent, { kind: 'job-opened' }>;
    expect(forecastJob(viewOf([nobody], '07:00'), ground('07:00')).people).toEqual(['Sam', 'Ade']);
  });
});

describe('its words', () => {
  const ready = (likely: string, cautious: string | null) =>
    readyWords({ likely: at(likely), cautious }, at('07:00'), 'Europe/Berlin');

  it('name the day where it is another one', () => {
    expect(ready('2026-05-14T14:30:00+02:00', '2026-05-15T09:00:00+02:00')).toBe(
      'Thursday 14:30, cautiously Friday 09:00',
    );
    expect(ready('14:30', at('14:30'))).toBe('14:30, likely and cautiously');
    expect(ready('2026-06-02T14:30:00+02:00', null)).toBe(
      'Tue 2 Jun 14:30, cautiously not in the hours there are',
    );
  });

  it('say what drives it, what it rests on, and what is not counted', () => {
    const events = [
      start({ promised: at('08:00') }),
      ...says('1', '07:30', 'Sam', [done('drain')]),
      ...says('2', '07:40', 'Sam', [
        act('blocked', undefined, { note: 'no sealant in the stores' }),
      ]),
    ];
    const view = viewOf(events, '07:45');
    const { text } = forecastCard(view, [view], ground('07:45'));
    expect(text).toMatch(/Promised: 08:00, missed in 10 of 10 runs/u);
    expect(text).toMatch(/Driven by: .*Seal it, \d+ min and 1 h to wait/u);
    expect(text).toMatch(/Clean the seat, \d+ min/u);
    expect(text).toMatch(/Not counted: how long it waits for no sealant in the stores/u);
    expect(text).toContain('Hands: Sam.');
    expect(text).toContain('nine in ten by the cautious one; counted by the shifts');
  });

  it('say when other jobs go before', () => {
    const before = viewOf([start({ job: '7', promised: at('10:00') })], '07:00');
    const view = viewOf([start()], '07:00');
    expect(forecastCard(view, [before, view], ground('07:00')).text).toMatch(
      /With the other open jobs: \d\d:\d\d/u,
    );
    expect(forecastCard(view, [view], ground('07:00')).text).not.toContain('other open jobs');
  });

  it('of a job that is over, or all done, give no time', () => {
    const closed = viewOf(
      [start(), { id: 'c', at: at('08:00'), by: 'Wen', kind: 'job-cancelled', reason: 'sold' }],
      '09:00',
    );
    expect(forecastCard(closed, [], ground('09:00')).text).toBe('Job 1042, Bus 7 is cancelled.');
  });
});

it('the plan laid out has its steps one after the other, in the hours of the workshop', () => {
  const hours = workshopHours(SETTINGS);
  if (!hours) throw new Error('No hours.');
  const laid = planLaidOut(viewOf([start()], '07:00'), hours);
  const clocks = (step: string) =>
    [laid.get(step)?.from, laid.get(step)?.to].map((ms) =>
      new Date((ms ?? 0) + 2 * 3_600_000).toISOString().slice(11, 16),
    );
  expect(clocks('drain')).toEqual(['07:00', '07:30']);
  expect(clocks('clean')).toEqual(['07:30', '08:10']);
  // Ten minutes of hands and an hour to cure; half an hour more to wait; twenty minutes, ten of them after the break.
  expect(clocks('seal')).toEqual(['08:10', '09:20']);
  expect(clocks('fill')).toEqual(['09:50', '10:40']);
  expect(laid.has('retorque')).toBe(false);
});
