import { expect, it } from 'vitest';
import { act, done, flagsOf, planOf, says, stateOf, viewOf } from '../story.ts';

const ask = (which: 'before' | 'cleared' | 'none-active') => [
  { kind: 'trouble-codes' as const, ask: which },
];
const plan = planOf([
  { id: 'read', report: ask('before') },
  { id: 'clear', report: ask('cleared') },
  {
    id: 'read-again',
    title: 'Read them again',
    weight: 'damage-critical',
    report: ask('none-active'),
  },
]);
const before = says('m1', '08:00', 'Tom', [
  done('read', { code: 'SPN 653 FMI 5' }),
  done('read', { code: 'P0203' }),
]);
const cleared = says('m2', '10:00', 'Tom', [done('clear')]);
const after = (id: string, clock: string, ...codes: string[]) =>
  says(
    id,
    clock,
    'Tom',
    codes.length === 0 ? [done('read-again')] : codes.map((code) => done('read-again', { code })),
  );

it('none active is in order', () => {
  const view = viewOf(plan, [before, cleared, after('m3', '11:00')]);
  expect(flagsOf(view)).toEqual([]);
  expect(stateOf(view, 'read-again')).toBe('done');
});

it.each([
  ['653/5', 'SPN 653 FMI 5', 'back'],
  ['p0203-00', 'P0203-00', 'back'],
  ['653/4', 'SPN 653 FMI 4', 'new'],
  ['P0204', 'P0204', 'new'],
])('%s after the run is %s, %s', (typed, part, how) => {
  const view = viewOf(plan, [before, cleared, after('m3', '11:00', typed)]);
  expect(flagsOf(view)).toEqual([`trouble-code-back|read-again||${part} caution`]);
  expect(view.flags[0]?.says).toContain(
    `Trouble code ${how}: "Read them again". ${part} is reported`,
  );
});

it('each code is a flag of its own', () => {
  expect(
    flagsOf(viewOf(plan, [before, cleared, after('m3', '11:00', '653/5', 'P0203')])),
  ).toHaveLength(2);
});

it('a later reading without codes settles it', () => {
  const view = viewOf(plan, [before, cleared, after('m3', '11:00', '653/5'), after('m4', '12:00')]);
  expect(flagsOf(view)).toEqual(['trouble-code-back|read-again||SPN 653 FMI 5 settled']);
  expect(view.flags[0]?.clearedBy).toEqual(['m4']);
});

it('a code named at the first reading after the clearing has come back too', () => {
  const view = viewOf(plan, [
    before,
    cleared,
    says('m3', '11:00', 'Tom', [done('read', { code: '653/5' })]),
  ]);
  expect(flagsOf(view)).toEqual(['trouble-code-back|read||SPN 653 FMI 5 advice']);
});

it('codes before the work raise nothing, and have to be named or said to be none', () => {
  expect(flagsOf(viewOf(plan, [before]))).toEqual([]);
  const view = viewOf(plan, [says('m1', '08:00', 'Tom', [done('read')])]);
  expect(stateOf(view, 'read')).toBe('partial');
  expect(view.wants[0]?.choices.map(({ says: label }) => label)).toEqual(['There were none']);
  expect(
    stateOf(
      viewOf(plan, [says('m1', '08:00', 'Tom', [done('read', { count: { done: 0 } })])]),
      'read',
    ),
  ).toBe('done');
  expect(act('done', 'read').code).toBeUndefined();
});
