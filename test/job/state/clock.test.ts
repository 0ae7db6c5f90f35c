// Hours on a job from what people said, with and without a calendar.
import { describe, expect, it } from 'vitest';
import { workCalendar } from '../../../src/trade/work-calendar.ts';
import { act, planOf, says, viewOf } from '../story.ts';

const plan = planOf([{ id: 'work' }]);
const made = workCalendar({
  zone: 'Europe/Berlin',
  week: Object.fromEntries(
    (['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const).map((day) => [
      day,
      [{ name: 'day', from: '06:00', to: '14:00', breaks: [{ from: '10:00', to: '10:20' }] }],
    ]),
  ),
});
if (!made.ok) throw new Error(made.problem.what);
const calendar = made.value;
const clock = (id: string, time: string, note: 'on' | 'off', more = {}) =>
  says(id, time, 'Tom', [act('clock', undefined, { note, ...more })]);

describe('minutesBooked', () => {
  it('takes the break of the shift off: 09:00 to 11:00 less 20 minutes', () => {
    const day = [clock('m1', '09:00', 'on'), clock('m2', '11:00', 'off')];
    expect(viewOf(plan, day, { around: { calendar } }).minutesBooked).toBe(100);
    expect(viewOf(plan, day).minutesBooked).toBe(120);
  });

  it('counts who is still on until now, and nothing once the shift is over and nobody clocked off', () => {
    const day = [clock('m1', '09:00', 'on')];
    const at = (now: string): number =>
      viewOf(plan, day, { now, around: { calendar } }).minutesBooked;
    expect(at('09:45')).toBe(45);
    // The shift ended at 14:00; half an hour later nobody knows when the work stopped.
    expect(at('16:00')).toBe(0);
  });

  it('leaves out what names another job', () => {
    const day = [
      clock('m1', '09:00', 'on', { job: '9999' }),
      clock('m2', '09:30', 'off', { job: '9999' }),
    ];
    expect(viewOf(plan, day).minutesBooked).toBe(0);
    expect(viewOf(plan, day).clockings).toEqual([]);
  });

  it('goes by the time said, else by the time of posting', () => {
    const [first] = viewOf(plan, [clock('m1', '09:00', 'on', { time: '08:15' })]).clockings;
    expect(first).toMatchObject({ who: 'Tom', kind: 'on' });
    expect(first?.at.slice(11, 16)).toBe('08:15');
  });
});
