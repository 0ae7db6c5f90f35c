import { expect, it } from 'vitest';
import { loadPlan } from '../../src/job/load-plan.ts';
import { readBack } from '../../src/job/read-back.ts';
import { changed, SAMPLE } from './plan-file/sample-plan.ts';

const reads = (text: string): readonly string[] => {
  const { plan } = loadPlan(text, 'sample.yaml');
  if (!plan) throw new Error('the sample has complaints');
  return readBack(plan);
};

it('begins with the machine, the positions and the options', () => {
  expect(reads(SAMPLE)[0]).toBe(
    'Renew the cooler clamp: Wren 40 demonstration engine. 10 steps. Positions: side: left, right. ' +
      'Options: with-pump (the pump is renewed too); with-hose (the hose is renewed too).',
  );
});

it('says order, waiting, report with source, and vehicle state of a step', () => {
  expect(reads(SAMPLE)).toContain(
    'Drain the coolant (damage-critical). After: Let the engine cool and Set it on stands. ' +
      'Waits: at least 30 min after Let the engine cool, because hot coolant scalds [made up for these tests]. ' +
      'Report: volume of coolant drained, 25 to 30 L [made up for these tests]. Opens: coolant out. ' +
      'Why: Coolant in the bore breaks the engine.',
  );
});

it('says counts, stages and codes', () => {
  const fit = reads(SAMPLE).find((line) => line.startsWith('Fit the clamp'));
  expect(fit).toContain('3 pipe clips back on; tightening clamp bolts, with torque wrench');
  expect(fit).toContain('stage 1: 40 N·m ± 5 %, stage 2: 90° ± 5°');
  expect(fit).toContain('trim code entered in the control unit, form A9999');
  expect(fit).toContain('Done again, it undoes: Look over the clamp.');
  expect(fit).toContain('Takes: 15 min (10 to 30) for each position.');
});

it('says who releases, who checks, and what is watched', () => {
  expect(reads(SAMPLE)).toEqual(
    expect.arrayContaining([
      expect.stringContaining('Hold point: nobody goes past until a controller releases it.'),
      expect.stringContaining('Checks: Fit the clamp, by somebody who did none of it.'),
      'Watched, outside the order: Start the engine to move it.',
    ]),
  );
});

it('says the other reports, a due time, new parts and competence', () => {
  const text = changed(
    'check: [fit-clamp]\n',
    `check: [fit-clamp]
    within: {after: fit-clamp, minutes: 60, km: {min: 40, max: 80}, because: it settles, source: the trade}
    renew: [{part: gasket, count: 2}]
    competence: [fitter]
    paint-mark: true
    caution: Mind the fan
    report:
      - {kind: quantity, of: play, unit: mm, max: 0.1}
      - {kind: quantity, of: pressure, unit: bar, min: 2}
      - {kind: quantity, of: reading, unit: km}
      - {kind: trouble-codes, ask: none-active}
      - {kind: photo, of: the clamp}
      - {kind: remark, of: leaks}
`,
  );
  const look = reads(text).find((line) => line.startsWith('Look over'));
  expect(look).toContain(
    'Due: within 60 min or 40 to 80 km after Fit the clamp, because it settles [the trade].',
  );
  expect(look).toContain('play, at most 0.1 mm [made up for these tests]');
  expect(look).toContain('pressure, at least 2 bar [made up for these tests]');
  expect(look).toContain(
    'reading, in km; no trouble code active; a photo of the clamp; a remark on leaks.',
  );
  expect(look).toContain('New parts: 2 gasket.');
  expect(look).toContain('Paint-mark: the fasteners when they are finally tight.');
  expect(look).toContain('Needs competence: fitter. Caution: Mind the fan.');
});
