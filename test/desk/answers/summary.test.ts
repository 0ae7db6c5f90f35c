// Open jobs in one message: order, filters, hours, what is left out.
import { describe, expect, it } from 'vitest';
import type { Settings } from '../../../shared/settings.ts';
import { summaryCard } from '../../../src/desk/answers/summary.ts';
import type { JobsAsked } from '../../../src/desk/asking/asked.ts';
import type { JobView } from '../../../src/job/view.ts';
import { at, deskJob, done, PEOPLE, planFrom, wheelText } from '../desk-job.ts';

// One step with times in minutes: (60 + 4 x 90 + 120) / 6 = 90.
const timed = planFrom(
  wheelText.replace(
    'words: [chocked, chocks in]',
    'words: [chocked, chocks in]\n    time: { best: 60, likely: 90, worst: 120 }',
  ),
);
const SHIFTS: Settings = {
  ...PEOPLE,
  shifts: [{ name: 'day', days: ['mon', 'tue', 'wed', 'thu', 'fri'], from: '06:00', to: '18:00' }],
};
const { view } = deskJob({ plan: timed }).state();
const ALL: JobsAsked = { ask: 'jobs', states: [] };
const text = (
  views: readonly JobView[],
  asked: Partial<JobsAsked> = {},
  hours = true,
  now = at('07:00'),
): string => summaryCard(views, { ...ALL, ...asked }, { settings: SHIFTS, now, hours }).text;

describe('hours', () => {
  it('says that nothing is booked, and what is planned', () => {
    expect(text([view])).toContain('no hours booked of 1 h 30 min planned');
  });

  it('says the hours that are booked', () => {
    expect(text([{ ...view, minutesBooked: 75 }])).toContain(
      '1 h 15 min booked of 1 h 30 min planned',
    );
  });

  it('keeps hours from those who may not see them', () => {
    expect(text([view], {}, false)).not.toContain('booked');
  });
});

describe('one line', () => {
  it('has job, vehicle, work, phase, progress, who, ready and promised', () => {
    // 90 minutes of hands-on work from 07:00, on a day shift: ready before the promise at 16:00.
    const promised = { ...view, promised: at('16:00') };
    const line = text([promised]).split('\n')[1] ?? '';
    expect(line).toContain('1042 bus 17');
    expect(line).toContain('make safe, 0 of');
    expect(line).toMatch(/ready \d\d:\d\d, cautiously \d\d:\d\d, promised 16:00/);
    expect(line).toContain('Ada');
    expect(line).not.toContain('late');
  });

  it('calls late what is past its promise, and what will be', () => {
    expect(text([{ ...view, promised: at('06:30') }])).toContain('late: promised 06:30');
    expect(text([{ ...view, promised: at('07:15') }])).toContain('will be late: ready');
  });

  it('names what it waits for, since when and who was asked, and counts the rest', () => {
    const waits: JobView['blocked'] = [
      { message: 'a', by: 'Ada', since: at('06:10'), says: 'waiting for the seals, asked stores' },
      { message: 'b', by: 'Ada', since: at('06:20'), says: 'waiting on the jack' },
    ];
    const blocked = { ...view, blocked: waits };
    expect(text([blocked])).toContain(
      'waits for the seals, asked stores (Ada, since 06:10) and 1 more',
    );
    expect(text([blocked], { states: ['waiting'] })).toContain('the jack (Ada, since 06:20)');
  });
});

describe('order and filters', () => {
  const job = (name: string, more: Partial<JobView>): JobView => ({ ...view, job: name, ...more });
  const late = job('2', { promised: at('06:30') });
  const waiting = job('3', {
    technician: 'Mo',
    blocked: [{ message: 'a', by: 'Mo', since: at('06:10'), says: 'waiting for approval' }],
  });
  const stopped = job('4', {
    opened: { ...view.opened, vehicle: { name: 'coach 88' } },
    flags: [
      {
        rule: 'unsafe-state',
        level: 'stop',
        step: 'jack-up',
        position: null,
        part: null,
        says: 'On the jack. Job 4.',
        raisedBy: [],
      },
    ],
  });
  const views = [view, waiting, late, stopped];
  const jobsIn = (asked: Partial<JobsAsked>): readonly string[] =>
    text(views, asked)
      .split('\n')
      .flatMap((line) => /^(\d+) (?:bus|coach)/u.exec(line)?.[1] ?? []);

  it('puts the most urgent first: stop, late, waiting, the rest', () => {
    expect(jobsIn({})).toEqual(['4', '2', '3', '1042']);
    expect(text(views)).toContain('1 late, 1 with a stop open and 1 waiting for an approval.');
  });

  it.each<[string, Partial<JobsAsked>, readonly string[]]>([
    ['late', { states: ['late'] }, ['2']],
    ['waiting', { states: ['waiting'] }, ['3']],
    ['waiting for an approval', { states: ['waiting'], waitsFor: 'approval' }, ['3']],
    ['waiting for parts', { states: ['waiting'], waitsFor: 'parts' }, []],
    ['blocked', { states: ['blocked'] }, ['3']],
    ['with a stop', { states: ['stopped'] }, ['4']],
    ['of a person', { person: 'Mo' }, ['3']],
    ['on a vehicle', { vehicle: '88' }, ['4']],
    ['of a kind of work', { work: 'wheel' }, ['4', '2', '3', '1042']],
    ['of other work', { work: 'clutch' }, []],
    ['in a phase', { phase: 'refit' }, []],
  ])('%s', (_, asked, jobs) => {
    expect(jobsIn(asked)).toEqual(jobs);
  });

  it('says so where none fits', () => {
    expect(text(views, { vehicle: 'bus 9' })).toBe('Open jobs on bus 9: none of 4 open.');
    expect(text([])).toBe('No job is open.');
  });

  it('cuts a long list for a phone and counts what is left out', () => {
    const many = Array.from({ length: 21 }, (_, index) => job(`${2000 + index}`, {}));
    const card = summaryCard([...many, late], ALL, {
      settings: SHIFTS,
      now: at('07:00'),
      hours: true,
    });
    expect(jobsOf(card.text)).toHaveLength(8);
    expect(card.text).toContain('Open jobs: 22.');
    expect(card.text).toContain('and 14 more, less urgent');
    expect(card.text.length).toBeLessThan(3_000);
  });
});

const jobsOf = (said: string): readonly string[] =>
  said.split('\n').filter((line) => /^\d+ bus/u.test(line));

describe('a job with work done', () => {
  it('counts what is done', () => {
    const working = deskJob({ plan: timed });
    working.say('Ada', 'chocked', '06:30', [done('chock')]);
    expect(text([working.state().view])).toMatch(/, 1 of \d+/);
  });
});
