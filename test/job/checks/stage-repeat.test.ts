import { expect, it } from 'vitest';
import { act, done, flagsOf, overrides, planOf, says, viewOf } from '../story.ts';

const plan = planOf([
  {
    id: 'clamp',
    title: 'Tighten it',
    weight: 'safety-critical',
    report: [
      { kind: 'tightening', of: 'bolts', fasteners: 4, stages: [{ torque: 20 }, { angle: 90 }] },
    ],
  },
]);
const stage = (id: string, clock: string, n: number, more = {}, text?: string) =>
  says(
    id,
    clock,
    'Tom',
    [done('clamp', { stage: n, ...more })],
    text === undefined ? {} : { text },
  );
const first = [stage('m1', '08:00', 1), stage('m2', '08:10', 2)];

it('a stage reported twice', () => {
  const view = viewOf(plan, [first, stage('m3', '08:20', 2)]);
  expect(flagsOf(view)).toEqual(['stage-repeat|clamp||2 stop']);
  expect(view.flags[0]?.says).toBe(
    'Stage repeated: "Tighten it", stage 2. It is reported twice, at 08:10 and 08:20. Job 1042, 08:20. Take the second report back if it repeats the first; else begin at stage 1 again.',
  );
  expect(view.flags[0]?.raisedBy).toEqual(['m3']);
});

it('the same words within ten seconds are one report, later they are not', () => {
  const twice = (clock: string) =>
    viewOf(plan, [
      stage('m1', '08:00', 1, {}, 'stage 1 done'),
      stage('m2', clock, 1, {}, 'Stage 1  done'),
    ]);
  expect(flagsOf(twice('08:00:10'))).toEqual([]);
  expect(flagsOf(twice('08:00:11'))).toEqual(['stage-repeat|clamp||1 stop']);
});

it('from somebody else, or in another thread, it is a second report', () => {
  const other = (words: object, by = 'Tom') => [
    stage('m1', '08:00', 1, {}, 'stage 1 done'),
    says('m2', '08:00:05', by, [done('clamp', { stage: 1 })], { text: 'stage 1 done', ...words }),
  ];
  expect(flagsOf(viewOf(plan, other({}, 'Ana')))).toHaveLength(1);
  expect(flagsOf(viewOf(plan, other({ channel: 'slack' })))).toHaveLength(1);
});

it('said to be done again it is rework', () => {
  expect(flagsOf(viewOf(plan, [first, stage('m3', '08:20', 2, { again: true })]))).toEqual([]);
});

it('some of the bolts first and the rest later is one stage', () => {
  const part = says('m1', '08:00', 'Tom', [
    act('partial', 'clamp', { stage: 1, count: { done: 2, of: 4 } }),
  ]);
  expect(flagsOf(viewOf(plan, [part, stage('m2', '08:05', 1)]))).toEqual([]);
});

it('begun again at stage 1 it is settled; taken back it is gone; overridden it lets be', () => {
  const repeated = [first, stage('m3', '08:20', 2)];
  expect(flagsOf(viewOf(plan, [repeated, stage('m4', '08:30', 1, { again: true })]))).toEqual([
    'stage-repeat|clamp||2 settled',
  ]);
  expect(
    flagsOf(
      viewOf(plan, [
        repeated,
        {
          id: 'd',
          at: '2026-05-12T08:25:00+02:00',
          by: 'Tom',
          kind: 'message-deleted',
          message: 'm3',
        },
      ]),
    ),
  ).toEqual([]);
  expect(flagsOf(viewOf(plan, [repeated, overrides('stage-repeat|clamp||2', '08:21')]))).toEqual([
    'stage-repeat|clamp||2 overridden',
  ]);
});
