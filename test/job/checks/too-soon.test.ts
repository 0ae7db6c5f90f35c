import { expect, it } from 'vitest';
import {
  at,
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

const plan = planOf([
  { id: 'stop', title: 'Stop the engine' },
  {
    id: 'open',
    title: 'Open the cap',
    weight: 'safety-critical',
    waits: [{ after: 'stop', minutes: 30, because: 'it is hot' }],
  },
]);
const stop = says('m1', '08:00', 'Tom', [done('stop')]);
const open = (clock: string, more = {}) => says('m2', clock, 'Tom', [done('open', more)]);

it('the time is over to the minute, one second less is too soon', () => {
  expect(flagsOf(viewOf(plan, [stop, open('08:30')]))).toEqual([]);
  expect(flagsOf(viewOf(plan, [stop, open('08:29:59')]))).toEqual(['too-soon|open|| stop']);
});

it('says since when, how long, why, and when it is over', () => {
  expect(viewOf(plan, [stop, open('08:12')]).flags[0]?.says).toBe(
    'Too soon: "Open the cap". Reported 12 min after "Stop the engine", at least 30 min needed: it is hot. Job 1042, 08:12. Wait until 08:30, then do it again or check it.',
  );
});

it('started too soon is too soon, and done later does not mend it', () => {
  const begun = says('m2', '08:10', 'Tom', [started('open')]);
  expect(flagsOf(viewOf(plan, [stop, begun, says('m3', '08:40', 'Tom', [done('open')])]))).toEqual([
    'too-soon|open|| stop',
  ]);
});

it('goes by the time said', () => {
  expect(flagsOf(viewOf(plan, [stop, open('08:40', { time: at('08:10') })]))).toEqual([
    'too-soon|open|| stop',
  ]);
  expect(
    flagsOf(
      viewOf(plan, [
        says('m1', '08:00', 'Tom', [done('stop', { time: at('07:40') })]),
        open('08:10'),
      ]),
    ),
  ).toEqual([]);
});

it('real minutes across a change of the clock: 01:50 to 03:10 in spring is 20 minutes', () => {
  // Central European clocks went from 02:00+01:00 to 03:00+02:00 on 29 March 2026.
  const story = (end: string) => [
    opened({ at: '2026-03-29T01:00:00+01:00' }),
    says('m1', '2026-03-29T01:50:00+01:00', 'Tom', [done('stop')]),
    says('m2', end, 'Tom', [done('open')]),
  ];
  expect(flagsOf(viewOf(plan, story('2026-03-29T03:10:00+02:00')))).toHaveLength(1);
  expect(flagsOf(viewOf(plan, story('2026-03-29T03:20:00+02:00')))).toEqual([]);
});

it('done again after the wait settles it, an override lets it be', () => {
  expect(
    flagsOf(
      viewOf(plan, [
        stop,
        open('08:12'),
        says('m3', '08:45', 'Tom', [done('open', { again: true })]),
      ]),
    ),
  ).toEqual(['too-soon|open|| settled']);
  expect(
    flagsOf(viewOf(plan, [stop, open('08:12'), overrides('too-soon|open||', '08:13')])),
  ).toEqual(['too-soon|open|| overridden']);
});

it('position by position, where both run over the same', () => {
  const each = planOf(
    [
      { id: 'seal', each: 'cylinders' },
      {
        id: 'fit',
        each: 'cylinders',
        waits: [{ after: 'seal', minutes: 10, because: 'it cures' }],
      },
    ],
    { positions: SIX },
  );
  const view = viewOf(each, [
    opened({ positions: cyl(1, 2) }),
    says('m1', '08:00', 'Tom', [done('seal', {}, cyl(1))]),
    says('m2', '08:08', 'Tom', [done('seal', {}, cyl(2))]),
    says('m3', '08:12', 'Tom', [done('fit', {}, cyl(1, 2))]),
  ]);
  expect(flagsOf(view)).toEqual(['too-soon|fit|cylinder 2| advice']);
});

it.each([
  [40, 'km', 0],
  [39.9, 'km', 1],
  // 25 mi are 40.2 km, 24 mi are 38.6 km.
  [25, 'mi', 0],
  [24, 'mi', 1],
])('a re-check due after 40 to 80 km, done after %s %s', (value, unit, flags) => {
  const far = planOf([
    { id: 'nuts' },
    { id: 'again', within: { after: 'nuts', km: { min: 40, max: 80 }, because: 'they settle' } },
  ]);
  const view = viewOf(far, [
    says('m1', '08:00', 'Tom', [done('nuts')]),
    says('m2', '12:00', 'Tom', [done('again', { quantity: { value, unit } })]),
  ]);
  expect(flagsOf(view)).toHaveLength(flags);
});

it('a step whose waiting time runs is not offered as next', () => {
  expect(viewOf(plan, [stop], { now: '08:29' }).next).toEqual([]);
  expect(viewOf(plan, [stop], { now: '08:30' }).next).toEqual([{ step: 'open', position: null }]);
});
