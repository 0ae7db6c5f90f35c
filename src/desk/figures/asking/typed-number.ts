// "1.5", "1,5", "1,500", "2 1/2": a number as it is typed.

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

const WORDS: Readonly<Record<string, number>> = {
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
  eleven: 11,
  twelve: 12,
  thirteen: 13,
  fourteen: 14,
  fifteen: 15,
  sixteen: 16,
  seventeen: 17,
  eighteen: 18,
  nineteen: 19,
  twenty: 20,
  thirty: 30,
  forty: 40,
  fifty: 50,
  sixty: 60,
  seventy: 70,
  eighty: 80,
  ninety: 90,
  zwei: 2,
  drei: 3,
  vier: 4,
  fünf: 5,
  sechs: 6,
  sieben: 7,
  acht: 8,
  neun: 9,
  zehn: 10,
  zwölf: 12,
};
const TENS = /^(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)$/;

/** Number words as figures: "forty litres" is "40 litres", "twenty-five" is "25". "One" stays a word. */
export function wordsAsNumbers(text: string): string {
  return text.replace(
    /(?<![\p{L}\d])(\p{L}+)(?:[\s-](one|two|three|four|five|six|seven|eight|nine))?(?![\p{L}\d])/gu,
    (all: string, first: string, second: string | undefined) => {
      const value = Object.hasOwn(WORDS, first) ? WORDS[first] : undefined;
      if (value === undefined) {
        return second === undefined
          ? all
          : all.slice(0, -second.length) + (WORDS[second] ?? second);
      }
      if (second === undefined) return String(value);
      const unit = second === 'one' ? 1 : (WORDS[second] ?? 0);
      return TENS.test(first) ? String(value + unit) : `${value} ${unit}`;
    },
  );
}
