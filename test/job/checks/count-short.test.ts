import { expect, it } from 'vitest';
import type { Act } from '../../../shared/reading.ts';
import {
  act,
  answers,
  cyl,
  done,
  flagsOf,
  opened,
  overrides,
  planOf,
  SIX,
  says,
  stateOf,
  viewOf,
} from '../story.ts';

const plan = planOf([
  { id: 'take-off', report: [{ kind: 'off', part: 'clips', count: 6 }] },
  {
    id: 'put-on',
    title: 'Refit the clips',
    weight: 'damage-critical',
    report: [{ kind: 'on', part: 'clips', count: 6 }],
  },
]);
const count = (value: number, of?: number): Partial<Act> => ({
  count: { done: value, ...(of !== undefined && { of }) },
});
const off = (value: number, of?: number) =>
  says('m1', '08:00', 'Tom', [done('take-off', count(value, of))]);
const on = (
  id: string,
  clock: string,
  value: number,
  of?: number,
  kind: 'done' | 'partial' = 'done',
) => says(id, clock, 'Tom', [act(kind, 'put-on', count(value, of))]);

it('as many back on as came off', () => {
  const view = viewOf(plan, [off(6), on('m2', '09:00', 6, 6)]);
  expect(flagsOf(view)).toEqual([]);
  expect(stateOf(view, 'put-on')).toBe('done');
});

it('one is left over', () => {
  const view = viewOf(plan, [off(6), on('m2', '09:00', 5, 6)]);
  expect(flagsOf(view)).toEqual(['count-short|put-on||clips caution']);
  expect(view.flags[0]?.says).toBe(
    'Count short: "Refit the clips". 5 clips back on, 6 came off. Job 1042, 09:00. Find and fit the 1 left, and report the full count.',
  );
  expect(stateOf(view, 'put-on')).toBe('partial');
});

it('said as a part of it, it is short all the same until the rest is on', () => {
  expect(flagsOf(viewOf(plan, [off(6), on('m2', '09:00', 4, 6, 'partial')]))).toEqual([
    'count-short|put-on||clips caution',
  ]);
  const view = viewOf(plan, [off(6), on('m2', '09:00', 4, 6, 'partial'), on('m3', '09:10', 6, 6)]);
  expect(flagsOf(view)).toEqual(['count-short|put-on||clips withdrawn']);
  expect(view.flags[0]?.clearedBy).toEqual(['m3']);
});

it('bare counts add up, and beyond the whole they repeat', () => {
  const view = viewOf(plan, [off(6), on('m2', '09:00', 4), on('m3', '09:10', 2)]);
  expect(stateOf(view, 'put-on')).toBe('done');
  expect(flagsOf(viewOf(plan, [off(6), on('m2', '09:00', 5), on('m3', '09:10', 5)]))).toEqual([
    'count-short|put-on||clips caution',
  ]);
});

it('what came off counts, not what the plan expected: one was missing already', () => {
  expect(flagsOf(viewOf(plan, [off(5), on('m2', '09:00', 5, 5)]))).toEqual([]);
  expect(flagsOf(viewOf(plan, [off(7, 7), on('m2', '09:00', 6, 6)]))).toHaveLength(1);
});

it('"5 of 6 off" leaves one on, so the step is not done', () => {
  expect(stateOf(viewOf(plan, [off(5, 6)]), 'take-off')).toBe('partial');
});

it('done without a count is partly done, with one question', () => {
  const events = [says('m1', '08:00', 'Tom', [done('take-off')])];
  const view = viewOf(plan, events);
  expect(stateOf(view, 'take-off')).toBe('partial');
  expect(view.wants).toMatchObject([
    { about: 'figure', question: 'm1:figure:take-off', choices: [{ says: 'All 6' }] },
  ]);
  expect(stateOf(viewOf(plan, [events, answers(view, 'figure', 0, '08:01')]), 'take-off')).toBe(
    'done',
  );
});

it('an override lets it be', () => {
  expect(
    flagsOf(
      viewOf(plan, [
        off(6),
        on('m2', '09:00', 5, 6),
        overrides('count-short|put-on||clips', '09:05'),
      ]),
    ),
  ).toEqual(['count-short|put-on||clips overridden']);
});

it('at positions each place by itself', () => {
  const each = planOf(
    [
      { id: 'off', each: 'cylinders', report: [{ kind: 'off', part: 'bolts', count: 4 }] },
      { id: 'on', each: 'cylinders', report: [{ kind: 'on', part: 'bolts', count: 4 }] },
    ],
    { positions: SIX },
  );
  const view = viewOf(each, [
    opened({ positions: cyl(1, 2) }),
    says('m1', '08:00', 'Tom', [done('off', count(4), cyl(1, 2))]),
    says('m2', '09:00', 'Tom', [done('on', count(4), cyl(1)), done('on', count(3, 4), cyl(2))]),
  ]);
  expect(flagsOf(view)).toEqual(['count-short|on|cylinder 2|bolts advice']);
});

it('taken off in one step and put back at each position, the sums are compared', () => {
  const mixed = planOf(
    [
      { id: 'off', report: [{ kind: 'off', part: 'bolts', count: 4 }] },
      { id: 'on', each: 'cylinders', report: [{ kind: 'on', part: 'bolts', count: 2 }] },
    ],
    { positions: SIX },
  );
  const story = (came: number) => [
    opened({ positions: cyl(1, 2) }),
    says('m1', '08:00', 'Tom', [done('off', count(came))]),
    says('m2', '09:00', 'Tom', [done('on', count(2), cyl(1, 2))]),
  ];
  expect(flagsOf(viewOf(mixed, story(4)))).toEqual([]);
  expect(flagsOf(viewOf(mixed, story(5)))).toEqual(['count-short|on||bolts advice']);
});
