import { expect, it } from 'vitest';
import type { JobEvent } from '../../../shared/event.ts';
import {
  act,
  at,
  cyl,
  done,
  edits,
  flagsOf,
  opened,
  planOf,
  SIX,
  says,
  stateOf,
  viewOf,
} from '../story.ts';

const plan = planOf(
  [{ id: 'pull', each: 'cylinders', weight: 'damage-critical' }, { id: 'cover' }],
  { positions: SIX },
);
const on = opened({ positions: cyl(2, 3) });

it.each([
  ['a position of the plan that is not on the job', cyl(5)],
  ['a position the plan does not have', ['cylinder 8']],
])('%s', (_, positions) => {
  const view = viewOf(plan, [on, says('m1', '08:00', 'Tom', [done('pull', {}, positions)])]);
  expect(flagsOf(view)).toEqual([`wrong-position|pull|${positions[0]}| caution`]);
  expect(view.flags[0]?.says).toContain('The job has cylinder 2 and cylinder 3.');
  expect(view.steps.filter(({ state }) => state !== 'open')).toEqual([]);
});

it('the positions that are on the job count all the same', () => {
  const view = viewOf(plan, [on, says('m1', '08:00', 'Tom', [done('pull', {}, cyl(2, 5))])]);
  expect(flagsOf(view)).toEqual(['wrong-position|pull|cylinder 5| caution']);
  expect(stateOf(view, 'pull', 'cylinder 2')).toBe('done');
});

it('each wrong position is a flag of its own, and said twice it is still one', () => {
  const view = viewOf(plan, [
    on,
    says('m1', '08:00', 'Tom', [done('pull', {}, cyl(5, 6))]),
    says('m2', '08:10', 'Tom', [done('pull', {}, cyl(5))]),
  ]);
  expect(flagsOf(view)).toEqual([
    'wrong-position|pull|cylinder 5| caution',
    'wrong-position|pull|cylinder 6| caution',
  ]);
});

it('a job that names no positions has all of the plan', () => {
  expect(flagsOf(viewOf(plan, [says('m1', '08:00', 'Tom', [done('pull', {}, cyl(5))])]))).toEqual(
    [],
  );
});

it('a set of which the job names none has all of them', () => {
  const two = planOf(
    [
      { id: 'stud', each: 'studs' },
      { id: 'pull', each: 'cylinders' },
    ],
    { positions: { ...SIX, studs: { names: ['stud 1', 'stud 2'] } } },
  );
  expect(viewOf(two, [on]).positions.get('studs')).toEqual(['stud 1', 'stud 2']);
});

it('words about a position that claim no work raise nothing', () => {
  const view = viewOf(plan, [
    on,
    says('m1', '08:00', 'Tom', [
      act('intends', 'pull', {}, cyl(5)),
      act('finding', 'pull', {}, cyl(5)),
    ]),
  ]);
  expect(flagsOf(view)).toEqual([]);
});

it('an edit of the position takes it away', () => {
  const view = viewOf(plan, [
    on,
    says('m1', '08:00', 'Tom', [done('pull', {}, cyl(5))]),
    edits('m1', '08:05', [done('pull', {}, cyl(3))]),
  ]);
  expect(flagsOf(view)).toEqual([]);
  expect(stateOf(view, 'pull', 'cylinder 3')).toBe('done');
});

it('once the controller approves the finding the report counts', () => {
  const approved: JobEvent = {
    id: 'settled',
    at: at('08:10'),
    by: 'Sam',
    kind: 'finding-settled',
    message: 'm0',
    settled: 'approved',
    positions: cyl(5),
    options: [],
  };
  const view = viewOf(plan, [on, says('m1', '08:00', 'Tom', [done('pull', {}, cyl(5))]), approved]);
  expect(flagsOf(view)).toEqual([]);
  expect(view.positions.get('cylinders')).toEqual(cyl(2, 3, 5));
  expect(stateOf(view, 'pull', 'cylinder 5')).toBe('done');
});
