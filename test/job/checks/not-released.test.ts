import { describe, expect, it } from 'vitest';
import {
  act,
  at,
  cyl,
  done,
  flagsOf,
  only,
  opened,
  overrides,
  planOf,
  refuses,
  releases,
  SIX,
  says,
  stateOf,
  viewOf,
} from '../story.ts';

const plan = planOf([
  { id: 'measure' },
  {
    id: 'look',
    after: ['measure'],
    hold: { release: ['controller'], why: 'It is covered up next.' },
  },
  { id: 'cover', title: 'Fit the cover', after: ['look'] },
  { id: 'start', after: ['cover'] },
]);
const before = [
  says('m1', '08:00', 'Tom', [done('measure')]),
  says('m2', '08:10', 'Tom', [done('look')]),
];
const cover = says('m3', '08:30', 'Tom', [done('cover')]);
const hold = (events: Parameters<typeof viewOf>[1]) => viewOf(plan, events).holds[0]?.state;

describe('work past a hold point', () => {
  it('is a stop, whatever the weight of the step', () => {
    const view = viewOf(plan, [before, cover]);
    expect(flagsOf(view)).toEqual(['not-released|look|| stop']);
    expect(view.flags[0]?.says).toBe(
      'Not released: "look". "Fit the cover" is reported, and nobody goes past this hold point before it is released. It is covered up next. Job 1042, 08:30. Stop here until the controller has looked at it and released it.',
    );
  });

  it('a release at the very moment of the report counts, one before it releases nothing', () => {
    expect(hold([before, releases('look', '08:10')])).toBe('released');
    expect(hold([before, releases('look', '08:09')])).toBe('waits');
  });

  it('a release before the report was posted releases nothing, whatever time the report names', () => {
    const late = says('m2', '08:20', 'Tom', [done('look', { time: at('08:10') })]);
    expect(hold([before[0] ?? [], late, releases('look', '08:15')])).toBe('waits');
    expect(hold([before[0] ?? [], late, releases('look', '08:20')])).toBe('released');
  });

  it('a release stands when the report it is about is said again later', () => {
    const again = says('m3', '08:30', 'Tom', [done('look')]);
    expect(hold([before, releases('look', '08:20'), again])).toBe('released');
  });

  it('released before, nothing is said, at the same moment neither', () => {
    expect(flagsOf(viewOf(plan, [before, releases('look', '08:20'), cover]))).toEqual([]);
    expect(flagsOf(viewOf(plan, [before, releases('look', '08:30'), cover]))).toEqual([]);
  });

  it('released afterwards, the flag is settled by the release', () => {
    const view = viewOf(plan, [before, cover, releases('look', '08:31')]);
    expect(flagsOf(view)).toEqual(['not-released|look|| settled']);
    expect(view.flags[0]?.clearedBy).toEqual(['release:look:null:08:31']);
  });

  it('a hold point that was not even done is both skipped and not released', () => {
    const view = viewOf(plan, [before[0] ?? [], cover]);
    expect(flagsOf(view)).toEqual(['not-released|look|| stop', 'skipped|look|| advice']);
  });

  it('looks through the whole order', () => {
    const view = viewOf(plan, [before, cover, says('m4', '08:40', 'Tom', [done('start')])]);
    expect(only(view, 'not-released')).toEqual(['not-released|look|| stop']);
  });
});

describe('who may release', () => {
  it.each([
    ['another role than the plan names', releases('look', '08:20', 'Pat', null, 'technician')],
    ['the one who did the work', releases('look', '08:20', 'Tom')],
    ['before the step was done', releases('look', '08:05')],
  ])('%s does not release it', (_, release) => {
    expect(only(viewOf(plan, [before, release, cover]), 'not-released')).toEqual([
      'not-released|look|| stop',
    ]);
  });

  it('a role left out of the event is looked up among the people', () => {
    const release = { ...releases('look', '08:20', 'Pat'), role: undefined };
    const bare = JSON.parse(JSON.stringify(release));
    const people = (roles: string[]) => ({ around: { people: [{ name: 'Pat', roles }] } });
    expect(flagsOf(viewOf(plan, [before, bare, cover], people(['technician'])))).toHaveLength(1);
    expect(flagsOf(viewOf(plan, [before, bare, cover], people(['controller'])))).toEqual([]);
  });
});

describe('the state of a hold point', () => {
  it('not reached, waits, released, refused', () => {
    const refused = refuses('look', '08:20');
    expect(hold([])).toBe('not reached');
    expect(hold([before])).toBe('waits');
    expect(hold([before, releases('look', '08:20')])).toBe('released');
    expect(hold([before, refused])).toBe('refused');
    expect(hold([before, refused, releases('look', '08:25')])).toBe('released');
    expect(flagsOf(viewOf(plan, [before, refused, cover]))).toEqual(['not-released|look|| stop']);
  });

  it('a release is withdrawn when the work under it is done again', () => {
    const again = says('m4', '08:40', 'Tom', [done('measure', { again: true })]);
    const released = [before, releases('look', '08:20'), again];
    expect(hold(released)).toBe('waits');
    expect(
      flagsOf(viewOf(plan, [...released, says('m5', '08:50', 'Tom', [done('cover')])])),
    ).toEqual(['not-released|look|| stop']);
    expect(hold([...released, releases('look', '08:45')])).toBe('released');
  });

  it('a release is withdrawn when the hold point itself is done again', () => {
    const again = says('m4', '08:40', 'Tom', [done('look', { again: true })]);
    expect(hold([before, releases('look', '08:20'), again])).toBe('waits');
  });

  it('an override covers what went past it, until the work under it is done again', () => {
    const events = [before, cover, overrides('not-released|look||', '08:35')];
    expect(flagsOf(viewOf(plan, events))).toEqual(['not-released|look|| overridden']);
    const redone = [
      ...events,
      says('m4', '08:40', 'Tom', [done('measure', { again: true })]),
      says('m5', '08:50', 'Tom', [done('cover', { again: true })]),
    ];
    expect(only(viewOf(plan, redone), 'not-released')).toEqual(['not-released|look|| stop']);
  });
});

it('at positions each hold point is released by itself, or all at once', () => {
  const each = planOf(
    [
      { id: 'look', each: 'cylinders', hold: { release: ['controller'] } },
      { id: 'cover', each: 'cylinders', after: ['look'] },
    ],
    { positions: SIX },
  );
  const events = [
    opened({ positions: cyl(1, 2) }),
    says('m1', '08:00', 'Tom', [done('look', {}, cyl(1, 2))]),
    says('m3', '08:30', 'Tom', [done('cover', {}, cyl(1, 2))]),
  ];
  expect(
    flagsOf(viewOf(each, [...events, releases('look', '08:20', 'Sam', 'cylinder 1')])),
  ).toEqual(['not-released|look|cylinder 2| stop']);
  expect(flagsOf(viewOf(each, [...events, releases('look', '08:20')]))).toEqual([]);
  expect(act('done', 'look').positions).toEqual([]);
  expect(stateOf(viewOf(each, events), 'look', 'cylinder 1')).toBe('done');
});
