import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../../shared/event.ts';
import { at, done, flagsOf, only, opened, overrides, planOf, says, viewOf } from '../story.ts';

const plan = planOf([
  { id: 'nuts', title: 'Tighten the nuts' },
  {
    id: 'again',
    title: 'Tighten them again',
    weight: 'safety-critical',
    within: { after: 'nuts', minutes: 30, because: 'they settle' },
  },
]);
const nuts = says('m1', '08:00', 'Tom', [done('nuts')]);
const again = (clock: string) => says('m2', clock, 'Tom', [done('again')]);

describe('by time', () => {
  it('not before the time is over', () => {
    expect(flagsOf(viewOf(plan, [nuts], { now: '08:30' }))).toEqual([]);
    expect(flagsOf(viewOf(plan, [nuts], { now: '08:30:01' }))).toEqual(['overdue|again|| stop']);
  });
  it('not while the step it follows has no record', () => {
    expect(flagsOf(viewOf(plan, [], { now: '18:00' }))).toEqual([]);
  });
  it('says what was due until when, and why', () => {
    expect(viewOf(plan, [nuts], { now: '09:00' }).flags[0]?.says).toBe(
      'Overdue: "Tighten them again". It was due within 30 min, until 08:30 after "Tighten the nuts": they settle. Job 1042, 08:00. Do it now and report it, or have the vehicle brought in.',
    );
  });
  it('done in time nothing is said, done late it is settled', () => {
    expect(flagsOf(viewOf(plan, [nuts, again('08:30')]))).toEqual([]);
    expect(flagsOf(viewOf(plan, [nuts, again('08:31')]))).toEqual(['overdue|again|| settled']);
  });
  it('an override after it was due lets it be', () => {
    expect(
      flagsOf(viewOf(plan, [nuts, overrides('overdue|again||', '08:40')], { now: '09:00' })),
    ).toEqual(['overdue|again|| overridden']);
    expect(
      flagsOf(viewOf(plan, [nuts, overrides('overdue|again||', '08:10')], { now: '09:00' })),
    ).toEqual(['overdue|again|| stop']);
  });
});

describe('by distance, after the vehicle has left', () => {
  const far = planOf([
    { id: 'nuts' },
    {
      id: 'again',
      weight: 'safety-critical',
      within: { after: 'nuts', km: { min: 40, max: 80 }, because: 'they settle' },
    },
  ]);
  const closed: JobEvent = {
    id: 'c',
    at: at('12:00'),
    by: 'Sam',
    kind: 'job-closed',
    reading: { value: 100_000, unit: 'km' },
  };
  const left = [opened(), nuts, closed];
  const reading = (value: number, unit: 'km' | 'mi' = 'km') => ({
    around: { reading: { value, unit } },
  });
  it('remembered after closing, and overdue beyond the distance', () => {
    expect(viewOf(far, left).closeNeeds).toEqual([]);
    expect(flagsOf(viewOf(far, left, reading(100_080)))).toEqual([]);
    expect(only(viewOf(far, left, reading(100_081)), 'overdue')).toEqual(['overdue|again|| stop']);
  });
  it('a meter in miles: 100,000 km are 62,137.1 mi, 51 mi on are 82 km', () => {
    expect(flagsOf(viewOf(far, left, reading(62_137.1 + 49, 'mi')))).toEqual([]);
    expect(only(viewOf(far, left, reading(62_137.1 + 51, 'mi')), 'overdue')).toHaveLength(1);
  });
  it('nothing is known of the distance: nothing is said', () => {
    expect(flagsOf(viewOf(far, left))).toEqual([]);
  });
  const doneAfter = (value: number) =>
    says('m2', '17:00', 'Tom', [done('again', { quantity: { value, unit: 'km' } })]);
  it.each([
    [39, 'too-soon|again|| stop'],
    [81, 'overdue|again|| settled'],
  ])('done after %s km', (value, flag) => {
    expect(flagsOf(viewOf(far, [opened(), nuts, doneAfter(value)]))).toEqual([flag]);
  });
  it('done between is in order', () => {
    expect(flagsOf(viewOf(far, [opened(), nuts, doneAfter(40)]))).toEqual([]);
    expect(flagsOf(viewOf(far, [opened(), nuts, doneAfter(80)]))).toEqual([]);
  });
});
