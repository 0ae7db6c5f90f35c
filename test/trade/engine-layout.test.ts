import { describe, expect, it } from 'vitest';
import { layEngine } from '../../src/trade/engine-layout.ts';
import { problemIn, valueIn } from './unwrap.ts';

describe('laying out an engine', () => {
  it('spaces a six in line 120 degrees apart (Denton; US Army OD1001)', () => {
    const engine = valueIn(layEngine({ firingOrder: [1, 5, 3, 6, 2, 4] }));
    expect([...engine.firesAt]).toEqual([
      [1, 0],
      [5, 120],
      [3, 240],
      [6, 360],
      [2, 480],
      [4, 600],
    ]);
    expect(engine.valves).toHaveLength(12);
  });

  it('follows unequal intervals', () => {
    // 90 and 150 in turn, as in a V6 on a 90 degree block without offset pins: 3 · (90 + 150) = 720.
    const engine = valueIn(
      layEngine({ firingOrder: [1, 6, 5, 4, 3, 2], intervals: [90, 150, 90, 150, 90, 150] }),
    );
    expect([...engine.firesAt.values()]).toEqual([0, 90, 240, 330, 480, 570]);
  });

  it('names each of several valves of a kind', () => {
    const engine = valueIn(
      layEngine({ firingOrder: [1, 2], perCylinder: { inlet: 2, exhaust: 1 } }),
    );
    expect(engine.valves.map((valve) => valve.name)).toEqual([
      'cylinder 1 inlet 1',
      'cylinder 1 inlet 2',
      'cylinder 1 exhaust',
      'cylinder 2 inlet 1',
      'cylinder 2 inlet 2',
      'cylinder 2 exhaust',
    ]);
  });

  it.each([
    [{ firingOrder: [] }, 'The firing order is empty.'],
    [{ firingOrder: [1, 3, 3, 2] }, 'Cylinder 3 is in the firing order twice.'],
    [{ firingOrder: [1, 0.5] }, '"0.5" in the firing order is not a cylinder number.'],
    [
      { firingOrder: [1, 2], intervals: [360, 350] },
      'The firing intervals add up to 710 degrees, a four-stroke cycle has 720.',
    ],
    [
      { firingOrder: [1, 2], intervals: [720] },
      'There are 1 firing intervals for 2 cylinders, each must be 0 degrees or more.',
    ],
    [
      { firingOrder: [1], perCylinder: { inlet: 0, exhaust: 0 } },
      'The number of clearances at each cylinder is not given in whole numbers.',
    ],
  ])('refuses %j', (description, what) => {
    expect(problemIn(layEngine(description)).what).toBe(what);
  });
});
