// "what is 45 lb ft in nm": a figure in another unit.
import {
  convert,
  convertDifference,
  formatQuantity,
  isUnit,
  kindOf,
  type QuantityKind,
  symbolOf,
  type Unit,
} from '../../../trade/units.ts';
import type { Asked } from '../asking/asked.ts';
import { type TypedUnit, typedUnit } from '../asking/typed-unit.ts';
import { asks, figureKind, means, type Read, stopped, typedClearly } from '../figure-kind.ts';

export type Conversion = {
  readonly value: number;
  readonly from: Unit;
  readonly to: Unit;
  /** A difference of temperature: 10 °C warmer is 18 °F warmer. */
  readonly difference?: true;
};

const LEAD =
  /^(?:what(?:'?s| is| are)?|how much (?:is|are)|convert|change|turn|was (?:ist|sind)|wie ?viel (?:ist|sind)|rechne)?\s*$/;
const DIFFERENCE =
  /\b(?:(?:a )?(?:difference|rise|drop|change) of|warmer|colder|hotter|cooler|unterschied(?: von)?)\b/g;
const TARGET_BEHIND =
  /^\s*(?:(?:into|in to|in|to|as|nach|zu)\b|=\s*\??|(?:is|are|sind|ist)?\s*(?:how many|how much|wie ?viele?))\s*(?:how many\s*)?(.+)$/;
const TARGET_BEFORE =
  /^(?:how many|how much|wie ?viele?)\s+(.+?)\s+(?:is|are|in|=|sind|ist|makes?)\s*(?:in\s*)?$/;

/** What a measure that is not metric is usually wanted in. */
const USUAL: Readonly<Partial<Record<Unit, Unit>>> = {
  'lbf.ft': 'N.m',
  'lbf.in': 'N.m',
  'kgf.m': 'N.m',
  gal: 'L',
  gal_us: 'L',
  gal_imp: 'L',
  qt: 'L',
  qt_us: 'L',
  qt_imp: 'L',
  pt: 'L',
  pt_us: 'L',
  pt_imp: 'L',
  psi: 'bar',
  thou: 'mm',
  in: 'mm',
  mi: 'km',
  degF: 'Cel',
  lb: 'kg',
};

/** What a bare number may be before it is changed into a unit of this kind. */
const OTHERS: Readonly<Partial<Record<QuantityKind, readonly Unit[]>>> = {
  torque: ['N.m', 'lbf.ft', 'lbf.in', 'kgf.m'],
  volume: ['L', 'gal_us', 'gal_imp'],
  pressure: ['bar', 'psi', 'kPa'],
  length: ['mm', 'in', 'thou'],
  distance: ['km', 'mi'],
  temperature: ['Cel', 'degF'],
  mass: ['kg', 'lb'],
};

/** None of these can be less than nothing. */
const NEVER_NEGATIVE = new Set<QuantityKind>([
  'volume',
  'mass',
  'distance',
  'duration',
  'resistance',
]);

const FORCE_UNITS: Readonly<Partial<Record<Unit, readonly Unit[]>>> = {
  lb: ['lbf.ft', 'lbf.in'],
  kg: ['kgf.m'],
  g: [],
};

export const convertUnit = figureKind<Conversion>({
  kind: 'convert',
  means: 'a figure in another unit',
  examples: [
    { type: 'what is 45 lb ft in nm', means: { value: 45, from: 'lbf.ft', to: 'N.m' } },
    { type: '300 nm in lbft', means: { value: 300, from: 'N.m', to: 'lbf.ft' } },
    { type: 'how many litres is 2 us gallons', means: { value: 2, from: 'gal_us', to: 'L' } },
    { type: '2 gal in litres', means: { value: 2, from: 'gal', to: 'L' } },
    { type: 'convert 100 psi to bar', means: { value: 100, from: 'psi', to: 'bar' } },
    { type: '14 thou in mm?', means: { value: 14, from: 'thou', to: 'mm' } },
    { type: 'what is -37 c in f', means: { value: -37, from: 'Cel', to: 'degF' } },
    {
      type: 'a difference of 10 c in f',
      means: { value: 10, from: 'Cel', to: 'degF', difference: true },
    },
    { type: 'wie viel nm sind 45 lb ft', means: { value: 45, from: 'lbf.ft', to: 'N.m' } },
  ],
  read,
  answer: ({ value, from, to, difference }) => {
    if (value < 0 && NEVER_NEGATIVE.has(kindOf(from))) {
      return { says: `There is no ${kindOf(from)} below nought. Check the sign of the figure.` };
    }
    const change = difference ? convertDifference : convert;
    const result = change(value, from, to);
    if (typeof result !== 'number') return stopped(result);
    const given = formatQuantity(value, from);
    return {
      says: `${formatQuantity(result, to)} (${difference ? `a difference of ${given}` : given}${basisOf(from, to)}).`,
    };
  },
});

function read(asked: Asked): Read<Conversion> {
  const plain = asked.plain.replace(DIFFERENCE, (words) => ' '.repeat(words.length));
  const [said] = asked.figures;
  if (!said || asked.figures.length > 1) return undefined;
  const before = plain.slice(0, said.from);
  const after = plain.slice(said.to).replace(/\s+(?:exactly|genau)$/, '');
  const target = targetIn(before, after);
  if (target === undefined) {
    // "45 lb in nm", "1 lb in kg": the "in" was taken for inches.
    const behind = said.unit === 'lbf.in' && LEAD.test(before) ? typedUnit(after)?.unit : undefined;
    if (behind && kindOf(behind) === 'torque') return askForce(asked, 'lb', said.value, behind);
    if (behind && kindOf(behind) === 'mass') {
      return means({ value: said.value, from: 'lb', to: behind });
    }
    const usual = said.unit && USUAL[said.unit];
    const alone = /^(?:what(?:'?s| is)|how much is|convert|was sind|wie ?viel sind)\s*$/.test(
      before,
    );
    if (!alone || after.trim() !== '' || !usual || !said.unit) return undefined;
    return means({ value: said.value, from: said.unit, to: usual });
  }
  const to = target.unit;
  if (said.unit === undefined) {
    if (!asked.question && !/^\s*$/.test(before)) return undefined;
    const others = (OTHERS[kindOf(to)] ?? []).filter((unit) => unit !== to);
    if (others.length === 0 || !asked.question) return undefined;
    return asks(
      `${said.value} of which unit?`,
      others.map((unit) => ({
        label: symbolOf(unit),
        text: `${said.value} ${typedClearly(unit)} in ${typedClearly(to)}`,
      })),
    );
  }
  const from = said.unit === 'deg' && kindOf(to) === 'temperature' ? other(to) : said.unit;
  if (kindOf(to) === 'torque' && FORCE_UNITS[from]) return askForce(asked, from, said.value, to);
  if (target.unsure.length > 0) {
    return asks(
      `Which one is meant: ${target.unsure.map(typedClearly).join(' or ')}?`,
      target.unsure.map((unit) => ({
        label: typedClearly(unit),
        text: `${asked.plain.slice(said.from, said.to)} in ${typedClearly(unit)}`,
      })),
    );
  }
  const difference = plain !== asked.plain && kindOf(from) === 'temperature';
  return means({
    value: said.value,
    from,
    to,
    ...(difference ? { difference: true as const } : {}),
  });
}

function targetIn(before: string, after: string): TypedUnit | undefined {
  const behind = TARGET_BEHIND.exec(after)?.[1];
  if (behind !== undefined && LEAD.test(before)) return typedUnit(behind);
  const ahead = TARGET_BEFORE.exec(before)?.[1];
  return ahead !== undefined && after.trim() === '' ? typedUnit(ahead) : undefined;
}

const other = (temperature: Unit): Unit => (temperature === 'Cel' ? 'degF' : 'Cel');

/** Pounds and kilograms weigh; a torque has a length with them. */
function askForce(asked: Asked, typed: Unit, value: number, to: Unit): Read<Conversion> {
  const units = FORCE_UNITS[typed] ?? [];
  return asks(
    `${symbolOf(typed)} measures mass, not torque: which torque is meant?`,
    units.map((unit) => ({
      label: symbolOf(unit),
      text: `${value} ${unit.replace('.', ' ')} in ${isUnit(to) ? to : asked.plain}`,
    })),
  );
}

/** The size of the unit by definition, where that says something. */
function basisOf(from: Unit, to: Unit): string {
  const one = convert(1, from, to);
  if (kindOf(from) === 'temperature' || typeof one !== 'number' || from === to) return '';
  return one >= 0.01
    ? `; 1 ${symbolOf(from)} is ${formatQuantity(one, to, 7)} by definition`
    : `; 1 ${symbolOf(to)} is ${formatQuantity(1 / one, from, 7)} by definition`;
}
