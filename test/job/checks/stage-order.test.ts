import { expect, it } from 'vitest';
import {
  answers,
  at,
  done,
  flagsOf,
  newtonMetres,
  only,
  overrides,
  planOf,
  says,
  stateOf,
  viewOf,
} from '../story.ts';

const plan = planOf([
  {
    id: 'clamp',
    weight: 'safety-critical',
    report: [
      { kind: 'tightening', of: 'bolts', stages: [{ torque: 20 }, { torque: 45 }, { angle: 90 }] },
    ],
  },
  {
    id: 'hose',
    report: [{ kind: 'tightening', of: 'clips', stages: [{ torque: 4 }, { torque: 6 }] }],
  },
]);
const stage = (n: number, clock: string, more = {}) =>
  says(`m${n}@${clock}`, clock, 'Tom', [done('clamp', { stage: n, ...more })]);

it('in order nothing is said, and the step is done with its last stage', () => {
  const two = [stage(1, '08:00'), stage(2, '08:10')];
  expect(stateOf(viewOf(plan, two), 'clamp')).toBe('partial');
  const view = viewOf(plan, [two, stage(3, '08:20')]);
  expect(flagsOf(view)).toEqual([]);
  expect(view.steps[0]).toMatchObject({ state: 'done', at: at('08:20'), stages: [1, 2, 3] });
});

it('all stages in one message, in whatever order they are named', () => {
  const acts = [3, 1, 2].map((n) => done('clamp', { stage: n }));
  expect(flagsOf(viewOf(plan, [says('m1', '08:00', 'Tom', acts)]))).toEqual([]);
});

it('a stage before the one below it: the stage reported is the part', () => {
  const view = viewOf(plan, [stage(1, '08:00'), stage(3, '08:10')]);
  expect(flagsOf(view)).toEqual(['stage-order|clamp||3 stop']);
  expect(view.flags[0]?.says).toBe(
    'Stage out of order: "clamp", stage 3. It is reported, and stage 2 has no record before it. It matters. Job 1042, 08:10. Report stage 2 with its time, or slacken off and begin at stage 1.',
  );
  expect(stateOf(view, 'clamp')).toBe('partial');
});

it('only the one directly below counts', () => {
  expect(only(viewOf(plan, [stage(2, '08:00'), stage(3, '08:10')]), 'stage-order')).toEqual([
    'stage-order|clamp||2 stop',
  ]);
});

it('some of the bolts of the stage below are not that stage', () => {
  const view = viewOf(plan, [stage(1, '08:00', { count: { done: 3, of: 4 } }), stage(2, '08:10')]);
  expect(flagsOf(view)).toEqual(['stage-order|clamp||2 stop']);
});

it('told later with an earlier time it is withdrawn', () => {
  const view = viewOf(plan, [
    stage(1, '08:00'),
    stage(3, '08:10'),
    stage(2, '08:20', { time: at('08:05') }),
  ]);
  expect(flagsOf(view)).toEqual(['stage-order|clamp||3 withdrawn']);
});

it('told later without a time it brings one question, and the answer settles it', () => {
  const events = [stage(1, '08:00'), stage(3, '08:10'), stage(2, '08:20')];
  const view = viewOf(plan, events);
  expect(flagsOf(view)).toEqual(['stage-order|clamp||3 stop']);
  expect(view.wants).toMatchObject([
    { about: 'before-or-after', question: 'm2@08:20:before-or-after:clamp:stage 2' },
  ]);
  expect(flagsOf(viewOf(plan, [events, answers(view, 'before-or-after', 0, '08:21')]))).toEqual([
    'stage-order|clamp||3 withdrawn',
  ]);
  const after = [events, answers(view, 'before-or-after', 1, '08:21')];
  expect(flagsOf(viewOf(plan, after))).toEqual(['stage-order|clamp||3 stop']);
  expect(flagsOf(viewOf(plan, [after, overrides('stage-order|clamp||3', '08:30')]))).toEqual([
    'stage-order|clamp||3 settled',
  ]);
});

it('begun again at stage 1 it is settled', () => {
  const view = viewOf(plan, [
    stage(1, '08:00'),
    stage(3, '08:10'),
    stage(1, '08:30', { again: true }),
    stage(2, '08:40'),
  ]);
  expect(flagsOf(view)).toEqual(['stage-order|clamp||3 settled']);
  expect(view.steps[0]?.stages).toEqual([1, 2]);
});

it('a figure without its stage belongs to the stage it fits', () => {
  const view = viewOf(plan, [
    says('m1', '08:00', 'Tom', [done('clamp', { quantity: newtonMetres(45) })]),
  ]);
  expect(flagsOf(view)).toEqual(['stage-order|clamp||2 stop']);
  expect(view.steps[0]).toMatchObject({ stages: [2], assumed: ['stage: 2, from the figure'] });
});

it('45 N·m and then 90° are two stages', () => {
  const view = viewOf(plan, [
    stage(1, '08:00'),
    says('m2', '08:10', 'Tom', [
      done('clamp', { quantity: newtonMetres(45), angle: { value: 90, unit: 'deg' } }),
    ]),
  ]);
  expect(flagsOf(view)).toEqual([]);
  expect(stateOf(view, 'clamp')).toBe('done');
});

it('"all done" with stages unreported is partly done, with one question that names them', () => {
  const events = [stage(1, '08:00'), says('m2', '08:10', 'Tom', [done('clamp')])];
  const view = viewOf(plan, events);
  expect(stateOf(view, 'clamp')).toBe('partial');
  expect(view.wants).toMatchObject([
    { about: 'figure', asks: '"clamp" still needs stage 2 of the bolts and stage 3 of the bolts.' },
  ]);
  const answered = viewOf(plan, [events, answers(view, 'figure', 0, '08:11')]);
  expect(stateOf(answered, 'clamp')).toBe('done');
  expect(flagsOf(answered)).toEqual([]);
});

it('a routine step told afterwards is only a remark', () => {
  const hose = (n: number, clock: string, more = {}) =>
    says(`h${n}`, clock, 'Tom', [done('hose', { stage: n, ...more })]);
  expect(flagsOf(viewOf(plan, [hose(2, '08:00')]))).toEqual(['stage-order|hose||2 advice']);
  expect(
    flagsOf(viewOf(plan, [hose(2, '08:00'), hose(1, '08:10', { time: at('08:05') })])),
  ).toEqual(['stage-order|hose||2 withdrawn']);
});
