// Numbers, units and the words around them.
import {
  ordinals as englishOrdinals,
  units as englishUnits,
  letters as radio,
} from '../en/numbers.ts';

const ONES = 'null eins zwei drei vier fünf sechs sieben acht neun zehn elf zwölf'.split(' ');
const STEMS = ' ein zwei drei vier fünf sech sieb acht neun'.split(' ');
const TENS = '  zwanzig dreißig vierzig fünfzig sechzig siebzig achtzig neunzig'.split(' ');

/** The word of a number below 100; "ein" rather than "eins" inside longer words. */
function under100(value: number): string {
  if (value <= 12) return ONES[value] ?? '';
  if (value < 20)
    return value === 16 ? 'sechzehn' : value === 17 ? 'siebzehn' : `${ONES[value - 10]}zehn`;
  const [ten, one] = [Math.floor(value / 10), value % 10];
  const tens = TENS[ten] ?? '';
  if (one === 0) return tens;
  const ones = one === 1 ? 'ein' : one === 6 ? 'sechs' : one === 7 ? 'sieben' : (STEMS[one] ?? '');
  return `${ones}und${tens}`;
}

function all(): Record<string, number> {
  const out: Record<string, number> = {
    zwo: 2,
    hundert: 100,
    tausend: 1000,
    anderthalb: 1.5,
    eineinhalb: 1.5,
    zweieinhalb: 2.5,
    dreieinhalb: 3.5,
    viereinhalb: 4.5,
    halber: 0.5,
    halbes: 0.5,
    halben: 0.5,
  };
  const add = (word: string, value: number) => {
    out[word] = value;
    out[word.replaceAll('ß', 'ss')] = value;
    out[word.replaceAll('ü', 'ue').replaceAll('ö', 'oe')] = value;
  };
  for (let n = 0; n < 100; n += 1) add(under100(n), n);
  for (let hundreds = 1; hundreds < 20; hundreds += 1) {
    const before = hundreds === 1 ? ['hundert', 'einhundert'] : [`${under100(hundreds)}hundert`];
    for (const word of before) {
      for (let n = 0; n < 100; n += 1) add(n === 0 ? word : word + under100(n), hundreds * 100 + n);
    }
  }
  return out;
}

/** From null to neunzehnhundertneunundneunzig, one word each. */
export const numbers: Readonly<Record<string, number>> = all();

const ORDINALS = 'erst zweit dritt viert fünft sechst'.split(' ');

export const ordinals: Readonly<Record<string, number>> = {
  ...Object.fromEntries(
    ORDINALS.flatMap((stem, index) =>
      ['e', 'er', 'en', 'es'].map((ending) => [stem + ending, index + 1] as const),
    ),
  ),
  ...Object.fromEntries(Object.entries(englishOrdinals).filter(([word]) => /^\d/.test(word))),
};

export const letters = radio;

const unitWords: readonly (readonly [unit: string, words: string])[] = [
  ['N.m', 'newtonmeter|newtonmetern|newton meter|newton metern'],
  ['L', 'liter|litern|ltr'],
  ['mL', 'milliliter'],
  ['mm', 'millimeter|millimetern'],
  ['cm', 'zentimeter'],
  ['m', 'meter|metern'],
  ['km', 'kilometer|kilometern'],
  ['kg', 'kilo|kilogramm'],
  ['g', 'gramm'],
  ['h', 'stunde|stunden|std'],
  ['min', 'minute|minuten|min'],
  ['s', 'sekunde|sekunden|sek'],
  ['Cel', 'grad celsius|grad c|grad plus'],
  ['deg', 'grad|°'],
  ['%', 'prozent|%'],
  ['V', 'volt'],
  ['A', 'ampere'],
  ['rpm', 'umdrehungen|u/min'],
];

/** What is written in English units is written in German ones too, words that mean something else aside. */
export const units: Readonly<Record<string, string>> = {
  ...Object.fromEntries(
    Object.entries(englishUnits).filter(([word]) => !/^(in|thou|lt|c|k|pt|pint|g)$/.test(word)),
  ),
  ...Object.fromEntries(
    unitWords.flatMap(([unit, words]) => words.split('|').map((word) => [word, unit])),
  ),
};

const sided = (side: readonly string[], text: string) =>
  text.split(' ').map((word) => [word, side] as const);

/** Sides and ends to the words plans use. */
export const sides: Readonly<Record<string, readonly string[]>> = Object.fromEntries([
  ...sided(['left'], 'left links linke linken linker linkes linkem li fahrerseite'),
  ...sided(['right'], 'right rechts rechte rechten rechter rechtes rechtem re beifahrerseite'),
  ...sided(['front'], 'front vorne vorn vordere vorderen vorderer vorderes vorderachse'),
  ...sided(['rear'], 'rear hinten hintere hinteren hinterer hinteres hinterachse'),
  ...sided(['front', 'left'], 'vl vornelinks'),
  ...sided(['front', 'right'], 'vr vornerechts'),
  ...sided(['rear', 'left'], 'hl hintenlinks'),
  ...sided(['rear', 'right'], 'hr hintenrechts'),
  ...sided(['inner'], 'inner innen innere inneren innerer'),
  ...sided(['outer'], 'outer außen aussen äußere äußeren'),
  ...sided(['upper'], 'upper obere oberen oberer'),
  ...sided(['lower'], 'lower untere unteren unterer'),
]);

export const positionNouns = [
  'zylinder',
  'nummer',
  'nr',
  'no',
  'position',
  'pos',
  'achse',
  'bank',
  'ecke',
  'topf',
];

export const stageNouns = ['stufe', 'stufen', 'durchgang', 'gang', 'st', 'stage'];
