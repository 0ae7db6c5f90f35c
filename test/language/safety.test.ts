// Reading never throws, does work in proportion to the length, and never makes a safety-critical step done by slips.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Lexicon } from '../../src/language/lexicon.ts';
import { readMessage } from '../../src/language/read.ts';
import { scanFigures } from '../../src/language/scan/figures.ts';
import { mangle } from './mangler.ts';
import { allLexicons, lexiconFor } from './plans.ts';

const injectors = lexiconFor('injectors');

describe('any text', () => {
  it('is read without throwing', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (text) => {
        readMessage(text, injectors, {});
        scanFigures(text);
      }),
      { numRuns: 300 },
    );
  });

  it('made of the words of the trade is read without throwing, and the same twice', () => {
    const word = fc.constantFrom(
      'cyl',
      '1',
      '3-5',
      'clamp',
      'not',
      'torqued',
      '20',
      'Nm',
      ',',
      'and',
      '28',
      'L',
      'drained',
      '?',
      'stage',
      '2',
      'all',
      'except',
      'at',
      '10:40',
      '½',
      '5/6',
      '"',
      '\n',
      '>',
      '✅',
      'off',
      'injector',
      'left',
      'to',
      'do',
      '0,35',
      'mm',
    );
    fc.assert(
      fc.property(fc.array(word, { maxLength: 25 }), (words) => {
        const text = words.join(' ');
        const first = readMessage(text, injectors, {});
        expect(readMessage(text, injectors, {})).toEqual(first);
        for (const act of first.acts) {
          expect(act.span[0]).toBeGreaterThanOrEqual(0);
          expect(act.span[1]).toBeLessThanOrEqual(text.length);
          for (const position of act.positions)
            expect(injectors.plan.setOf.has(position)).toBe(true);
        }
      }),
      { numRuns: 400 },
    );
  });
});

/** Counts the look-ups a reading makes, in place of a clock. */
function lookUps(text: string): number {
  let count = 0;
  const counted: Lexicon = {
    ...injectors,
    tongues: injectors.tongues.map((tongue) => ({
      ...tongue,
      vocabulary: {
        ...tongue.vocabulary,
        look: (word, mend) => {
          count += 1;
          return tongue.vocabulary.look(word, mend);
        },
      },
      phrases: {
        ...tongue.phrases,
        byRoot: new Proxy(tongue.phrases.byRoot, {
          get: (target, key) => {
            count += 1;
            const value = Reflect.get(target, key, target) as unknown;
            return typeof value === 'function' ? value.bind(target) : value;
          },
        }),
      },
    })),
  };
  readMessage(text, counted, {});
  return count;
}

describe('the work of a long text', () => {
  const kinds: readonly (readonly [string, string])[] = [
    ['reports', 'coolant drained 28 L and clamps torqued on cyl 3, '],
    ['junk', 'qwzrt plmk '],
    ['numbers', '1 2 '],
    ['one word', 'a'],
    ['quotes', '"a '],
  ];
  it.each(kinds)('grows in proportion: %s', (_, unit) => {
    const of = (length: number) =>
      lookUps(unit.repeat(Math.ceil(length / unit.length)).slice(0, length));
    const counts = [100, 1000, 10_000, 100_000].map(of);
    counts.slice(1).forEach((count, at) => {
      expect(count).toBeLessThanOrEqual(11 * ((counts[at] ?? 0) + 50));
    });
  });
});

/** Messages that do not say that a safety-critical step is done, written here and not from any rule. */
const NOT_SAID: readonly string[] = [
  'clamps not torqued yet',
  'about to torque the clamps on all six',
  'clamps torqued?',
  'are the pipe nuts torqued on 1 to 6',
  'once the clamps are torqued I will fit the pipes',
  'clamps 1 to 6 torqued right?',
  "can't say the pipe nuts are torqued",
  'pipe nuts on 2 and 5 to go',
  'clamps left to do',
  'still got to torque the clamps',
  'my back is torqued to stage 3',
  'battery not isolated',
  'think the rail is down',
  '> battery isolated',
  'Mo: "battery isolated"',
  'wish the rail was down',
  'should have the battery isolated by ten',
  'pipe nuts hand tight on all six',
  'need to isolate the battery',
  'isolate the battery',
];

const safetyDone = (text: string, lexicon: Lexicon) =>
  readMessage(text, lexicon, {}).acts.filter(
    (act) =>
      act.kind === 'done' &&
      act.step !== undefined &&
      lexicon.plan.stepById.get(act.step)?.weight === 'safety-critical',
  );

describe('words that do not say it', () => {
  it.each(NOT_SAID)('record nothing as done: %s', (text) => {
    expect(safetyDone(text, injectors)).toEqual([]);
  });

  it.each(NOT_SAID)('nor with one to three slips: %s', (text) => {
    const wrong = [1, 2, 3].flatMap((slips) =>
      mangle(text, slips, 7 * slips).filter((variant) => safetyDone(variant, injectors).length > 0),
    );
    expect(wrong).toEqual([]);
  });
});

it('has at least one lexicon to read with', () => {
  expect(allLexicons().length).toBeGreaterThan(0);
});
