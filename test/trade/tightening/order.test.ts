import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Pattern, tighteningOrder } from '../../../src/trade/tightening/order.ts';
import { orderInWords, orderPicture } from '../../../src/trade/tightening/order-picture.ts';
import { problemIn, valueIn } from '../unwrap.ts';

const turns = (pattern: Pattern, fasteners: number, loosening = false) =>
  valueIn(tighteningOrder({ pattern, fasteners, loosening })).turns;

describe('orders known to the trade', () => {
  // ASME PCC-1, cross-pattern for 4, 8, 12, 16 and 20 bolts, from memory.
  it.each([
    [4, [1, 3, 2, 4]],
    [8, [1, 5, 3, 7, 2, 6, 4, 8]],
    [12, [1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12]],
    [16, [1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16]],
    [20, [1, 11, 6, 16, 3, 13, 8, 18, 5, 15, 10, 20, 2, 12, 7, 17, 4, 14, 9, 19]],
  ])('%d in a ring, opposite', (fasteners, expected) => {
    expect(turns('opposite', fasteners)).toEqual(expected);
    expect(turns('star', fasteners)).toEqual(expected);
  });

  it('five wheel nuts in a star (common practice, no source)', () => {
    expect(turns('star', 5)).toEqual([1, 3, 5, 2, 4]);
  });

  // Drawn by hand: columns from the middle, each four corner to corner.
  it('ten in two rows of five from the middle column outwards', () => {
    expect(turns('centre-outwards', 10)).toEqual([3, 8, 2, 9, 4, 7, 1, 10, 5, 6]);
  });

  it('eight in two rows of four from the middle outwards, and loosened the other way round', () => {
    expect(turns('centre-outwards', 8)).toEqual([2, 7, 3, 6, 1, 8, 4, 5]);
    expect(turns('centre-outwards', 8, true)).toEqual([5, 4, 8, 1, 6, 3, 7, 2]);
  });
});

describe('what holds for every number', () => {
  const rings = fc.integer({ min: 3, max: 60 });
  const even = fc.integer({ min: 2, max: 30 }).map((half) => 2 * half);

  it('each fastener is turned once', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          rings.map((count) => ['star', count] as const),
          even.map((count) => ['opposite', count] as const),
          even.map((count) => ['centre-outwards', count] as const),
        ),
        ([pattern, count]) => {
          const sorted = [...turns(pattern, count)].sort((a, b) => a - b);
          expect(sorted).toEqual(Array.from({ length: count }, (_, index) => index + 1));
        },
      ),
    );
  });

  it('opposite: each first is followed by the one across', () => {
    fc.assert(
      fc.property(even, (count) => {
        const order = turns('opposite', count);
        for (let i = 0; i < count; i += 2) {
          expect(Math.abs((order[i] ?? 0) - (order[i + 1] ?? 0))).toBe(count / 2);
        }
      }),
    );
  });

  it('a ring of five or more: no fastener is followed by its neighbour', () => {
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 60 }), (count) => {
        const order = turns('star', count);
        for (let i = 1; i < count; i += 1) {
          const apart = Math.abs((order[i] ?? 0) - (order[i - 1] ?? 0));
          expect(Math.min(apart, count - apart)).toBeGreaterThan(1);
        }
      }),
    );
  });

  it('two rows: never nearer to the middle than the one before', () => {
    fc.assert(
      fc.property(even, (count) => {
        const { turns: order, places } = valueIn(
          tighteningOrder({ pattern: 'centre-outwards', fasteners: count }),
        );
        const fromMiddle = order.map((fastener) => Math.abs(places[fastener - 1]?.x ?? Number.NaN));
        for (let i = 1; i < count; i += 1) {
          expect(fromMiddle[i] ?? 0).toBeGreaterThanOrEqual((fromMiddle[i - 1] ?? 0) - 1e-9);
        }
      }),
    );
  });
});

describe('what is refused', () => {
  it.each([
    ['opposite', 5, 'odd number'],
    ['centre-outwards', 9, 'odd number'],
    ['star', 2, '2 fasteners cannot'],
    ['star', 5.5, '5.5 fasteners cannot'],
    ['star', -6, '-6 fasteners cannot'],
    ['star', 600, '600 fasteners cannot'],
    ['star', Number.NaN, 'NaN fasteners cannot'],
    ['zigzag' as Pattern, 6, '"zigzag" is not a pattern'],
  ] as const)('%s with %d', (pattern, fasteners, says) => {
    expect(problemIn(tighteningOrder({ pattern, fasteners })).what).toContain(says);
  });
});

describe('the picture', () => {
  it('says the whole order in words as well', () => {
    const order = valueIn(tighteningOrder({ pattern: 'star', fasteners: 5 }));
    const words = 'First 1, then 3, 5, 2, 4. Fasteners are numbered clockwise from the top.';
    expect(orderInWords(order)).toBe(words);
    expect(orderPicture(order)).toContain(`<desc>${words}</desc>`);
    expect(order.answer).toBe(
      "Tighten 1, 3, 5, 2, 4 (5 fasteners, numbered clockwise from the top). The maker's order comes first.",
    );
  });

  it('has one circle for each fastener, inside the frame and clear of the others, with its turn in it', () => {
    for (const pattern of ['star', 'centre-outwards'] as const) {
      for (const fasteners of [4, 6, 10, 26, 60]) {
        const order = valueIn(tighteningOrder({ pattern, fasteners }));
        const picture = orderPicture(order);
        const [, width, height] = /viewBox="0 0 (\d+) (\d+)"/.exec(picture)?.map(Number) ?? [];
        const circles = [...picture.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)" r="(\d+)"/g)].map(
          ([, x, y, r]) => ({ x: Number(x), y: Number(y), r: Number(r) }),
        );
        expect(circles).toHaveLength(fasteners);
        const inside = [...picture.matchAll(/font-weight="bold"[^>]*>(\d+)</g)].map((m) =>
          Number(m[1]),
        );
        // Circles are drawn in the order of the fasteners: the nth shows when fastener n is turned.
        expect(inside).toEqual(
          order.places.map(({ fastener }) => order.turns.indexOf(fastener) + 1),
        );
        for (const [index, a] of circles.entries()) {
          expect(a.x - a.r).toBeGreaterThanOrEqual(0);
          expect(a.x + a.r).toBeLessThanOrEqual(width ?? 0);
          expect(a.y - a.r).toBeGreaterThanOrEqual(0);
          expect(a.y + a.r).toBeLessThanOrEqual(height ?? 0);
          for (const b of circles.slice(index + 1)) {
            expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(a.r + b.r);
          }
        }
      }
    }
  });

  it('closes every element it opens and uses no colour of its own', () => {
    const picture = orderPicture(valueIn(tighteningOrder({ pattern: 'opposite', fasteners: 8 })));
    for (const name of ['svg', 'title', 'desc', 'text']) {
      expect(picture.split(`<${name}`).length, name).toBe(picture.split(`</${name}>`).length);
    }
    for (const [, colour] of picture.matchAll(/(?:fill|stroke)="([^"]+)"/g)) {
      expect(['none', 'currentColor']).toContain(colour);
    }
  });
});
