import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../../shared/event.ts';
import {
  at,
  cyl,
  done,
  flagsOf,
  only,
  opened,
  overrides,
  planOf,
  SIX,
  says,
  stateOf,
  viewOf,
} from '../story.ts';

const plan = planOf(
  [
    { id: 'fit', title: 'Fit the injector', each: 'cylinders', undoes: ['clamp'] },
    {
      id: 'clamp',
      title: 'Tighten the clamp',
      each: 'cylinders',
      after: ['fit'],
      weight: 'safety-critical',
    },
    { id: 'pipe', title: 'Fit the pipe', each: 'cylinders', after: ['clamp'] },
    { id: 'prime', title: 'Prime', after: ['pipe'] },
    { id: 'wash', title: 'Wash', after: ['fit'] },
  ],
  { positions: SIX },
);
const on = opened({ positions: cyl(1, 2) });
const both = (id: string, clock: string, step: string) =>
  says(id, clock, 'Tom', [done(step, {}, cyl(1, 2))]);
const built = [
  on,
  both('m1', '08:00', 'fit'),
  both('m2', '08:10', 'clamp'),
  both('m3', '08:20', 'pipe'),
  says('m4', '08:30', 'Tom', [done('prime'), done('wash')]),
];
const again = says('m5', '09:00', 'Tom', [done('fit', { again: true }, cyl(1))]);

describe('a step done again', () => {
  const view = viewOf(plan, [built, again]);

  it('makes due again what it undoes and all that rests on it, per position, with one flag that names them', () => {
    expect(flagsOf(view)).toEqual(['redo|fit|cylinder 1| stop']);
    expect(view.flags[0]?.says).toBe(
      'To do again: "Fit the injector". It was done again, and these have to be done again: "Tighten the clamp" (cylinder 1), "Fit the pipe" (cylinder 1) and "Prime". Job 1042, cylinder 1, 09:00. Do them again in their order, and report each.',
    );
    const states = view.steps.map(({ step, position, state }) =>
      `${step} ${position ?? ''} ${state}`.replace('  ', ' '),
    );
    expect(states).toEqual([
      'fit cylinder 1 done',
      'fit cylinder 2 done',
      'clamp cylinder 1 due-again',
      'clamp cylinder 2 done',
      'pipe cylinder 1 due-again',
      'pipe cylinder 2 done',
      'prime due-again',
      'wash done',
    ]);
  });

  it('without "again" it only confirms', () => {
    const confirmed = viewOf(plan, [built, says('m5', '09:00', 'Tom', [done('fit', {}, cyl(1))])]);
    expect(flagsOf(confirmed)).toEqual([]);
    expect(confirmed.steps.every(({ state }) => state === 'done')).toBe(true);
  });

  it('"again" where nothing was done yet is the first time', () => {
    expect(flagsOf(viewOf(plan, [on, again]))).toEqual([]);
  });

  it('what had no record yet is not made due again', () => {
    const early = viewOf(plan, [on, both('m1', '08:00', 'fit'), again]);
    expect(flagsOf(early)).toEqual([]);
    expect(stateOf(early, 'clamp', 'cylinder 1')).toBe('open');
  });

  it('done again one by one, the flag is settled with the last', () => {
    const one = [
      built,
      again,
      says('m6', '09:10', 'Tom', [done('clamp', {}, cyl(1))]),
      says('m7', '09:20', 'Tom', [done('pipe', {}, cyl(1))]),
    ];
    expect(flagsOf(viewOf(plan, one))).toEqual(['redo|fit|cylinder 1| stop']);
    const all = viewOf(plan, [one, says('m8', '09:30', 'Tom', [done('prime')])]);
    expect(flagsOf(all)).toEqual(['redo|fit|cylinder 1| settled']);
    expect(all.flags[0]?.clearedBy).toEqual(['m8']);
  });

  it('a step that rests on one due again raises skipped for it', () => {
    const skipping = viewOf(plan, [
      built,
      again,
      says('m6', '09:10', 'Tom', [done('pipe', {}, cyl(1))]),
    ]);
    expect(only(skipping, 'skipped')).toEqual(['skipped|clamp|cylinder 1| stop']);
    expect(skipping.flags[0]?.says).toContain('due again since 09:00');
  });

  it('counts by the time of the work, not of the message', () => {
    const late = viewOf(plan, [
      built,
      says('m5', '09:00', 'Tom', [done('fit', { again: true, time: at('08:05') }, cyl(1))]),
    ]);
    expect(flagsOf(late)).toEqual([]);
  });

  it('an override says that nothing was disturbed, the steps stay to be settled', () => {
    expect(
      flagsOf(viewOf(plan, [built, again, overrides('redo|fit|cylinder 1|', '09:05')])),
    ).toEqual(['redo|fit|cylinder 1| overridden']);
  });

  it('taken back, everything stands as before', () => {
    const back = viewOf(plan, [
      built,
      again,
      { id: 'x', at: at('09:05'), by: 'Tom', kind: 'message-deleted', message: 'm5' },
    ]);
    expect(flagsOf(back)).toEqual([]);
    expect(stateOf(back, 'prime')).toBe('done');
  });
});

describe('a position added through an approved finding', () => {
  const approved: JobEvent = {
    id: 'settled',
    at: at('08:40'),
    by: 'Sam',
    kind: 'finding-settled',
    message: 'm0',
    settled: 'approved',
    positions: cyl(4),
    options: [],
  };

  it('what was reported before it joined raises no skipped', () => {
    const view = viewOf(plan, [built, approved]);
    expect(flagsOf(view)).toEqual([]);
    expect(stateOf(view, 'fit', 'cylinder 4')).toBe('open');
    expect(stateOf(view, 'prime')).toBe('done');
    expect(view.closeNeeds).toHaveLength(3);
  });

  it('once work begins there, what rests on it and was done before is due again', () => {
    const view = viewOf(plan, [
      built,
      approved,
      says('m5', '09:00', 'Tom', [done('fit', {}, cyl(4))]),
    ]);
    expect(flagsOf(view)).toEqual(['redo|fit|cylinder 4| advice']);
    expect(view.flags[0]?.says).toContain('"Prime" and "Wash"');
    expect(stateOf(view, 'prime')).toBe('due-again');
    expect(stateOf(view, 'clamp', 'cylinder 1')).toBe('done');
  });

  it('what is reported after it joined needs it', () => {
    const view = viewOf(plan, [
      built,
      approved,
      says('m5', '09:00', 'Tom', [done('prime', { again: true })]),
    ]);
    expect(only(view, 'skipped')).toEqual([
      'skipped|clamp|cylinder 4| stop',
      'skipped|fit|cylinder 4| advice',
      'skipped|pipe|cylinder 4| advice',
    ]);
  });
});

it('a fluid: "again" is a top-up, unless it went the other way in between', () => {
  const fluids = planOf(
    [
      { id: 'drain', undoes: ['fill'], report: [{ kind: 'drained', fluid: 'oil' }] },
      { id: 'fill', after: ['drain'], report: [{ kind: 'filled', fluid: 'oil' }] },
    ],
    { fluids: { oil: { title: 'oil' } } },
  );
  const volume = (id: string, clock: string, step: string, value: number, again = false) =>
    says(id, clock, 'Tom', [
      done(step, { quantity: { value, unit: 'L' }, ...(again && { again: true }) }),
    ]);
  const filled = [volume('m1', '08:00', 'drain', 10), volume('m2', '09:00', 'fill', 8)];
  const topped = viewOf(fluids, [filled, volume('m3', '09:10', 'fill', 2, true)]);
  expect(flagsOf(topped)).toEqual([]);
  expect(topped.steps[1]?.figures[0]?.quantity).toEqual({ value: 10, unit: 'L' });
  expect(only(viewOf(fluids, [filled, volume('m3', '09:10', 'drain', 8, true)]), 'redo')).toEqual([
    'redo|drain|| advice',
  ]);
});
