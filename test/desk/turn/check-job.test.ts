// What the check remembers of its last results never shows: another time, event or surrounding gives its own view.
import { expect, it } from 'vitest';
import { checkJob } from '../../../src/desk/turn/check-job.ts';
import { check } from '../../../src/job/check.ts';
import { deskJob, wheelPlan } from '../desk-job.ts';

it('gives the same view for the same, and what a fresh check gives for anything else', () => {
  const job = deskJob();
  job.say('Ada', 'chocked, parking brake on', '2026-03-10T09:00:00.000Z');
  job.say('Ada', 'wheel nuts off', '2026-03-10T09:10:00.000Z');
  const { events } = job.state();
  const now = '2026-03-10T09:20:00.000Z';
  const around = {};
  const first = checkJob(wheelPlan, events, now, around);
  expect(checkJob(wheelPlan, [...events], now, around)).toBe(first);
  const fewer = events.slice(0, -1);
  const other = events.with(-1, { ...(events.at(-1) ?? events[0]), id: 'other' } as never);
  for (const [list, at] of [
    [events, '2026-03-10T19:20:00.000Z'],
    [fewer, now],
    [other, now],
    [events, now],
  ] as const) {
    // Functions of the plan are the same object in both, so the whole views may be compared.
    expect(checkJob(wheelPlan, list, at, around)).toEqual(check(wheelPlan, list, at, around));
  }
  expect(checkJob(wheelPlan, events, now, { calendar: undefined } as never)).not.toBe(first);
});
