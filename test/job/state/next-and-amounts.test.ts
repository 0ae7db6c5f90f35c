// What the vehicle state keeps from coming next, volumes said of several positions, and counts told twice.
import { expect, it } from 'vitest';
import { done, litres, planOf, says, viewOf } from '../story.ts';

it('a step that the vehicle state forbids does not come next until the state is over', () => {
  const plan = planOf(
    [
      { id: 'drain', opens: ['empty'] },
      { id: 'start', 'not-while': ['empty'] },
      { id: 'crank', is: 'engine-start' },
      { id: 'fill', closes: ['empty'], after: ['drain'] },
    ],
    { states: { empty: { title: 'coolant out', forbids: ['engine-start'] } } },
  );
  const next = (story: Parameters<typeof viewOf>[1]) =>
    viewOf(plan, story)
      .next.map(({ step }) => step)
      .sort();
  const drained = says('m1', '08:00', 'Tom', [done('drain')]);
  expect(next([])).toEqual(['crank', 'drain', 'start']);
  expect(next(drained)).toEqual(['fill']);
  expect(next([...drained, ...says('m2', '08:30', 'Tom', [done('fill')])])).toEqual([
    'crank',
    'start',
  ]);
});

it('a volume said for two positions is one of each', () => {
  const plan = planOf(
    [{ id: 'drain', each: 'hubs', report: [{ kind: 'drained', fluid: 'oil' }] }],
    { positions: { hubs: { names: ['left', 'right'] } }, fluids: { oil: { title: 'hub oil' } } },
  );
  const drained = done('drain', { quantity: litres(0.4) }, ['left', 'right']);
  // 2 x 0.4 L.
  expect(viewOf(plan, says('m1', '08:00', 'Tom', [drained])).fluids).toEqual([
    { fluid: 'oil', drained: 0.8, filled: 0, unaccounted: 0.8, unit: 'L' },
  ]);
});

it('"2 of 6" and then "4 of 6" is how far it has come, not a sum', () => {
  const plan = planOf([
    { id: 'unclip', report: [{ kind: 'off', part: 'clips', count: 6 }] },
    { id: 'clip', report: [{ kind: 'on', part: 'clips', count: 6 }], after: ['unclip'] },
  ]);
  const [, clip] = viewOf(plan, [
    ...says('m1', '08:00', 'Tom', [done('unclip', { count: { done: 6, of: 6 } })]),
    ...says('m2', '08:10', 'Tom', [done('clip', { count: { done: 2, of: 6 } })]),
    ...says('m3', '08:20', 'Tom', [done('clip', { count: { done: 4, of: 6 } })]),
  ]).steps;
  expect(clip?.state).toBe('partial');
  expect(clip?.missing).toEqual(['2 of 6 clips']);
});
