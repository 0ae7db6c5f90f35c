import { describe, expect, it } from 'vitest';
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
  started,
  viewOf,
} from '../story.ts';

const plan = planOf(
  [
    { id: 'drain', opens: ['coolant-out'] },
    { id: 'fill', title: 'Fill the coolant', closes: ['coolant-out'] },
    { id: 'start', title: 'Start the engine', is: 'engine-start', 'not-while': ['coolant-out'] },
    { id: 'drive', is: 'road-test' },
    { id: 'other' },
  ],
  {
    states: {
      'coolant-out': {
        title: 'Coolant out',
        means: 'Do not start the engine.',
        forbids: ['road-test', 'tow'],
      },
    },
    watched: [{ id: 'tow-it', title: 'Tow it', is: 'tow' }],
  },
);
const drained = says('m1', '08:00', 'Tom', [done('drain')]);
const filled = says('m3', '09:00', 'Tom', [done('fill')]);
const start = says('m2', '08:30', 'Tom', [done('start')]);
const names = (view: ReturnType<typeof viewOf>) => view.vehicleState.map(({ state }) => state);

describe('what a vehicle state forbids', () => {
  it('a step that names the state', () => {
    const view = viewOf(plan, [drained, start]);
    expect(flagsOf(view)).toEqual(['unsafe-state|start|| stop']);
    expect(view.flags[0]?.says).toBe(
      'Unsafe: "Start the engine". It is reported while this is so of the vehicle: Coolant out. Do not start the engine. Job 1042, 08:30. Stop. Close it first: report "Fill the coolant".',
    );
  });

  it('an act the state forbids, by a step or a watched act', () => {
    const view = viewOf(plan, [
      drained,
      says('m2', '08:30', 'Tom', [done('drive'), done('tow-it')]),
    ]);
    expect(flagsOf(view)).toEqual(['unsafe-state|drive|| stop', 'unsafe-state|tow-it|| stop']);
  });

  it('anything else may happen', () => {
    expect(flagsOf(viewOf(plan, [drained, says('m2', '08:30', 'Tom', [done('other')])]))).toEqual(
      [],
    );
  });

  it('started is enough to open it, and to fall under it', () => {
    const view = viewOf(plan, [
      says('m1', '08:00', 'Tom', [started('drain')]),
      says('m2', '08:30', 'Tom', [started('start')]),
    ]);
    expect(flagsOf(view)).toEqual(['unsafe-state|start|| stop']);
  });

  it('before it opened and after it closed nothing is said', () => {
    expect(flagsOf(viewOf(plan, [says('m2', '07:59', 'Tom', [done('start')]), drained]))).toEqual(
      [],
    );
    expect(
      flagsOf(viewOf(plan, [drained, filled, says('m4', '09:00', 'Tom', [done('start')])])),
    ).toEqual([]);
    expect(
      flagsOf(viewOf(plan, [drained, filled, says('m4', '08:59', 'Tom', [done('start')])])),
    ).toHaveLength(1);
  });

  it('filling that is only begun does not close it', () => {
    const view = viewOf(plan, [drained, says('m3', '08:10', 'Tom', [started('fill')]), start]);
    expect(only(view, 'unsafe-state')).toEqual(['unsafe-state|start|| stop']);
    expect(names(view)).toEqual(['coolant-out']);
  });
});

describe('how it ends', () => {
  it('it cannot be overridden', () => {
    const view = viewOf(plan, [drained, start, overrides('unsafe-state|start||', '08:40')]);
    expect(flagsOf(view)).toEqual(['unsafe-state|start|| stop']);
  });

  it('closing the state settles it', () => {
    const view = viewOf(plan, [drained, start, filled]);
    expect(flagsOf(view)).toEqual(['unsafe-state|start|| settled']);
    expect(view.flags[0]?.clearedBy).toEqual(['m3']);
    expect(names(view)).toEqual([]);
  });

  it('told later that it was closed before, it is withdrawn', () => {
    const view = viewOf(plan, [
      drained,
      start,
      says('m3', '09:00', 'Tom', [done('fill', { time: at('08:20') })]),
    ]);
    expect(flagsOf(view)).toEqual(['unsafe-state|start|| withdrawn']);
  });

  it('undone by a step that opens nothing itself, the state is there again', () => {
    const undoing = planOf(
      [
        { id: 'pull', opens: ['open'] },
        { id: 'seat', after: ['pull'], undoes: ['fit'] },
        { id: 'fit', after: ['seat'], closes: ['open'] },
      ],
      { states: { open: { title: 'Bores open' } } },
    );
    const story = ['pull', 'seat', 'fit'].map((step, n) =>
      says(`m${n}`, `08:0${n}`, 'Tom', [done(step)]),
    );
    expect(names(viewOf(undoing, story))).toEqual([]);
    const again = says('m9', '08:20', 'Tom', [done('seat', { again: true })]);
    expect(names(viewOf(undoing, [story, again]))).toEqual(['open']);
  });

  it('a state is open again when what closed it is undone', () => {
    const undoing = planOf(
      [
        { id: 'pull', opens: ['open'], undoes: ['fit'] },
        { id: 'fit', after: ['pull'], closes: ['open'] },
      ],
      { states: { open: { title: 'Bores open' } } },
    );
    const story = [
      says('m1', '08:00', 'Tom', [done('pull')]),
      says('m2', '08:10', 'Tom', [done('fit')]),
    ];
    expect(names(viewOf(undoing, story))).toEqual([]);
    expect(
      names(
        viewOf(undoing, [...story, says('m3', '08:20', 'Tom', [done('pull', { again: true })])]),
      ),
    ).toEqual(['open']);
  });
});

describe('positions', () => {
  const each = planOf(
    [
      { id: 'pull', each: 'cylinders', opens: ['open'] },
      { id: 'fit', each: 'cylinders', closes: ['open'] },
      { id: 'start', 'not-while': ['open'] },
    ],
    { positions: SIX, states: { open: { title: 'Bores open' } } },
  );
  const pulled = [
    opened({ positions: cyl(1, 2) }),
    says('m1', '08:00', 'Tom', [done('pull', {}, cyl(1, 2))]),
  ];

  it('over only when closed at every one', () => {
    const one = [...pulled, says('m2', '08:10', 'Tom', [done('fit', {}, cyl(1))])];
    expect(viewOf(each, one).vehicleState).toMatchObject([
      { state: 'open', positions: ['cylinder 2'] },
    ]);
    expect(flagsOf(viewOf(each, [...one, says('m3', '08:20', 'Tom', [done('start')])]))).toEqual([
      'unsafe-state|start|| stop',
    ]);
    const both = [...one, says('m4', '08:15', 'Tom', [done('fit', {}, cyl(2))])];
    expect(viewOf(each, both).vehicleState).toEqual([]);
  });

  it('what is opened once for the job is over when it is closed at every position', () => {
    const mixed = planOf(
      [
        { id: 'loosen', opens: ['open'] },
        { id: 'fit', each: 'cylinders', closes: ['open'] },
      ],
      { positions: SIX, states: { open: { title: 'Open' } } },
    );
    const story = [
      opened({ positions: cyl(1, 2) }),
      says('m1', '08:00', 'Tom', [done('loosen')]),
      says('m2', '08:10', 'Tom', [done('fit', {}, cyl(1))]),
    ];
    expect(names(viewOf(mixed, story))).toEqual(['open']);
    expect(
      names(viewOf(mixed, [...story, says('m3', '08:20', 'Tom', [done('fit', {}, cyl(2))])])),
    ).toEqual([]);
  });
});

it('a state of another open job on the vehicle counts too', () => {
  const state = {
    state: 'fuel-open',
    title: 'Fuel open',
    means: undefined,
    positions: [],
    since: at('08:00'),
    forbids: ['engine-start'],
  };
  const around = { otherStates: [{ job: '1041', state }] };
  const view = viewOf(plan, [start], { around });
  expect(flagsOf(view)).toEqual(['unsafe-state|start|| stop']);
  expect(view.flags[0]?.says).toContain('Fuel open (job 1041)');
  expect(flagsOf(viewOf(plan, [says('m0', '07:59', 'Tom', [done('start')])], { around }))).toEqual(
    [],
  );
  expect(viewOf(plan, [start], { around }).next.map(({ step }) => step)).not.toContain('start');
});
