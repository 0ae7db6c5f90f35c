// A second opinion on every unit: the UCUM library of the US National Library of Medicine, run beside our own table.
import { UcumLhcUtils } from '@lhncbc/ucum-lhc';
import { describe, expect, it } from 'vitest';
import { convert, kindOf, meaningsOf, UNITS, type Unit } from '../../src/trade/units.ts';

/** Our spelling to the code of the Unified Code for Units of Measure. A count has no unit there. */
const UCUM: Readonly<Partial<Record<Unit, string>>> = {
  'N.m': 'N.m',
  'lbf.ft': '[lbf_av].[ft_i]',
  'lbf.in': '[lbf_av].[in_i]',
  'kgf.m': 'kgf.m',
  L: 'L',
  mL: 'mL',
  gal_us: '[gal_us]',
  gal_imp: '[gal_br]',
  qt_us: '[qt_us]',
  qt_imp: '[qt_br]',
  pt_us: '[pt_us]',
  pt_imp: '[pt_br]',
  kPa: 'kPa',
  MPa: 'MPa',
  bar: 'bar',
  psi: '[psi]',
  um: 'um',
  mm: 'mm',
  cm: 'cm',
  m: 'm',
  thou: '[mil_i]',
  in: '[in_i]',
  km: 'km',
  mi: '[mi_i]',
  Cel: 'Cel',
  degF: '[degF]',
  kg: 'kg',
  g: 'g',
  lb: '[lb_av]',
  h: 'h',
  min: 'min',
  s: 's',
  V: 'V',
  mV: 'mV',
  Ohm: 'Ohm',
  kOhm: 'kOhm',
  A: 'A',
  mA: 'mA',
};

/** Units without a second opinion: a bare gallon, quart or pint, and those that stand alone in their kind. */
const ALONE = new Set<Unit>(['gal', 'qt', 'pt', 'rpm', 'deg', '%', 'count']);

const ucum = UcumLhcUtils.getInstance();

describe('units against the UCUM library', () => {
  it('every unit that can be changed into another has its code there', () => {
    expect(UNITS.filter((unit) => UCUM[unit] === undefined && !ALONE.has(unit))).toEqual([]);
    for (const unit of ALONE) {
      const others = UNITS.filter((other) => kindOf(other) === kindOf(unit) && other !== unit);
      expect(meaningsOf(unit).length > 0 || others.length === 0, unit).toBe(true);
    }
  });

  const known = UNITS.filter((unit) => UCUM[unit] !== undefined);
  const pairs = known.flatMap((from) =>
    known
      .filter((to) => from !== to && typeof convert(1, from, to) === 'number')
      .map((to) => [from, to] as const),
  );
  it.each(pairs)('%s to %s', (from, to) => {
    for (const value of [1, 0.35, 28, 300]) {
      const theirs = ucum.convertUnitTo(UCUM[from] ?? '', value, UCUM[to] ?? '');
      expect(theirs.status).toBe('succeeded');
      const ours = convert(value, from, to) as number;
      expect(Math.abs(ours - (theirs.toVal ?? Number.NaN))).toBeLessThanOrEqual(
        1e-12 * Math.max(1, Math.abs(ours)),
      );
    }
  });

  it('refuses what we refuse: a torque in litres', () => {
    expect(ucum.convertUnitTo('N.m', 1, 'L').status).not.toBe('succeeded');
    expect(typeof convert(1, 'N.m', 'L')).toBe('object');
  });
});
