// Wild values for the fuzz tests: texts of any Unicode with workshop words between, and payloads with missing, extra and
// wrong-typed parts.
import fc from 'fast-check';

/** How many cases: few in `npm test`, 200,000 with `npm run check -- --whole`. */
export const casesOf = (few: number): number =>
  process.env.CHARGEHAND_FUZZ === undefined ? few : Number(process.env.CHARGEHAND_FUZZ);

export const SEED = 20_261_125;

const WORDS = [
  ...[
    'drained',
    '28 L',
    'cyl 3',
    'cyl 1-6',
    'and',
    'not',
    'stage 2',
    'done',
    '60 Nm',
    '90 deg',
    '"',
  ],
  ...['5 of 6', 'P0203', '7QK9X2', 'at 10:15', 'yes', 'before', 'scrap that', '26 not 28', '#1042'],
  ...[
    'release',
    'open job',
    'override',
    'because',
    '...',
    '?',
    '\n',
    ',',
    ';',
    '<@U0ADA>',
    '<!channel>',
  ],
  ...[
    '\u0000',
    '\u202E',
    '\u200D',
    '\uFEFF',
    '\uD800',
    '\uDC00',
    '\u0301\u0301',
    '\u{1F527}',
    '\u2028',
  ],
  ...[
    'NaN',
    '1e999',
    '-0',
    '9'.repeat(40),
    '1/0',
    '0x10',
    '٣ لتر',
    '三 升',
    '½ l',
    '1,000.5',
    '1.000,5',
  ],
  ...['__proto__', 'constructor', '{{', '%s', '\\', '&amp;', '<script>', "'; --", '$&'],
];

/** Any text: any code units at all, or workshop words and oddities in any order, or both. */
export const wildText: fc.Arbitrary<string> = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 60 }),
  fc.string({ unit: 'grapheme', maxLength: 60 }),
  fc
    .array(
      fc.oneof(
        { weight: 4, arbitrary: fc.constantFrom(...WORDS) },
        { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 6 }) },
      ),
      { maxLength: 14 },
    )
    .map((parts) => parts.join(' ')),
  // Lone halves of surrogate pairs too, which no well-formed text has.
  fc
    .array(fc.nat({ max: 0xffff }), { maxLength: 20 })
    .map((units) => String.fromCharCode(...units)),
);

const other: fc.Arbitrary<unknown> = fc.oneof(
  fc.constantFrom<unknown>(null, true, 0, -1, 1e308, '', 'x', [], {}, [[]], [null], {
    a: { b: 1 },
  }),
  fc.string({ unit: 'binary', maxLength: 30 }),
  fc.constantFrom('x'.repeat(3_000), '{"do":"say"}', '1772442000.000200', '../../etc', 'U0ADA01'),
  fc.jsonValue({ maxDepth: 2 }),
);

export type Mutation = {
  readonly at: number;
  readonly how: 'drop' | 'put' | 'add' | 'repeat';
  readonly value: unknown;
};

export const mutations: fc.Arbitrary<readonly Mutation[]> = fc.array(
  fc.record({
    at: fc.nat({ max: 200 }),
    how: fc.constantFrom(
      'drop' as const,
      'put' as const,
      'put' as const,
      'add' as const,
      'repeat' as const,
    ),
    value: other,
  }),
  { minLength: 1, maxLength: 4 },
);

type Holder = Record<string, unknown> | unknown[];

const holdersIn = (value: unknown, found: (readonly [Holder, string])[] = []) => {
  if (typeof value !== 'object' || value === null) return found;
  for (const [key, inner] of Object.entries(value)) {
    found.push([value as Holder, key]);
    holdersIn(inner, found);
  }
  return found;
};

/** A copy with parts dropped, replaced, added or repeated. */
export const mutated = (payload: unknown, changes: readonly Mutation[]): unknown => {
  const copy = structuredClone(payload);
  for (const { at, how, value: given } of changes) {
    const spots = holdersIn(copy);
    const spot = spots[at % Math.max(1, spots.length)];
    if (spot === undefined) return copy;
    const [holder, key] = spot;
    // What is put in is a copy: the next change may go into it, and the next case must not see that.
    const value = structuredClone(
      how === 'repeat' ? (holder as Record<string, unknown>)[key] : given,
    );
    if (Array.isArray(holder)) {
      if (how === 'drop') holder.splice(Number(key), 1);
      else if (how === 'put') holder[Number(key)] = value;
      else holder.push(value);
    } else if (how === 'drop') delete holder[key];
    else if (how === 'put') holder[key] = value;
    else holder[`${key}_${how}`] = value;
  }
  return copy;
};
