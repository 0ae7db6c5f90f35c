import { expect, it } from 'vitest';
import { done, flagsOf, overrides, planOf, says, started, stateOf, viewOf } from '../story.ts';

const plan = planOf([
  { id: 'torque' },
  { id: 'lock' },
  { id: 'second-check', check: ['torque', 'lock'] },
]);
const work = [
  says('m1', '08:00', 'Tom', [done('torque')]),
  says('m2', '08:05', 'Ana', [done('lock')]),
];
const checked = (by: string, more = {}) => says('m3', '08:10', by, [done('second-check', more)]);

it.each(['Tom', 'Ana'])('%s did some of the work, so the check is refused', (by) => {
  const view = viewOf(plan, [work, checked(by)]);
  expect(flagsOf(view)).toEqual(['same-hands|second-check|| stop']);
  expect(stateOf(view, 'second-check')).toBe('partial');
  expect(view.flags[0]?.says).not.toContain(by);
});

it('somebody else checks it', () => {
  const view = viewOf(plan, [work, checked('Kim')]);
  expect(flagsOf(view)).toEqual([]);
  expect(stateOf(view, 'second-check')).toBe('done');
});

it('whoever began the work, or only reported it for another, is on it too', () => {
  const begun = [says('m0', '07:50', 'Kim', [started('torque')]), work, checked('Kim')];
  expect(flagsOf(viewOf(plan, begun))).toEqual(['same-hands|second-check|| stop']);
  const reported = [
    work,
    says('m2b', '08:06', 'Kim', [done('lock', { by: 'Lee' })]),
    checked('Kim'),
  ];
  expect(flagsOf(viewOf(plan, reported))).toEqual(['same-hands|second-check|| stop']);
  expect(
    flagsOf(
      viewOf(plan, [
        work,
        says('m2b', '08:06', 'Kim', [done('lock', { by: 'Lee' })]),
        checked('Lee'),
      ]),
    ),
  ).toEqual(['same-hands|second-check|| stop']);
});

it('a check by other hands later withdraws it', () => {
  const view = viewOf(plan, [
    work,
    checked('Tom'),
    says('m4', '08:20', 'Kim', [done('second-check')]),
  ]);
  expect(flagsOf(view)).toEqual(['same-hands|second-check|| withdrawn']);
  expect(stateOf(view, 'second-check')).toBe('done');
});

it('an override with a reason lets it stand as done, shown on the record', () => {
  const view = viewOf(plan, [
    work,
    checked('Tom'),
    overrides('same-hands|second-check||', '08:15'),
  ]);
  expect(flagsOf(view)).toEqual(['same-hands|second-check|| overridden']);
  expect(stateOf(view, 'second-check')).toBe('done');
});

it('an override given before the check does not cover it', () => {
  const view = viewOf(plan, [
    work,
    overrides('same-hands|second-check||', '08:09'),
    checked('Tom'),
  ]);
  expect(flagsOf(view)).toEqual(['same-hands|second-check|| stop']);
});

it('reported by somebody new, but done by one of those who did the work', () => {
  const view = viewOf(plan, [work, checked('Pat', { by: 'Tom' })]);
  expect(flagsOf(view)).toEqual(['same-hands|second-check|| stop']);
});

it("another's check needs that person's own word", () => {
  const view = viewOf(plan, [work, checked('Pat', { by: 'Kim' })]);
  expect(flagsOf(view)).toEqual([]);
  expect(stateOf(view, 'second-check')).toBe('partial');
});
