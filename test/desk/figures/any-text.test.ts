// Whatever is typed, the figures never throw, never hang, and never answer with a broken figure.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { FIGURE_KINDS } from '../../../src/desk/figures/index.ts';
import { ask } from './ground.ts';
import { sampleView } from './sample-view.ts';

const view = sampleView('injectors-six-cylinder');
const types = FIGURE_KINDS.flatMap(({ examples }) => examples.map(({ type }) => type));
const words = [...new Set(types.flatMap((type) => type.split(' ')))];

function sound(text: string): void {
  for (const each of [undefined, view]) {
    const card = ask(text, each)?.card;
    if (!card) continue;
    expect(card.text, text).not.toMatch(/NaN|undefined|Infinity|\[object/);
    expect(card.text.trim(), text).not.toBe('');
    expect(card.actions?.length ?? 0, text).toBeLessThanOrEqual(3);
  }
}

it('any text', () => {
  fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 200 }), sound));
});

it('any words of the examples, in any order, with any figures', () => {
  const figure = fc.oneof(
    fc.integer({ min: -10_000, max: 100_000 }).map(String),
    fc.double({ min: -100, max: 100, noNaN: true }).map((value) => value.toFixed(2)),
  );
  const word = fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom(...words) },
    { weight: 1, arbitrary: figure },
  );
  fc.assert(
    fc.property(fc.array(word, { minLength: 1, maxLength: 14 }), (all) => sound(all.join(' '))),
    { numRuns: 500 },
  );
});

it('every example with any figure in place of one of its own', () => {
  const figure = fc.constantFrom(
    '-1',
    '0',
    '0.5',
    '1e9',
    '999999999',
    '1,5',
    '12.34.56',
    '¾',
    '00',
  );
  fc.assert(
    fc.property(fc.constantFrom(...types), figure, fc.nat(5), (type, put, place) => {
      let seen = 0;
      sound(type.replace(/\d+(?:\.\d+)?/g, (own) => (seen++ === place ? put : own)));
    }),
    { numRuns: 500 },
  );
});

it.each([
  ' ',
  '?',
  '?!',
  '. ',
  '-',
  '1',
  '1 ',
  '1-',
  '1,',
  '1/2 ',
  'a',
  'a ',
  'is ',
  'of the ',
  'fill with ',
  '00 ',
  'in ',
])('as much of "%s" as a question can hold', (piece) => {
  sound(piece.repeat(Math.floor(240 / piece.length)));
  for (const type of types)
    sound(`${type.slice(0, 100)} ${piece.repeat(Math.floor(130 / piece.length))}x`);
});

it('a text longer than a question is none', () => {
  expect(ask(`what is 45 lb ft in nm ${'and so on '.repeat(40)}`)).toBeUndefined();
  expect(ask('')).toBeUndefined();
  expect(ask('   ?  ')).toBeUndefined();
});
