import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluateFit } from '../../../src/trade/coolant/freeze-curves.ts';
import { freezePoint } from '../../../src/trade/coolant/freeze-point.ts';
import {
  type Basis,
  FIT_BY_MASS,
  FIT_BY_VOLUME,
  type Glycol,
  HANDBOOK,
} from '../../../src/trade/tables/glycol.ts';
import { publishedFile } from '../published-file.ts';
import { problemIn, valueIn } from '../unwrap.ts';

const at = (glycol: Glycol, by: Basis, percent: number) =>
  valueIn(freezePoint({ glycol, by, percent }));

describe('the formulas against their own source, to 0.01 K (CoolProp 8.0.0)', () => {
  // By mass, after Melinder, IIR 2010.
  it.each([
    ['ethylene', 20, -7.949],
    ['ethylene', 30, -14.576],
    ['ethylene', 40, -23.813],
    ['ethylene', 50, -35.994],
    ['ethylene', 60, -51.201],
    ['propylene', 20, -7.173],
    ['propylene', 40, -20.568],
    ['propylene', 60, -50.003],
  ] as const)('%s glycol, %d %% by mass: %d °C', (glycol, percent, celsius) => {
    expect(Math.abs(evaluateFit(FIT_BY_MASS[glycol], percent / 100) - celsius)).toBeLessThan(0.01);
  });

  // By volume, fitted to ASHRAE 2001.
  it.each([
    ['ethylene', 10, -3.619],
    ['ethylene', 30, -15.7],
    ['ethylene', 50, -37.115],
    ['ethylene', 60, -52.02],
    ['propylene', 20, -7.385],
    ['propylene', 50, -33.661],
    ['propylene', 60, -51.057],
  ] as const)('%s glycol, %d %% by volume: %d °C', (glycol, percent, celsius) => {
    expect(Math.abs(evaluateFit(FIT_BY_VOLUME[glycol], percent / 100) - celsius)).toBeLessThan(
      0.01,
    );
  });

  type Table = { T_freeze_table: { pct: number; t_freeze_C: number }[] };
  type Rows = { vol_pct: number; mass_pct: number; t_freeze_C: number }[];
  const published = publishedFile('glycol.json') as
    | (Record<'MEG' | 'MPG' | 'AEG' | 'APG', Table> &
        Record<'ASHRAE_EG_table' | 'ASHRAE_PG_table', Rows>)
    | undefined;
  it.skipIf(!published)(
    'every row of glycol.json (left out when that file is not beside the checkout)',
    () => {
      if (!published) return;
      const fits = {
        MEG: FIT_BY_MASS.ethylene,
        MPG: FIT_BY_MASS.propylene,
        AEG: FIT_BY_VOLUME.ethylene,
        APG: FIT_BY_VOLUME.propylene,
      };
      for (const name of ['MEG', 'MPG', 'AEG', 'APG'] as const) {
        for (const { pct, t_freeze_C } of published[name].T_freeze_table) {
          expect(
            Math.abs(evaluateFit(fits[name], pct / 100) - t_freeze_C),
            `${name} ${pct}`,
          ).toBeLessThan(0.01);
        }
      }
      const tables = [
        ['ethylene', published.ASHRAE_EG_table],
        ['propylene', published.ASHRAE_PG_table],
      ] as const;
      for (const [glycol, rows] of tables) {
        expect(HANDBOOK[glycol]).toHaveLength(rows.length);
        for (const { vol_pct, mass_pct, t_freeze_C } of rows) {
          const byMass = at(glycol, 'mass', mass_pct);
          expect(byMass.sources[0]?.celsius).toBeCloseTo(t_freeze_C, 9);
          expect(at(glycol, 'volume', vol_pct).sources[0]?.celsius).toBeCloseTo(t_freeze_C, 9);
          // Across sources to 3 K.
          expect(byMass.warmest - byMass.coldest).toBeLessThan(3);
        }
      }
    },
  );
});

describe('the freezing point to count on', () => {
  // ASHRAE Fundamentals 2001, by mass: the warmer of the two from 20 %.
  it.each([
    [20, -7.8],
    [30, -14.1],
    [40, -22.3],
    [50, -33.8],
    [60, -48.3],
  ])('ethylene glycol, %d %% by mass: %d °C, the handbook being the warmer', (percent, celsius) => {
    const { warmest, coldest } = at('ethylene', 'mass', percent);
    expect(warmest).toBeCloseTo(celsius, 9);
    expect(warmest - coldest).toBeGreaterThan(0);
    expect(warmest - coldest).toBeLessThan(3);
  });

  it("the workshop's 50 % is by volume: about -37 °C", () => {
    expect(Math.abs(at('ethylene', 'volume', 50).warmest + 37)).toBeLessThan(0.5);
  });

  it('by volume the handbook and its own fit agree to 0.5 K', () => {
    for (const glycol of ['ethylene', 'propylene'] as const) {
      for (let percent = 10; percent <= 57; percent += 1) {
        const handbook = at(glycol, 'volume', percent).sources.find(
          ({ name }) => name === 'ASHRAE 2001',
        );
        const fit = evaluateFit(FIT_BY_VOLUME[glycol], percent / 100);
        expect(
          Math.abs((handbook?.celsius ?? Number.NaN) - fit),
          `${glycol} ${percent}`,
        ).toBeLessThan(0.5);
      }
    }
  });

  it('water freezes at 0 °C, to 0.1 K', () => {
    for (const by of ['volume', 'mass'] as const) {
      expect(Math.abs(at('ethylene', by, 0).warmest)).toBeLessThan(0.1);
      expect(Math.abs(at('propylene', by, 0).warmest)).toBeLessThan(0.1);
    }
  });

  it('never rises when there is more glycol, and is never colder than the band', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('ethylene' as const, 'propylene' as const),
        fc.constantFrom('volume' as const, 'mass' as const),
        fc.double({ min: 0, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        (glycol, by, a, b) => {
          const [weak, strong] = [at(glycol, by, Math.min(a, b)), at(glycol, by, Math.max(a, b))];
          expect(strong.warmest).toBeLessThanOrEqual(weak.warmest + 1e-9);
          expect(weak.coldest).toBeLessThanOrEqual(weak.warmest);
          expect(weak.warmest - weak.coldest).toBeLessThan(3.5);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('says when only one source reaches', () => {
    const { sources, cautions, warmest } = at('ethylene', 'volume', 60);
    expect(sources).toHaveLength(1);
    expect(cautions).toEqual(['Only one source reaches this far.']);
    expect(warmest).toBeCloseTo(-52.02, 2);
  });

  it('is said figure first', () => {
    expect(at('ethylene', 'mass', 50).answer).toBe(
      "Counts as good down to -33.8 °C (50 % ethylene glycol by mass; sources give -33.8 °C ASHRAE 2001, -36 °C Melinder 2010). The maker's data comes first.",
    );
  });
});

describe('what is refused', () => {
  it.each([
    [6000, 'is 6000; it must be from 0 to 60'],
    [-1, 'is -1'],
    [60.1, 'is 60.1'],
    [Number.NaN, 'no figure'],
  ])('%d %%', (percent, says) => {
    const problem = problemIn(freezePoint({ glycol: 'ethylene', by: 'volume', percent }));
    expect(problem.what).toContain(says);
    expect(problem.what).not.toContain('°C');
  });

  it('another fluid and another basis', () => {
    expect(
      problemIn(freezePoint({ glycol: 'methyl' as Glycol, by: 'volume', percent: 50 })).what,
    ).toContain('"methyl"');
    expect(
      problemIn(freezePoint({ glycol: 'ethylene', by: 'weight' as Basis, percent: 50 })).what,
    ).toContain('"weight"');
  });
});
