// "1.5", "1,5", "1,500", "2 1/2": a number as it is typed.
import { numbers as german } from '../../../language/packs/de/numbers.ts';
import { numbers as english } from '../../../language/packs/en/numbers.ts';

/** The value, and how many decimals were typed: what the gauge could show. */
export type TypedNumber = { readonly value: number; readonly decimals: number };

/**
 * Reads the digits of one number with points and commas. With both, the last one is the decimal sign. A single comma
 * before exactly three digits separates thousands unless the number begins with 0; any other single one is decimal.
 */
export function typedNumber(digits: string): TypedNumber {
  const signs = [...digits.matchAll(/[.,]/g)];
  const last = signs.at(-1);
  if (!last) return { value: Number(digits), decimals: 0 };
  const kinds = new Set(signs.map(([sign]) => sign));
  const behind = digits.length - last.index - 1;
  const thousands =
    (signs.length > 1 && kinds.size === 1) ||
    (signs.length === 1 && last[0] === ',' && behind === 3 && /^[1-9]\d{0,2},/.test(digits));
  if (thousands) return { value: Number(digits.replace(/[.,]/g, '')), decimals: 0 };
  const whole = digits.slice(0, last.index).replace(/[.,]/g, '');
  const part = digits.slice(last.index + 1);
  return { value: Number(`${whole}.${part}`), decimals: part.length };
}

/** Number words of both languages; "one" is as often a pronoun, and a hundred and more want a sentence around them. */
const WORDS: ReadonlyMap<string, number> = new Map(
  [...Object.entries(english), ...Object.entries(german)].filter(
    ([, value]) => Number.isInteger(value) && value > 1 && value < 100,
  ),
);
const TENS = /^(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)$/;

/** Number words as figures: "forty litres" is "40 litres", "twenty-five" is "25". "One" stays a word. */
export function wordsAsNumbers(text: string): string {
  return text.replace(
    /(?<![\p{L}\d])(\p{L}+)(?:[\s-](one|two|three|four|five|six|seven|eight|nine))?(?![\p{L}\d])/gu,
    (all: string, first: string, second: string | undefined) => {
      const value = WORDS.get(first);
      if (value === undefined) {
        return second === undefined
          ? all
          : all.slice(0, -second.length) + (WORDS.get(second) ?? second);
      }
      if (second === undefined) return String(value);
      const unit = english[second] ?? 0;
      return TENS.test(first) ? String(value + unit) : `${value} ${unit}`;
    },
  );
}
