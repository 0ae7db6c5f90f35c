import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CYCLE, type Engine, layEngine } from '../../src/trade/engine-layout.ts';
import {
  ORDINARY_WINDOWS,
  settableAt,
  type ValveWindows,
  valveRound,
} from '../../src/trade/valve-round.ts';
import { problemIn, valueIn } from './unwrap.ts';

const six = valueIn(layEngine({ firingOrder: [1, 5, 3, 6, 2, 4] }));
const namesAt = (engine: Engine, cylinder: number) =>
  valueIn(settableAt(engine, cylinder)).valves.map((valve) => valve.name);

describe('which valves can be set', () => {
  it('at firing top dead centre of cylinder 1, six in line (Denton; US Army OD1001)', () => {
    expect(namesAt(six, 1).sort()).toEqual([
      'cylinder 1 exhaust',
      'cylinder 1 inlet',
      'cylinder 2 inlet',
      'cylinder 3 exhaust',
      'cylinder 4 inlet',
      'cylinder 5 exhaust',
    ]);
  });

  it('one turn on, the other six', () => {
    const all = six.valves.map((valve) => valve.name);
    expect([...namesAt(six, 1), ...namesAt(six, 6)].sort()).toEqual([...all].sort());
  });

  it('on a four with order 1-3-4-2: both of 1, inlet of 2, exhaust of 3; then the rest (common practice)', () => {
    const four = valueIn(layEngine({ firingOrder: [1, 3, 4, 2] }));
    expect(namesAt(four, 1).sort()).toEqual([
      'cylinder 1 exhaust',
      'cylinder 1 inlet',
      'cylinder 2 inlet',
      'cylinder 3 exhaust',
    ]);
    expect(namesAt(four, 4).sort()).toEqual([
      'cylinder 2 exhaust',
      'cylinder 3 inlet',
      'cylinder 4 exhaust',
      'cylinder 4 inlet',
    ]);
  });

  it('says so in one line', () => {
    expect(valueIn(settableAt(six, 1)).answer).toBe(
      "inlet 1, 2, 4 and exhaust 1, 3, 5 can be set with cylinder 1 at firing top dead centre, firing order 1-5-3-6-2-4. Ordinary valve timing assumed: late inlet closing or brake lobes need the maker's windows. Crank turned by hand, in its running direction, the start locked out.",
    );
    expect(problemIn(settableAt(six, 7)).doThis).toBe('Name one of 1, 2, 3, 4, 5, 6.');
  });
});

describe('the shortest round', () => {
  it('of the six in line is two stops, one turn apart, 1 and 6 changing places on the rock', () => {
    const { stops, answer } = valueIn(valveRound(six));
    expect(stops.map(({ cylinder, onTheRock, turn }) => ({ cylinder, onTheRock, turn }))).toEqual([
      { cylinder: 1, onTheRock: [6], turn: 0 },
      { cylinder: 6, onTheRock: [1], turn: 360 },
    ]);
    expect(answer).toContain(
      '12 valves in 2 stops: cylinder 1 at firing top dead centre (6 on the rock)',
    );
  });

  it('begins where the crank stands', () => {
    const { stops } = valueIn(valveRound(six, { standsAt: 3 }));
    // 3 and 4 are a pair: 3 fires at 240, 4 at 600.
    expect(stops.map(({ cylinder, turn }) => [cylinder, turn])).toEqual([
      [3, 0],
      [4, 360],
    ]);
  });

  it('leaves out what is done', () => {
    const { stops, answer } = valueIn(valveRound(six, { done: namesAt(six, 1), standsAt: 1 }));
    expect(stops).toHaveLength(1);
    expect(stops[0]?.set).toHaveLength(6);
    expect(answer).toContain('6 left in 1 stop');
    const all = six.valves.map((valve) => valve.name);
    expect(valueIn(valveRound(six, { done: all })).answer).toBe('All 12 valve clearances are set.');
  });

  it('names the one of two valves that is left', () => {
    const one = valueIn(layEngine({ firingOrder: [1], perCylinder: { inlet: 2, exhaust: 1 } }));
    const done = ['cylinder 1 inlet 1', 'cylinder 1 exhaust'];
    expect(valueIn(valveRound(one, { done })).answer).toContain(
      '1 left in 1 stop: cylinder 1 at firing top dead centre: inlet 1 (number 2).',
    );
  });

  it('refuses a valve, a cylinder or a window that makes no sense', () => {
    expect(problemIn(valveRound(six, { done: ['cylinder 9 inlet'] })).what).toBe(
      '"cylinder 9 inlet" is not a valve of this engine.',
    );
    expect(problemIn(valveRound(six, { standsAt: 9 })).what).toBe('This engine has no cylinder 9.');
    const windows = { ...ORDINARY_WINDOWS, inlet: { from: 700, to: 600 } };
    expect(problemIn(valveRound(six, { windows })).what).toContain('not part of one cycle');
    const own = { ...ORDINARY_WINDOWS };
    expect(valueIn(valveRound(six, { windows: own })).answer).toContain('Windows of the plan.');
    const unreached = { ...ORDINARY_WINDOWS, inlet: { from: 10, to: 20 } };
    expect(problemIn(valveRound(six, { windows: unreached })).what).toContain('cannot be set');
  });
});

const engines = fc
  .integer({ min: 1, max: 9 })
  .chain((n) =>
    fc.record({
      firingOrder: fc.shuffledSubarray(
        Array.from({ length: n }, (_, index) => index + 1),
        { minLength: n },
      ),
      cuts: fc.array(fc.integer({ min: 0, max: CYCLE }), { minLength: n - 1, maxLength: n - 1 }),
      equal: fc.boolean(),
    }),
  )
  .map(({ firingOrder, cuts, equal }) => {
    const ends = [0, ...cuts.sort((a, b) => a - b), CYCLE];
    const intervals = firingOrder.map((_, place) => (ends[place + 1] ?? 0) - (ends[place] ?? 0));
    return valueIn(layEngine(equal ? { firingOrder } : { firingOrder, intervals }));
  });

const windowOf = fc
  .record({ from: fc.integer({ min: 0, max: 719 }), length: fc.integer({ min: 60, max: 500 }) })
  .map(({ from, length }) => ({ from, to: from + length }));

/** Written apart from the program: step along the window in whole turns. */
function inside(engine: Engine, windows: ValveWindows, name: string, angle: number): boolean {
  const valve = engine.valves.find((v) => v.name === name);
  if (!valve) return false;
  const { from, to } = windows[valve.kind];
  const after = angle - (engine.firesAt.get(valve.cylinder) ?? 0);
  return [-1, 0, 1, 2].some(
    (n) => after + n * CYCLE >= from - 1e-6 && after + n * CYCLE <= to + 1e-6,
  );
}

function fewestByTryingAll(engine: Engine, windows: ValveWindows): number {
  const angles = [...new Set(engine.firesAt.values())];
  let best = Number.POSITIVE_INFINITY;
  for (let mask = 0; mask < 1 << angles.length; mask += 1) {
    const chosen = angles.filter((_, bit) => (mask >> bit) & 1);
    if (chosen.length >= best) continue;
    const covers = engine.valves.every((v) =>
      chosen.some((a) => inside(engine, windows, v.name, a)),
    );
    if (covers) best = chosen.length;
  }
  return best;
}

describe('any four-stroke engine', () => {
  it('has each valve set once, inside its window', () => {
    fc.assert(
      fc.property(engines, (engine) => {
        const { stops } = valueIn(valveRound(engine));
        const set = stops.flatMap((stop) => stop.set.map((valve) => valve.name));
        expect([...set].sort()).toEqual(engine.valves.map((valve) => valve.name).sort());
        for (const stop of stops) {
          const angle = engine.firesAt.get(stop.cylinder) ?? Number.NaN;
          for (const valve of stop.set) {
            expect(inside(engine, ORDINARY_WINDOWS, valve.name, angle)).toBe(true);
          }
        }
      }),
      { numRuns: 200 },
    );
  });

  it('takes as few stops as trying every choice finds, whatever the windows', () => {
    fc.assert(
      fc.property(engines, windowOf, windowOf, (engine, inlet, exhaust) => {
        const windows = { inlet, exhaust };
        const round = valveRound(engine, { windows });
        const fewest = fewestByTryingAll(engine, windows);
        expect(round.ok ? round.value.stops.length : Number.POSITIVE_INFINITY).toBe(fewest);
      }),
      { numRuns: 300 },
    );
  });

  it('turns the crank once round at most, and adds up to where it stops', () => {
    fc.assert(
      fc.property(engines, (engine) => {
        const { stops } = valueIn(valveRound(engine));
        const turned = stops.reduce((sum, stop) => sum + stop.turn, 0);
        expect(turned).toBeLessThan(CYCLE);
        const last = stops.at(-1);
        expect(turned).toBeCloseTo(engine.firesAt.get(last?.cylinder ?? 0) ?? -1, 9);
      }),
    );
  });
});
