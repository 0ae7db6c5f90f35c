// What was done on a vehicle before, and how a week went.
import { describe, expect, it } from 'vitest';
import { foundBy, historyCard, type PastJob } from '../../../src/desk/answers/history.ts';
import { weekCard } from '../../../src/desk/answers/week.ts';
import { spanOf } from '../../../src/desk/asking/span.ts';
import type { JobView } from '../../../src/job/view.ts';
import { at, deskJob, done, planFrom } from '../desk-job.ts';
import { sampleView } from '../figures/sample-view.ts';

const pump = (job: string, closedAt: string, more: Partial<JobView> = {}): PastJob => ({
  view: sampleView('coolant-pump', { job, status: 'closed', ...more }),
  closedAt,
});
const found: JobView['findings'] = [
  {
    message: 'm1',
    by: 'Nell',
    at: at('08:00'),
    says: 'weeping at the top hose.',
    state: 'approved',
  },
];
const last = pump('990', '2026-02-12T15:00:00Z', { findings: found });
const older = pump('950', '2025-06-01T15:00:00Z');
const hub: PastJob = {
  view: sampleView('hub-bearing', { job: '980', status: 'closed' }),
  closedAt: '2026-01-12T15:00:00Z',
};

describe('historyCard', () => {
  it('names the last job that did the work, when, and what it found', () => {
    const { text } = historyCard(
      { vehicle: 'bus 17', work: 'pump', lastOnly: true },
      [last, hub, older],
      [],
      3,
      'UTC',
    );
    expect(text).toContain('Job 990, Renew the coolant pump');
    expect(text).toContain('closed Thu 12 Feb 2026 by Nell');
    expect(text).toContain('found: weeping at the top hose (approved)');
    expect(text).not.toContain('980');
    expect(text).toContain('1 before it: ask "history of Bus 17".');
  });

  it('lists all, newest first, with what is open now', () => {
    const open = [sampleView('coolant-pump')];
    const { text } = historyCard(
      { vehicle: 'bus 17', lastOnly: false },
      [last, hub, older],
      open,
      3,
      'UTC',
    );
    expect(text.indexOf('990')).toBeLessThan(text.indexOf('980'));
    expect(text).toContain('Open now: job 1042');
  });

  it('says that the work was never done, and what was', () => {
    const { text } = historyCard(
      { vehicle: 'bus 17', work: 'clutch', lastOnly: true },
      [hub],
      [],
      1,
      'UTC',
    );
    expect(text).toContain('No closed job on Bus 17 did "clutch" is on record.');
    expect(text).toContain('Other work on it: Renew a wheel-end hub bearing');
  });

  it('finds a step that was done in a job for other work', () => {
    const job = deskJob({ plan: planFrom(readPump) });
    job.say('Ada', 'cowl off', '08:00', [done('remove-fan-cowl')]);
    const past = {
      view: { ...job.state().view, status: 'closed' as const },
      closedAt: at('12:00'),
    };
    const { text } = historyCard(
      { vehicle: 'bus 17', work: 'fan cowl', lastOnly: true },
      [past],
      [],
      1,
      'UTC',
    );
    expect(text).toContain('Job 1042');
  });
});

const readPump = sampleView('coolant-pump').plan.text;

describe('weekCard', () => {
  // Monday 9 to Sunday 15 March 2026.
  const span = spanOf('this-week', Date.parse('2026-03-12T12:00:00Z'), 'UTC');
  const ground = { zone: 'UTC', now: '2026-03-16T07:00:00Z', hours: true, span };
  const opened = (iso: string): Pick<JobView, 'opened'> => ({
    opened: { ...sampleView('coolant-pump').opened, at: iso },
  });

  it('counts opened, closed and late, and names what was closed', () => {
    const kept = pump('1', '2026-03-10T15:00:00Z', {
      ...opened('2026-03-09T07:00:00Z'),
      promised: '2026-03-10T16:00:00Z',
      minutesBooked: 90,
    });
    const broken = pump('2', '2026-03-11T15:00:00Z', {
      ...opened('2026-03-02T07:00:00Z'),
      promised: '2026-03-10T16:00:00Z',
    });
    const after = pump('3', '2026-03-16T06:00:00Z', opened('2026-03-02T07:00:00Z'));
    const card = weekCard([], [after, broken, kept], ground);
    expect(card?.text).toContain('Week of Mon 9 Mar 2026 to Sun 15 Mar 2026.');
    expect(card?.text).toContain('1 opened, 2 closed, 1 of them after the promise, 0 open now.');
    expect(card?.text).toContain(
      '1 Bus 17, Renew the coolant pump · closed Tue 15:00 · promise kept',
    );
    expect(card?.text).toContain('promised Tue 16:00');
    expect(card?.text).toContain('1 h 30 min booked');
    expect(card?.text).not.toContain('3 Bus 17');
    expect(weekCard([], [kept], { ...ground, hours: false })?.text).not.toContain('booked');
  });

  it('is silent where nothing happened', () => {
    expect(weekCard([], [], ground)).toBeUndefined();
    expect(
      weekCard([], [pump('1', '2026-03-01T15:00:00Z', opened('2026-02-20T07:00:00Z'))], ground),
    ).toBeUndefined();
  });
});

describe('foundBy', () => {
  it('tells what was decided', () => {
    expect(foundBy({ findings: found })).toEqual(['weeping at the top hose (approved)']);
  });
});
