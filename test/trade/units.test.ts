import { spawnSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  convert,
  convertDifference,
  formatFigure,
  formatQuantity,
  isUnit,
  kindOf,
  meaningsOf,
  symbolOf,
  UNITS,
  type Unit,
} from '../../src/trade/units.ts';
import { publishedFile } from './published-file.ts';

function close(actual: unknown, expected: number): void {
  expect(typeof actual).toBe('number');
  expect(Math.abs((actual as number) - expected)).toBeLessThanOrEqual(
    2e-14 * Math.max(1, Math.abs(expected)),
  );
}

const PLAIN = UNITS.filter((unit) => meaningsOf(unit).length === 0);

describe('published conversions, to 14 digits', () => {
  // GNU Units 2.22, factors by definition per NIST SP 811 appendix B.
  const rows: [number, Unit, number, Unit][] = [
    [1, 'lbf.ft', 1.3558179483314, 'N.m'],
    [74, 'lbf.ft', 100.330528176524, 'N.m'],
    [12, 'lbf.in', 1, 'lbf.ft'],
    [1, 'N.m', 0.737562149277265, 'lbf.ft'],
    [90, 'N.m', 796.567121219446, 'lbf.in'],
    [1, 'psi', 6.89475729316836, 'kPa'],
    [100, 'psi', 6.89475729316836, 'bar'],
    [2000, 'bar', 200, 'MPa'],
    [1600, 'bar', 23206.0380368335, 'psi'],
    [1, 'gal_imp', 4.54609, 'L'],
    [1, 'qt_imp', 1.1365225, 'L'],
    [1, 'pt_imp', 0.56826125, 'L'],
    [28, 'L', 29.5872698641126, 'qt_us'],
    [30, 'qt_us', 28.39058838, 'L'],
    [1, 'in', 25.4, 'mm'],
    [0.014, 'in', 0.3556, 'mm'],
    [0.35, 'mm', 0.0137795275590551, 'in'],
    [80, 'km', 49.7096953789867, 'mi'],
    [1, 'h', 3600, 's'],
    [0.1, 'h', 6, 'min'],
    [1, 'lb', 0.45359237, 'kg'],
    [0, 'Cel', 32, 'degF'],
    [-40, 'Cel', -40, 'degF'],
    [-37, 'Cel', -34.6, 'degF'],
    [195, 'degF', 90.5555555555555, 'Cel'],
    // NIST SP 811 appendix B: definitions.
    [1, 'kgf.m', 9.80665, 'N.m'],
    [1, 'gal_us', 3.785411784, 'L'],
    [8, 'pt_us', 1, 'gal_us'],
    [1, 'thou', 25.4, 'um'],
    [1, 'mi', 1609.344, 'm'],
    // Decimal prefixes.
    [28, 'mL', 0.028, 'L'],
    [12, 'V', 12_000, 'mV'],
    [4.7, 'kOhm', 4700, 'Ohm'],
    [350, 'mA', 0.35, 'A'],
    [2500, 'g', 2.5, 'kg'],
    [3, 'cm', 0.03, 'm'],
  ];
  it.each(rows)('%d %s is %d %s', (value, from, expected, to) => {
    close(convert(value, from, to), expected);
  });

  const NAMES: Record<string, Unit> = {
    'lbf ft': 'lbf.ft',
    'N m': 'N.m',
    'lbf in': 'lbf.in',
    psi: 'psi',
    kPa: 'kPa',
    bar: 'bar',
    MPa: 'MPa',
    brgallon: 'gal_imp',
    brquart: 'qt_imp',
    brpint: 'pt_imp',
    L: 'L',
    mL: 'mL',
    quart: 'qt_us',
    inch: 'in',
    mm: 'mm',
    m: 'm',
    km: 'km',
    mile: 'mi',
    hour: 'h',
    minute: 'min',
    s: 's',
    lb: 'lb',
    kg: 'kg',
    g: 'g',
    tempC: 'Cel',
    tempF: 'degF',
  };
  const published = publishedFile('units.json') as
    | { conversions: { value: number; from: string; to: string; result: number }[] }
    | undefined;
  it.skipIf(!published)(
    'every row of units.json between units of the trade (left out when that file is not beside the checkout)',
    () => {
      let checked = 0;
      for (const { value, from, to, result } of published?.conversions ?? []) {
        const [a, b] = [NAMES[from], NAMES[to]];
        if (!a || !b) continue;
        close(convert(value, a, b), result);
        checked += 1;
      }
      expect(checked).toBeGreaterThanOrEqual(20);
    },
  );

  const program = spawnSync('units', ['--version'], { encoding: 'utf8' });
  it.skipIf(program.error !== undefined)(
    'agrees with the program GNU Units (left out where it is not installed)',
    () => {
      for (const [value, from, , to] of rows) {
        const [a, b] = [from, to].map(
          (unit) => Object.entries(NAMES).find(([, ours]) => ours === unit)?.[0],
        );
        if (!a || !b || a.startsWith('temp')) continue;
        const ran = spawnSync('units', ['-t', '-d', '15', `${value} ${a}`, b], {
          encoding: 'utf8',
        });
        expect(ran.status, ran.stderr).toBe(0);
        close(convert(value, from, to), Number(ran.stdout));
      }
    },
  );
});

describe('what units.ts refuses', () => {
  it.each([
    ['gal', 'US gal (3.785 L) or imp gal (4.546 L)'],
    ['qt', 'US qt (0.9464 L) or imp qt (1.137 L)'],
    ['pt', 'US pt (0.4732 L) or imp pt (0.5683 L)'],
  ] as const)('a bare %s is asked about, either way', (unit, says) => {
    for (const asked of [convert(3, unit, 'L'), convert(3, 'L', unit)]) {
      expect(asked).toEqual({
        what: `"${unit}" may be ${says}.`,
        doThis: 'Say which one, or give litres.',
      });
    }
  });

  it('a torque in litres', () => {
    expect(convert(28, 'L', 'N.m')).toEqual({
      what: 'L measures volume, N·m measures torque.',
      doThis: 'Give the figure in a unit of torque.',
    });
  });

  it('no figure, a figure too large to write, and a temperature below absolute zero', () => {
    for (const nothing of [Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(convert(nothing, 'mm', 'in')).toHaveProperty('what');
    }
    expect(convert(1e308, 'mi', 'um')).toHaveProperty('what');
    expect(convert(-274, 'Cel', 'degF')).toHaveProperty('what');
    expect(convert(-460, 'degF', 'degF')).toHaveProperty('what');
    expect(convert(-273.15, 'Cel', 'Cel')).toBe(-273.15);
  });

  it('two kinds, for every pair of units: units are never mixed', () => {
    const metres = new Set(['length', 'distance']);
    for (const from of PLAIN) {
      for (const to of PLAIN) {
        const [a, b] = [kindOf(from), kindOf(to)];
        const same = a === b || (metres.has(a) && metres.has(b));
        expect(typeof convert(1, from, to), `${from} to ${to}`).toBe(same ? 'number' : 'object');
      }
    }
  });
});

describe('properties', () => {
  const pair = fc
    .tuple(fc.constantFrom(...PLAIN), fc.constantFrom(...PLAIN))
    .filter(([a, b]) => kindOf(a) === kindOf(b));

  it('there and back again gives the same figure', () => {
    fc.assert(
      fc.property(pair, fc.double({ min: -250, max: 1e6, noNaN: true }), ([a, b], value) => {
        const there = convert(value, a, b) as number;
        const back = convert(there, b, a) as number;
        expect(Math.abs(back - value)).toBeLessThanOrEqual(1e-12 * Math.max(100, Math.abs(value)));
      }),
    );
  });

  it('more in one unit is more in every other', () => {
    fc.assert(
      fc.property(
        pair,
        fc.double({ min: -250, max: 1e6, noNaN: true }),
        fc.double({ min: 0.001, max: 1e6, noNaN: true }),
        ([a, b], value, more) => {
          expect(convert(value + more, a, b) as number).toBeGreaterThan(
            convert(value, a, b) as number,
          );
        },
      ),
    );
  });

  it('a difference of temperature is not a temperature: 10 °C warmer is 18 °F warmer', () => {
    expect(convertDifference(10, 'Cel', 'degF')).toBe(18);
    expect(convertDifference(-9, 'degF', 'Cel')).toBe(-5);
    expect(convertDifference(1, 'h', 'min')).toBe(60);
    expect(convertDifference(1, 'Cel', 'L')).toHaveProperty('what');
    fc.assert(
      fc.property(
        fc.double({ min: -100, max: 1000, noNaN: true }),
        fc.double({ min: -100, max: 1000, noNaN: true }),
        (warm, cold) => {
          const apart =
            (convert(warm, 'Cel', 'degF') as number) - (convert(cold, 'Cel', 'degF') as number);
          expect(convertDifference(warm - cold, 'Cel', 'degF')).toBeCloseTo(apart, 8);
        },
      ),
    );
  });
});

describe('how a figure is written', () => {
  it.each([
    [300, 'N.m', '300 N·m'],
    [28, 'L', '28 L'],
    [0.35, 'mm', '0.35 mm'],
    [1.1, 'bar', '1.1 bar'],
    [0.1 + 0.2, 'mm', '0.3 mm'],
    [100.33052817652, 'N.m', '100.3 N·m'],
    [-37.115, 'Cel', '-37.12 °C'],
    [90, 'deg', '90°'],
    [6, 'count', '6'],
    [50, '%', '50 %'],
    [123_456.4, 'km', '123456 km'],
    [0.0000001, 'm', '0.0000001 m'],
    [-0, 'L', '0 L'],
    [2.5, 'gal_imp', '2.5 imp gal'],
    [4.7, 'kOhm', '4.7 kΩ'],
    [750, 'rpm', '750 r/min'],
    [25, 'um', '25 µm'],
  ] as const)('%d %s is written %s', (value, unit, written) => {
    expect(formatQuantity(value, unit)).toBe(written);
  });

  it('no figure is said, not drawn as a number', () => {
    expect(formatQuantity(Number.NaN, 'L')).toBe('no figure L');
  });

  it('what is written reads back within its digits, without an exponent', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), (value) => {
        const written = formatFigure(value);
        expect(written).toMatch(/^-?\d+(\.\d+)?$/);
        const allowed = Math.max(0.00051 * Math.abs(value), 1e-12);
        expect(Math.abs(Number(written) - value)).toBeLessThanOrEqual(allowed);
      }),
    );
  });
});

describe('the table', () => {
  it('has the units of the JSON forms, each with a symbol but for the count', () => {
    const forms =
      'N.m lbf.ft lbf.in kgf.m L mL gal_us gal_imp qt_us qt_imp pt_us pt_imp gal qt pt bar psi kPa MPa mm cm m in thou um Cel degF km mi kg g lb h min s V mV Ohm kOhm A mA rpm deg % count';
    expect([...UNITS].sort()).toEqual(forms.split(' ').sort());
    expect(UNITS.filter((unit) => symbolOf(unit) === '')).toEqual(['count']);
  });

  it('knows its own spellings only', () => {
    expect(isUnit('N.m')).toBe(true);
    for (const other of ['Nm', 'litre', 'toString', '', '__proto__'])
      expect(isUnit(other)).toBe(false);
  });

  it('says what an ambiguous word may mean', () => {
    expect(meaningsOf('gal')).toEqual(['gal_us', 'gal_imp']);
    expect(meaningsOf('L')).toEqual([]);
  });
});
