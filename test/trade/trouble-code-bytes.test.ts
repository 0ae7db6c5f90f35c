import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type HeavyCode, parseTroubleCode } from '../../src/trade/trouble-code.ts';
import {
  type ConversionMethod,
  readHeavyBytes,
  readLightBytes,
  writeHeavyBytes,
  writeLightBytes,
} from '../../src/trade/trouble-code-bytes.ts';
import { publishedFile } from './published-file.ts';
import { problemIn, valueIn } from './unwrap.ts';

const bytes = (hex: string) => hex.split(' ').map((two) => Number.parseInt(two, 16));
const heavy = (spn: number, fmi: number, count: number): HeavyCode => ({
  family: 'J1939',
  spn,
  fmi,
  ...(count < 127 && { count }),
});

// The first three: the tests of AgIsoStack++ (MIT). The others: worked out from the layout of SAE J1939-73.
const VERSION_4 = [
  ['D2 04 1F 01', 1234, 31, 1],
  ['37 02 02 01', 567, 2, 1],
  ['CE 22 0C 01', 8910, 12, 1],
  ['90 02 05 03', 656, 5, 3],
  ['BE 00 02 7E', 190, 2, 126],
  ['00 F0 FF 7F', 520192, 31, 127],
  ['00 00 20 01', 65536, 0, 1],
] as const;

// The layout of SAE J1939-73 worked out for versions 1, 2 and 3.
const OTHERS = [
  [1, '00 9A 5F 81', 1234, 31, 1],
  [2, '9A 00 5F 81', 1234, 31, 1],
  [3, 'D2 04 1F 81', 1234, 31, 1],
  [1, '04 59 CC 81', 8910, 12, 1],
  [2, '59 04 CC 81', 8910, 12, 1],
  [3, 'CE 22 0C 81', 8910, 12, 1],
  [1, '20 00 00 81', 65536, 0, 1],
  [2, '00 20 00 81', 65536, 0, 1],
  [3, '00 00 20 81', 65536, 0, 1],
] as const;

describe('four bytes of a heavy vehicle', () => {
  it.each(VERSION_4)('%s is SPN %i FMI %i, %i times', (hex, spn, fmi, count) => {
    const read = valueIn(readHeavyBytes(bytes(hex)));
    expect(read.ambiguous).toBe(false);
    expect(read.readings).toEqual([{ methods: [4], code: heavy(spn, fmi, count) }]);
    expect(valueIn(writeHeavyBytes(heavy(spn, fmi, count), 4))).toEqual(bytes(hex));
  });

  it.each(OTHERS)('version %i: %s is SPN %i FMI %i, %i times', (method, hex, spn, fmi, count) => {
    expect(valueIn(readHeavyBytes(bytes(hex), method)).readings).toEqual([
      { methods: [method], code: heavy(spn, fmi, count) },
    ]);
    expect(valueIn(writeHeavyBytes(heavy(spn, fmi, count), method))).toEqual(bytes(hex));
  });

  it('with conversion bit 1 are ambiguous, and every reading is named', () => {
    // 00 9A 5F: version 1 (0 · 2048 + 154 · 8 + 2 = 1234); version 2 (154 · 2048 + 0 · 8 + 2 = 315394);
    // version 3 (2 · 65536 + 154 · 256 + 0 = 170496).
    const read = valueIn(readHeavyBytes(bytes('00 9A 5F 81')));
    expect(read.ambiguous).toBe(true);
    expect(read.readings.map(({ methods, code }) => [methods, code.spn])).toEqual([
      [[1], 1234],
      [[2], 315394],
      [[3], 170496],
    ]);
    expect(read.answer).toMatch(
      /^Ambiguous: 00 9A 5F 81 may be SPN 1234 FMI 31 \(version 1\); or /,
    );
  });

  it('are clear where all versions agree', () => {
    // All 19 bits set lie the same way in every version.
    const read = valueIn(readHeavyBytes(bytes('FF FF FF 81')));
    expect(read.readings).toEqual([{ methods: [1, 2, 3], code: heavy(524287, 31, 1) }]);
    expect(read.ambiguous).toBe(false);
  });

  it('may be no code at all', () => {
    expect(valueIn(readHeavyBytes([0, 0, 0, 0])).answer).toContain('No trouble code');
    expect(valueIn(readHeavyBytes([255, 255, 255, 255])).answer).toContain('filler');
  });

  it('survive writing and reading by each method', () => {
    const method = fc.constantFrom<ConversionMethod>(1, 2, 3, 4);
    const spn = fc.integer({ min: 0, max: 524287 });
    const fmi = fc.integer({ min: 0, max: 31 });
    const count = fc.integer({ min: 0, max: 126 });
    fc.assert(
      fc.property(method, spn, fmi, count, (m, s, f, c) => {
        const code = heavy(s, f, c);
        const written = valueIn(writeHeavyBytes(code, m));
        expect(valueIn(readHeavyBytes(written, m)).readings).toEqual([{ methods: [m], code }]);
        const without = valueIn(readHeavyBytes(written)).readings;
        expect(without.filter((r) => r.methods.includes(m)).map((r) => r.code)).toEqual([code]);
      }),
    );
  });

  it.each([
    [[1, 2, 3], undefined, 'A heavy-vehicle trouble code has four bytes, there are 3.'],
    [[1, 2, 3, 256], undefined, 'A byte lies between 0 and 255 (00 and FF).'],
    [[1, 2, 3, 0.5], undefined, 'A byte lies between 0 and 255 (00 and FF).'],
    [[1, 2, 3, 129], 4, 'The conversion bit is 1, which version 4 does not use.'],
    [[1, 2, 3, 1], 2, 'The conversion bit is 0, which version 2 does not use.'],
  ] as const)('%j by version %s are refused', (list, method, what) => {
    expect(problemIn(readHeavyBytes(list, method)).what).toBe(what);
  });

  it('do not hold more than their bits', () => {
    expect(problemIn(writeHeavyBytes(heavy(524288, 0, 0), 4)).what).toContain('does not fit');
    expect(problemIn(writeHeavyBytes(heavy(1, 32, 0), 4)).what).toContain('does not fit');
  });
});

describe('two bytes of a light vehicle', () => {
  // python-OBD's tests (values only) for the first three, the layout of SAE J2012 for the others.
  it.each([
    ['01 04', 'P0104'],
    ['41 23', 'C0123'],
    ['80 03', 'B0003'],
    ['02 03', 'P0203'],
    ['2B AD', 'P2BAD'],
    ['C1 00', 'U0100'],
    ['FF FF', 'U3FFF'],
    ['96 A1', 'B16A1'],
  ])('%s is %s', (hex, written) => {
    expect(valueIn(readLightBytes(bytes(hex)))).toEqual({ family: 'J2012', code: written });
    expect(valueIn(writeLightBytes({ family: 'J2012', code: written }))).toEqual(bytes(hex));
  });

  it('may only fill a place', () => {
    expect(valueIn(readLightBytes([0, 0]))).toBeNull();
    expect(problemIn(readLightBytes([1])).what).toContain('two bytes');
    expect(problemIn(writeLightBytes({ family: 'J2012', code: 'P9' })).doThis).toBe(
      'Write it like P0203.',
    );
  });

  it('survive reading and writing, all of them', () => {
    for (let value = 1; value < 0x10000; value += 1) {
      const pair = [value >> 8, value & 255];
      const read = valueIn(readLightBytes(pair));
      if (!read) throw new Error(`no code for ${value}`);
      const again = valueIn(writeLightBytes(read));
      if (again[0] !== pair[0] || again[1] !== pair[1])
        throw new Error(`${read.code} comes back otherwise`);
    }
    expect(valueIn(parseTroubleCode('U3FFF'))).toEqual(valueIn(readLightBytes([255, 255])));
  });
});

const file = publishedFile('trouble-code-vectors.json') as
  | {
      j1939: ({ spn: number; fmi: number; oc: number } & Record<
        `bytes_v${ConversionMethod}`,
        string[]
      >)[];
      j2012: { code: string; hex: string }[];
    }
  | undefined;

describe.skipIf(!file)(
  'trouble-code-vectors.json (left out where that file is not beside the checkout)',
  () => {
    it('agrees on every heavy-vehicle row', () => {
      expect(file?.j1939.length).toBeGreaterThan(0);
      for (const row of file?.j1939 ?? []) {
        for (const method of [1, 2, 3, 4] as const) {
          const four = row[`bytes_v${method}`].map((two) => Number.parseInt(two, 16));
          const { readings } = valueIn(readHeavyBytes(four, method));
          expect(readings[0]?.code, four.join()).toEqual(heavy(row.spn, row.fmi, row.oc));
          expect(valueIn(writeHeavyBytes(heavy(row.spn, row.fmi, row.oc), method))).toEqual(four);
        }
      }
    });

    it('agrees on every light-vehicle row', () => {
      expect(file?.j2012.length).toBeGreaterThan(0);
      for (const { code, hex } of file?.j2012 ?? []) {
        const pair = [Number.parseInt(hex.slice(0, 2), 16), Number.parseInt(hex.slice(2), 16)];
        const expected = hex === '0000' ? null : { family: 'J2012', code };
        expect(valueIn(readLightBytes(pair)), hex).toEqual(expected);
        expect(valueIn(writeLightBytes({ family: 'J2012', code }))).toEqual(pair);
      }
    });
  },
);
