import { describe, expect, it } from 'vitest';
import {
  act,
  at,
  cyl,
  done,
  flagsOf,
  litres,
  only,
  opened,
  planOf,
  SIX,
  says,
  viewOf,
} from '../story.ts';

const plan = planOf(
  [
    {
      id: 'drain',
      weight: 'damage-critical',
      raise: { 'volume-short': 'stop' },
      report: [{ kind: 'drained', fluid: 'coolant', min: 22, source: 'the sheet on the wall' }],
    },
    { id: 'open', title: 'Open the head', after: ['drain'] },
    {
      id: 'fill',
      weight: 'damage-critical',
      after: ['open'],
      report: [{ kind: 'filled', fluid: 'coolant' }],
    },
  ],
  { fluids: { coolant: { title: 'coolant', tolerance: { litres: 1, percent: 5 } } } },
);
const drain = (id: string, clock: string, value: number, more = {}) =>
  says(id, clock, 'Tom', [done('drain', { quantity: litres(value), ...more })]);
const open = says('m5', '09:00', 'Tom', [done('open')]);
const fill = (value: number, id = 'm6', clock = '10:00') =>
  says(id, clock, 'Tom', [done('fill', { quantity: litres(value) })]);
const short = (story: Parameters<typeof viewOf>[1]) => only(viewOf(plan, story), 'volume-short');

describe('too little drained before opening', () => {
  it('is a stop where the plan says so', () => {
    const view = viewOf(plan, [drain('m1', '08:00', 20), open]);
    expect(only(view, 'volume-short')).toEqual(['volume-short|drain|| stop']);
    expect(view.flags.find(({ rule }) => rule === 'volume-short')?.says).toBe(
      'Volume short: "drain". 20 L drained before "Open the head", at least 22 L expected (the sheet on the wall). It matters. Job 1042, 09:00. Stop, drain the rest and report it, or correct the figure.',
    );
  });
  it('the very least is enough', () => {
    expect(short([drain('m1', '08:00', 22), open])).toEqual([]);
    expect(short([drain('m1', '08:00', 21.9), open])).toHaveLength(1);
  });
  it('nothing is opened yet: nothing is short', () => {
    expect(short([drain('m1', '08:00', 20)])).toEqual([]);
  });
  it('part drains from several containers add up, in other units too: 20 L and 2000 mL', () => {
    const rest = says('m2', '08:10', 'Tom', [
      act('partial', 'drain', { quantity: { value: 2000, unit: 'mL' } }),
    ]);
    expect(short([drain('m1', '08:00', 20), rest, open])).toEqual([]);
  });
  it('two top-ups of the same volume within ten seconds are two', () => {
    expect(
      short([
        drain('m1', '08:00', 11),
        says('m2', '08:00:04', 'Tom', [done('drain', { quantity: litres(11) })], {
          text: 'words of m1',
        }),
        open,
      ]),
    ).toEqual([]);
  });
  it('opened before anything was drained, it is looked at again once too little is', () => {
    const reopened = says('m6', '09:30', 'Tom', [done('open')]);
    expect(short([open, drain('m1', '09:10', 20), reopened])).toEqual([
      'volume-short|drain|| stop',
    ]);
  });
  it('a figure told later belongs to the draining that was said before', () => {
    const said = says('m1', '08:00', 'Tom', [done('drain')]);
    const figure = (value: number) =>
      says('m6', '09:30', 'Tom', [act('partial', 'drain', { quantity: litres(value) })]);
    expect(short([said, open, figure(28)])).toEqual([]);
    expect(short([said, open, figure(20)])).toEqual(['volume-short|drain|| stop']);
  });
  it('the rest drained afterwards settles it, told later with an earlier time it is withdrawn', () => {
    expect(short([drain('m1', '08:00', 20), open, drain('m2', '09:30', 3)])).toEqual([
      'volume-short|drain|| settled',
    ]);
    expect(
      short([drain('m1', '08:00', 20), open, drain('m2', '09:30', 3, { time: at('08:30') })]),
    ).toEqual(['volume-short|drain|| withdrawn']);
  });
});

describe('what was filled against what was drained', () => {
  const emptied = [drain('m1', '08:00', 28), open];
  // 5 % of 28 L is 1.4 L, more than the 1 L.
  it.each([
    [28, 0],
    [26.6, 0],
    [26.5, 1],
    [29.4, 0],
    [29.5, 1],
  ])('28 L drained, %s L filled', (value, flags) => {
    expect(short([emptied, fill(value)])).toHaveLength(flags);
  });
  it('says both and what they may differ by', () => {
    const view = viewOf(plan, [emptied, fill(24)]);
    expect(flagsOf(view)).toEqual(['volume-short|fill|| caution']);
    expect(view.flags[0]?.says).toContain('28 L drained, 24 L filled; they may differ by 1.4 L.');
    expect(view.fluids).toEqual([
      { fluid: 'coolant', drained: 28, filled: 24, unaccounted: 4, unit: 'L' },
    ]);
  });
  it('a top-up takes it away', () => {
    expect(short([emptied, fill(24), fill(3, 'm7', '11:00')])).toEqual([]);
  });
  it('with nothing drained there is nothing to compare', () => {
    expect(short([fill(24)])).toEqual([]);
  });
  it('a litre is allowed for small systems: 5 L drained, 4 L filled', () => {
    const small = planOf(
      [
        { id: 'drain', report: [{ kind: 'drained', fluid: 'oil' }] },
        { id: 'fill', report: [{ kind: 'filled', fluid: 'oil' }] },
      ],
      { fluids: { oil: { title: 'oil' } } },
    );
    const story = (value: number) => [drain('m1', '08:00', 5), fill(value)];
    expect(flagsOf(viewOf(small, story(4)))).toEqual([]);
    expect(flagsOf(viewOf(small, story(3.9)))).toHaveLength(1);
  });
});

it('drained and filled at each place, each place balances by itself', () => {
  const hubs = planOf(
    [
      { id: 'drain', each: 'cylinders', report: [{ kind: 'drained', fluid: 'oil' }] },
      { id: 'fill', each: 'cylinders', report: [{ kind: 'filled', fluid: 'oil' }] },
    ],
    { positions: SIX, fluids: { oil: { title: 'oil', tolerance: { litres: 0.1, percent: 10 } } } },
  );
  const view = viewOf(hubs, [
    opened({ positions: cyl(1, 2) }),
    says('m1', '08:00', 'Tom', [done('drain', { quantity: litres(0.5) }, cyl(1, 2))]),
    says('m2', '09:00', 'Tom', [
      done('fill', { quantity: litres(0.3) }, cyl(1)),
      done('fill', { quantity: litres(0.7) }, cyl(2)),
    ]),
  ]);
  expect(flagsOf(view)).toEqual([
    'volume-short|fill|cylinder 1| advice',
    'volume-short|fill|cylinder 2| advice',
  ]);
});
