import { describe, expect, it } from 'vitest';
import {
  cylinderOf,
  explainTroubleCode,
  parseTroubleCode,
  type TroubleCode,
  writeTroubleCode,
} from '../../src/trade/trouble-code.ts';
import { compareTroubleCodes } from '../../src/trade/trouble-code-compare.ts';
import { FAILURE_MODES, PARAMETERS } from '../../src/trade/trouble-code-words.ts';
import { problemIn, valueIn } from './unwrap.ts';

const code = (text: string): TroubleCode => valueIn(parseTroubleCode(text));

describe('a trouble code as people type it', () => {
  it.each([
    ['spn 653 fmi 5', 'SPN 653 FMI 5'],
    ['SPN653 FMI05', 'SPN 653 FMI 5'],
    ['spn: 653, fmi: 5', 'SPN 653 FMI 5'],
    ['spn653/fmi5', 'SPN 653 FMI 5'],
    ['653/5', 'SPN 653 FMI 5'],
    ['653 / 5', 'SPN 653 FMI 5'],
    ['653-5', 'SPN 653 FMI 5'],
    ['653 fmi 5', 'SPN 653 FMI 5'],
    ['524287/31', 'SPN 524287 FMI 31'],
    ['P0203', 'P0203'],
    ['p0203', 'P0203'],
    ['P 0203', 'P0203'],
    ['p0203-00', 'P0203-00'],
    ['U0100:87', 'U0100-87'],
    ['B16A1', 'B16A1'],
  ])('%s is %s', (text, written) => {
    expect(writeTroubleCode(code(text))).toBe(written);
  });

  it('keeps a count', () => {
    expect(code('spn 653 fmi 5 x3')).toMatchObject({ count: 3 });
    expect(code('653/5 oc 12')).toMatchObject({ count: 12 });
  });

  it.each([
    ['spn 653', '"spn 653" has no failure mode.'],
    ['653', '"653" has no failure mode.'],
    ['653 5', '"653 5" is not a trouble code of a known form.'],
    ['65,3', '"65,3" is not a trouble code of a known form.'],
    ['P4203', '"P4203" is not a trouble code of a known form.'],
    ['P020', '"P020" is not a trouble code of a known form.'],
    ['PO203', '"PO203" has the letter O where a trouble code has a zero.'],
    ['524288/5', 'SPN 524288 is above 524287, the largest there is.'],
    ['653/32', 'FMI 32 is above 31, the largest there is.'],
    ['653/5 x127', '127 occurrences are more than a control unit counts.'],
    ['', '"" is not a trouble code of a known form.'],
  ])('%s is refused', (text, what) => {
    expect(problemIn(parseTroubleCode(text)).what).toBe(what);
  });
});

describe('the cylinder', () => {
  // SAE J1939 digital annex and SAE J2012, as carried by the repositories named in the reference notes.
  const heavy = Array.from({ length: 8 }, (_, n) => [`${651 + n}/5`, n + 1] as const);
  const heavyMisfire = Array.from({ length: 6 }, (_, n) => [`${1323 + n}/31`, n + 1] as const);
  const light = Array.from({ length: 8 }, (_, n) => [`P020${n + 1}`, n + 1] as const);
  const lightMisfire = Array.from({ length: 8 }, (_, n) => [`P030${n + 1}`, n + 1] as const);
  it.each([...heavy, ...heavyMisfire, ...light, ...lightMisfire])(
    'of %s is %i',
    (text, cylinder) => {
      expect(cylinderOf(code(text))).toBe(cylinder);
    },
  );

  it.each([
    '650/5',
    '659/5',
    '1322/31',
    '1329/31',
    'P0300',
    'P0200',
    'P0209',
    'P1201',
    'P0087',
    'B0201',
  ])('of %s is not known', (text) => {
    expect(cylinderOf(code(text))).toBeNull();
  });
});

describe('what a code means', () => {
  it.each([
    ['653/5', 'SPN 653 FMI 5: injector, cylinder 3, current low or open circuit (SAE J1939-73).'],
    ['157/16', 'SPN 157 FMI 16: fuel rail pressure, moderately above normal (SAE J1939-73).'],
    [
      '5000/25',
      'SPN 5000 FMI 25: a parameter not in our table, a failure mode the standard keeps free',
    ],
    ['P0203', 'P0203: injector circuit, cylinder 3 (SAE J2012).'],
    ['P0300', 'P0300: misfire, several cylinders or changing (SAE J2012).'],
    ['P0304', 'P0304: misfire, cylinder 4 (SAE J2012).'],
    ['U0100', 'U0100: network, not in our table (SAE J2012).'],
  ])('%s', (text, says) => {
    expect(explainTroubleCode(code(text))).toContain(says);
    expect(explainTroubleCode(code(text))).toContain('prove it before changing anything');
  });

  it('is given for failure modes 0 to 21 and 31, and for every parameter we have a source for', () => {
    expect([...FAILURE_MODES.keys()]).toEqual([...Array.from({ length: 22 }, (_, n) => n), 31]);
    const sourced = [84, 91, 94, 97, 98, 100, 102, 105, 110, 111, 157, 168, 174, 175, 190, 636];
    const ranges = [
      651, 652, 653, 654, 655, 656, 657, 658, 1322, 1323, 1324, 1325, 1326, 1327, 1328,
    ];
    expect([...PARAMETERS.keys()]).toEqual([...sourced, ...ranges, 3251, 3719]);
  });
});

describe('codes before and after', () => {
  const list = (...texts: string[]) => texts.map(code);
  const written = (codes: readonly TroubleCode[]) => codes.map(writeTroubleCode);

  it('are cleared, still there, new', () => {
    const change = compareTroubleCodes([list('653/5', '157/16'), list('157/16 x2', '100/1')]);
    expect(written(change.cleared)).toEqual(['SPN 653 FMI 5']);
    expect(written(change.stillThere)).toEqual(['SPN 157 FMI 16']);
    expect(written(change.fresh)).toEqual(['SPN 100 FMI 1']);
    expect(change.backAgain).toEqual([]);
    expect(change.answer).toBe(
      '2 codes; still there: SPN 157 FMI 16; new: SPN 100 FMI 1; cleared: SPN 653 FMI 5 (cylinder 3). Cleared is not mended: some come back only after a road test.',
    );
  });

  it('are back again after having been gone', () => {
    const change = compareTroubleCodes([list('P0203'), [], list('p0203-13')]);
    expect(written(change.backAgain)).toEqual(['P0203-13']);
    expect(change.fresh).toEqual([]);
    expect(change.cleared).toEqual([]);
  });

  it('that never went away are still there, not back again', () => {
    const change = compareTroubleCodes([list('P0203'), list('P0203'), list('P0203')]);
    expect(written(change.stillThere)).toEqual(['P0203']);
    expect(change.backAgain).toEqual([]);
  });

  it('are all gone', () => {
    const change = compareTroubleCodes([list('P0203', 'P0203'), []]);
    expect(written(change.cleared)).toEqual(['P0203']);
    expect(change.answer).toContain('No trouble code left; cleared: P0203 (cylinder 3).');
    expect(compareTroubleCodes([]).answer).toBe('No trouble code left.');
  });

  it('with another failure mode are another code', () => {
    const change = compareTroubleCodes([list('653/5'), list('653/6')]);
    expect(written(change.fresh)).toEqual(['SPN 653 FMI 6']);
    expect(written(change.cleared)).toEqual(['SPN 653 FMI 5']);
  });

  it('with another failure type are another code, without one they are the same', () => {
    expect(written(compareTroubleCodes([list('P0203-11'), list('P0203-13')]).fresh)).toEqual([
      'P0203-13',
    ]);
    expect(written(compareTroubleCodes([list('P0203'), list('P0203-13')]).stillThere)).toEqual([
      'P0203-13',
    ]);
  });
});
