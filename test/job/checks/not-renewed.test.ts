import { expect, it } from 'vitest';
import {
  act,
  cyl,
  done,
  flagsOf,
  opened,
  overrides,
  planOf,
  SIX,
  says,
  started,
  viewOf,
} from '../story.ts';

const plan = planOf(
  [
    {
      id: 'fit',
      title: 'Fit the washer',
      each: 'cylinders',
      weight: 'damage-critical',
      renew: [{ part: 'washer' }, { part: 'bolt' }],
    },
  ],
  { positions: SIX },
);
const on = opened({ positions: cyl(1) });
const fitted = (renewed?: string[]) =>
  says('m1', '08:00', 'Tom', [done('fit', renewed === undefined ? {} : { renewed }, cyl(1))]);

it('every part that must be new has to be said to be', () => {
  expect(flagsOf(viewOf(plan, [on, fitted()]))).toEqual([
    'not-renewed|fit|cylinder 1|bolt caution',
    'not-renewed|fit|cylinder 1|washer caution',
  ]);
  expect(flagsOf(viewOf(plan, [on, fitted(['Washer'])]))).toEqual([
    'not-renewed|fit|cylinder 1|bolt caution',
  ]);
  expect(flagsOf(viewOf(plan, [on, fitted(['washer', 'bolt'])]))).toEqual([]);
});

it('"all new" without a part says it of every one', () => {
  expect(flagsOf(viewOf(plan, [on, fitted([])]))).toEqual([]);
});

it('said afterwards it is withdrawn', () => {
  const view = viewOf(plan, [
    on,
    fitted(['bolt']),
    says('m2', '08:05', 'Tom', [done('fit', { renewed: ['washer'] }, cyl(1))]),
  ]);
  expect(flagsOf(view)).toEqual(['not-renewed|fit|cylinder 1|washer withdrawn']);
  expect(view.flags[0]?.clearedBy).toEqual(['m2']);
});

it('said beforehand is said', () => {
  const early = says('m0', '07:50', 'Tom', [act('partial', 'fit', { renewed: [] }, cyl(1))]);
  expect(flagsOf(viewOf(plan, [on, early, fitted()]))).toEqual([]);
});

it('a step only begun raises nothing, and an override lets one part be', () => {
  expect(flagsOf(viewOf(plan, [on, says('m1', '08:00', 'Tom', [started('fit', cyl(1))])]))).toEqual(
    [],
  );
  expect(
    flagsOf(
      viewOf(plan, [on, fitted(['bolt']), overrides('not-renewed|fit|cylinder 1|washer', '08:01')]),
    ),
  ).toEqual(['not-renewed|fit|cylinder 1|washer overridden']);
});
