// What waits for long is told to the controller, once, in working time.
import { describe, expect, it } from 'vitest';
import type { Settings } from '../../../shared/settings.ts';
import { jobRecord } from '../../../src/report/job-record.ts';
import { at, deskJob, PEOPLE, texts } from '../desk-job.ts';

const SHIFTS: Settings = {
  ...PEOPLE,
  shifts: [
    {
      name: 'day',
      days: ['mon', 'tue', 'wed', 'thu', 'fri'],
      from: '06:00',
      to: '18:00',
      breaks: [{ name: 'dinner', from: '12:00', to: '12:30' }],
    },
  ],
};
const waiting = (time: string, settings: Settings = SHIFTS) => {
  const job = deskJob({ settings });
  job.say('Ada', 'waiting for the seals, asked stores', time);
  return job;
};
const nudged = (posts: Parameters<typeof texts>[0]): boolean =>
  texts(posts).some((text) => text.startsWith('Waiting for'));

describe('the nudge', () => {
  it('comes after an hour, names the controller, what, since when and who was asked, and comes once', () => {
    const job = waiting('07:00');
    expect(nudged(job.look('07:59'))).toBe(false);
    const said = texts(job.look('08:00')).join(' ');
    expect(said).toContain('the seals, asked stores (Ada, since 07:00');
    expect(said).toContain('For Robin.');
    expect(nudged(job.look('09:30'))).toBe(false);
    const record = jobRecord(job.state().view, job.state().events, {
      chainEnd: null,
      zone: 'UTC',
      now: at('10:00'),
    });
    expect(record.nudges).toMatchObject([{ at: at('08:00'), to: 'Robin' }]);
  });

  it('counts working minutes: dinner and the night are no waiting', () => {
    // 11:30 to 12:00 and 12:30 to 13:00 are 60 working minutes.
    const dinner = waiting('11:30');
    expect(nudged(dinner.look('12:59'))).toBe(false);
    expect(nudged(dinner.look('13:00'))).toBe(true);
    // 17:30 to 18:00, and the next morning until 06:30.
    const night = waiting('17:30');
    expect(nudged(night.look('18:40'))).toBe(false);
    expect(nudged(night.look('2026-03-11T06:30:00.000+00:00'))).toBe(true);
  });

  it('comes when the settings say', () => {
    const job = waiting('07:00', { ...SHIFTS, 'nudge-after-minutes': 15 });
    expect(nudged(job.look('07:14'))).toBe(false);
    expect(nudged(job.look('07:15'))).toBe(true);
  });

  it('does not come where the work went on', () => {
    const job = waiting('07:00');
    job.say('Ada', 'seals are in', '07:20');
    expect(job.state().view.blocked).toEqual([]);
    expect(nudged(job.look('08:30'))).toBe(false);
  });
});
