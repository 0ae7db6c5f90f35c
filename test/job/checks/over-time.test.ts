import { describe, expect, it } from 'vitest';
import { act, flagsOf, planOf, says, viewOf } from '../story.ts';

const plan = planOf([
  { id: 'work', time: { best: 10, likely: 20, worst: 40 } },
  { id: 'more', time: { best: 5, likely: 10, worst: 20 } },
]);

describe('over-time', () => {
  const clock = (id: string, time: string, note: 'on' | 'off', by = 'Tom') =>
    says(id, time, by, [act('clock', undefined, { note })]);
  it('more booked than all steps take at their worst: 40 and 20 minutes', () => {
    expect(
      flagsOf(viewOf(plan, [clock('m1', '08:00', 'on'), clock('m2', '09:00', 'off')])),
    ).toEqual([]);
    const view = viewOf(plan, [clock('m1', '08:00', 'on'), clock('m2', '09:01', 'off')]);
    expect(flagsOf(view)).toEqual(['over-time||| advice']);
    expect(view.flags[0]?.says).toContain('61 min booked, at most 60 min planned');
  });
  it('two people book twice, and whoever is still on books until now', () => {
    const view = viewOf(
      plan,
      [clock('m1', '08:00', 'on'), clock('m2', '08:10', 'on', 'Ana'), clock('m3', '08:30', 'off')],
      { now: '08:40' },
    );
    expect(view.minutesBooked).toBe(60);
  });
  it('a time booked as such counts as it stands', () => {
    const view = viewOf(plan, [
      says('m1', '08:00', 'Tom', [
        act('clock', undefined, { quantity: { value: 1.5, unit: 'h' } }),
      ]),
    ]);
    expect(view.minutesBooked).toBe(90);
  });
});
