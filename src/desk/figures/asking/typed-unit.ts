// "45 lb ft", "45lbft", "45 ft-lbs": a unit as it is typed behind a figure, or alone.
import { english } from '../../../language/packs/en/index.ts';
import { isUnit, meaningsOf, type Unit } from '../../../trade/units.ts';

/** A unit, and what it may stand for where the word alone does not say. */
export type TypedUnit = {
  readonly unit: Unit;
  readonly unsure: readonly Unit[];
  /** Length of the text it takes up. */
  readonly length: number;
};

/** Spellings beside those of the English language pack: American measures in full, and German. */
const MORE: Readonly<Partial<Record<Unit, string>>> = {
  'N.m': 'newtonmeter',
  'lbf.in': 'lbs in|inch lbs|inch lb|pounds inch',
  'kgf.m': 'kpm|mkp|kilogram metre|kilogram metres|kilogram force metre|kgf metre|kgf metres',
  gal: 'gallone|gallonen',
  gal_us: 'us gals|american gallon|american gallons|gallon us|gallons us|usgal',
  gal_imp: 'imp gals|imp gallon|imp gallons|uk gallon|british gallons|imperial gal|impgal',
  qt_us: 'us qt|us qts|us quart|us quarts',
  qt_imp: 'imp qt|imp qts|imp quart|imp quarts|imperial quart|imperial quarts|uk quart|uk quarts',
  pt_us: 'us pt|us pts|us pint|us pints',
  pt_imp: 'imp pt|imp pts|imp pint|imp pints|imperial pint|imperial pints|uk pint|uk pints',
  in: 'zoll',
  mm: 'millimeter',
  km: 'kilometer',
  mi: 'meile|meilen',
  Cel: 'grad c|grad celsius',
  degF: 'grad f|grad fahrenheit',
  deg: 'grad',
  '%': 'prozent|vol',
  h: 'stunde|stunden|std',
  min: 'minuten',
  rpm: 'r min|revs per min|u min',
  kg: 'kilogramm',
  lb: 'pound|pounds|pfund',
  Ohm: 'Ω|ohm',
  V: 'volt',
  A: 'ampere',
};

/** "mil" is a millimetre in a British workshop and a thousandth of an inch in an American one. */
const MIL: readonly Unit[] = ['mm', 'thou'];

const spellings = new Map<string, { unit: Unit; unsure: readonly Unit[] }>();
for (const [words, unit] of Object.entries(english.units)) {
  if (isUnit(unit)) spellings.set(words.toLowerCase(), { unit, unsure: meaningsOf(unit) });
}
for (const [unit, words] of Object.entries(MORE)) {
  if (!isUnit(unit)) continue;
  for (const word of words.split('|')) {
    spellings.set(word.toLowerCase(), { unit, unsure: meaningsOf(unit) });
  }
}
for (const word of ['mil', 'mils']) spellings.set(word, { unit: 'mm', unsure: MIL });

const SEPARATOR = '[\\s.·*/-]{0,3}';
const bare = (text: string) => text.replace(/[\s.·*/-]+/g, '');
const escaped = (text: string) => text.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&');

/** "lb ft" and "lbft" are one spelling once the separators are gone; of two meanings the first stands. */
const byBare = new Map<string, { unit: Unit; unsure: readonly Unit[] }>();
for (const [words, meaning] of spellings) {
  if (!byBare.has(bare(words))) byBare.set(bare(words), meaning);
}

const alternatives = [...spellings.keys()]
  .sort((a, b) => b.length - a.length)
  .map((words) =>
    words
      .split(/[\s.·*/-]+/)
      .map(escaped)
      .join(SEPARATOR),
  );
const UNIT = new RegExp(`(?:${alternatives.join('|')}|in)(?![\\p{L}\\d])`, 'uy');

/** "in" is an inch only where an inch can be meant: "10in", "10 in arm", "4 in to mm", not "28 in the bucket". */
const BEHIND_AN_INCH =
  /^\s*(?:$|[,;.)?]|(?:in|to|into|as|arm|lever|wrench|long|ext\w*|crow\w*|adapt\w*|and|on|with|x)\b)/;

/**
 * The unit that begins at a place of a text in small letters; undefined where none does.
 * @param glued whether it touches a figure: single letters that are also words are units only then
 */
export function typedUnitAt(text: string, at: number, glued: boolean): TypedUnit | undefined {
  UNIT.lastIndex = at;
  const match = UNIT.exec(text);
  if (!match) return undefined;
  const typed = match[0];
  if (typed === 'in' && !glued && !BEHIND_AN_INCH.test(text.slice(at + 2))) return undefined;
  if (!glued && /^(?:a|s|k)$/.test(typed)) return undefined;
  const meaning = typed === 'in' ? ({ unit: 'in', unsure: [] } as const) : byBare.get(bare(typed));
  return meaning && { ...meaning, length: typed.length };
}

/** A text that is one unit and nothing else: "nm", "us gallons". */
export function typedUnit(text: string): TypedUnit | undefined {
  const tidy = text.trim();
  const found = typedUnitAt(tidy, 0, true);
  return found && found.length === tidy.length ? found : undefined;
}
