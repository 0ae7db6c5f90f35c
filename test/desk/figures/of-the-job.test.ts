// Questions that rest on the job: the plan's limits with their source, and what is reported.
import { describe, expect, it } from 'vitest';
import { bookLabour } from '../../../src/trade/labour.ts';
import { AROUND, calendar, told } from './ground.ts';
import { planText, report, sampleView } from './sample-view.ts';

const injectors = sampleView('injectors-six-cylinder');
const hub = sampleView('hub-bearing');

describe("the plan's limits", () => {
  it.each([
    // The plan has 45 N·m ±5 % and 90° ±10°: 42.75 to 47.25 N·m, 80 to 100°.
    ['is 46 ok for clamp stage 2?', '46 N·m is in the range 42.75 to 47.25 N·m', injectors],
    ['is 48 ok for clamp stage 2?', '48 N·m is 0.75 N·m above the range', injectors],
    ['is 85 degrees ok for clamp stage 3', '85° is in the range 80 to 100°', injectors],
    ['is 33 lb ft ok for the second stage of the clamp', '33 lbf·ft = 44.74 N·m is in', injectors],
    [
      'is 610 nm ok for the last stage of the wheel nuts',
      '610 N·m is in the range 576 to 624',
      hub,
    ],
    ['is 46 nm right for clamp stage 2', '46 N·m is in the range', injectors],
    // Coolant 22 to 34 L.
    ['is 20 l enough for drain the coolant', '20 L coolant drained is below', injectors],
    ['is 49 ok for coolant temperature', '49 °C coolant temperature is within', injectors],
    ['is 8 bar ok for rail pressure', '8 bar rail pressure is above', injectors],
    ['is 122 f too much for coolant temperature', '50 °C coolant temperature is within', injectors],
    [
      'what to set for clamp stage 2 with a 60 mm crowfoot on a 300 mm arm',
      'Set 37.5 N·m',
      injectors,
    ],
    ['ist 48 zu viel für die Spannpratze Stufe 2', '48 N·m is 0.75 N·m above', injectors],
    ['what order for the wheel nuts', 'Tighten 1, 6, 3, 8, 5, 10, 2, 7, 4, 9', hub],
    ['does trim code 7RK9X2 fit', '7RK9X2 has the form', injectors],
  ])('%s', (question, figure, view) => {
    const says = told(question, view);
    expect(says.startsWith(figure)).toBe(true);
    expect(says).toContain('Figures from the plan: demonstration value');
    expect(says).toContain(view.plan.notice);
  });

  it('carry the caution of the step', () => {
    expect(told('is 55 ok for coolant temperature', injectors)).toContain(
      'Never open the header tank hot',
    );
  });

  it('are not given for a stage that is not there, or by angle alone', () => {
    expect(told('is 48 nm ok for clamp stage 7', injectors)).toMatch(/has 3 stages, not 7/);
    expect(told('is 48 nm ok for clamp stage 3', injectors)).toMatch(/by angle/);
  });

  it('refuse a preload past the stage by angle', () => {
    expect(told('preload m10 10.9 oiled clamp stage 3', injectors)).toMatch(/past yield/);
    expect(told('preload m10 10.9 oiled clamp stage 2', injectors)).toMatch(/^Expect /);
  });

  it('are those of each cylinder where the plan has them; then a bare list is a report', () => {
    const text = planText('injectors-six-cylinder').replace(
      'report: [{ kind: trouble-codes, ask: cleared }]',
      'report: [{ kind: quantity, of: compression, unit: bar, min: 22 }]',
    );
    const view = sampleView('injectors-six-cylinder', {}, text);
    expect(() => told('compression 28 27.5 21 28', view)).toThrow('Not taken');
    expect(told('is compression 28 27.5 21 28 ok', view)).toContain(
      "Outside the plan's limits (at least 22 bar): cylinder 3",
    );
  });

  it('may be electrical', () => {
    const text = planText('injectors-six-cylinder').replace(
      'report: [{ kind: trouble-codes, ask: cleared }]',
      'report: [{ kind: quantity, of: battery at rest, unit: V, min: 12.4, max: 12.9 }]',
    );
    const view = sampleView('injectors-six-cylinder', {}, text);
    expect(told('is 12.2 ok for the battery at rest', view)).toMatch(
      /^12\.2 V battery at rest: too low for the plan's limits/,
    );
  });
});

describe('what went out and in', () => {
  const fluids = [
    { fluid: 'coolant', drained: 28, filled: 20, unaccounted: 8, unit: 'L' as const },
    { fluid: 'fuel', drained: 2, filled: 0, unaccounted: 2, unit: 'L' as const },
  ];
  const view = sampleView('injectors-six-cylinder', { fluids });

  it('is added up from the reports', () => {
    expect(told('how much coolant is still out', view)).toMatch(
      /^8 L less in than came out \(28 L of coolant out, 20 L in; up to 1\.4 L either way/,
    );
    expect(told('is all the coolant back in?', view)).toMatch(/^8 L less in/);
    expect(told('coolant balance', view)).toMatch(/^8 L less in/);
    expect(told('wie viel Kühlmittel fehlt noch?', view)).toMatch(/^8 L less in/);
  });

  it('asks for the fluid where two were moved and none is named', () => {
    expect(told('drained against filled?', view)).toMatch(/^Which fluid/);
  });

  it('says that nothing was drained', () => {
    expect(told('how much coolant is still out', injectors)).toMatch(/No coolant is reported/);
  });
});

describe('valves', () => {
  const reading = (position: string, valve: string, value: number, index: number) =>
    report(
      {
        step: 'set-valve-clearance',
        positions: [position],
        valve,
        quantity: { value, unit: 'mm' },
      },
      index,
    );
  const view = sampleView('injectors-six-cylinder', {
    reports: [
      reading('cylinder 1', 'inlet', 0.3, 0),
      reading('cylinder 1', 'exhaust', 0.52, 1),
      reading('cylinder 2', 'inlet', 0.38, 2),
    ],
    steps: injectors.steps.map((step) =>
      step.step === 'set-valve-clearance' && step.position === 'cylinder 1'
        ? { ...step, state: 'done' as const }
        : step,
    ),
  });

  it('still to do are those without a report', () => {
    const says = told('which valves are still to do', view);
    // Twelve less both of cylinder 1 and the inlet of cylinder 2.
    expect(says).toMatch(/^9 left in 2 stops/);
    expect(says).toContain('From the reports on job 1042');
  });

  it('out of range are named, each by its last reading', () => {
    expect(told('which clearances are out of range', view)).toMatch(
      /^2 of 3 out of range: cylinder 1 exhaust 0\.52 mm \(tight by 0\.03 mm\), cylinder 2 inlet 0\.38 mm/,
    );
    expect(told('which clearances are out of range', injectors)).toMatch(
      /No clearance is reported/,
    );
  });

  it('take target and pitch from the plan', () => {
    expect(told('which shim for exhaust 0.72 with 2.50 in now', injectors)).toMatch(
      /^Shim 2\.62 mm/,
    );
    const text = planText('injectors-six-cylinder').replace(
      'kind: clearance\n        unit: mm',
      'kind: clearance\n        unit: mm\n        pitch: 1',
    );
    const pitched = sampleView('injectors-six-cylinder', {}, text);
    // 0.1 mm of 1 mm is a tenth of a turn.
    expect(told('how far do i turn the adjuster on the inlet from 0.4', pitched)).toMatch(
      /^36° in/,
    );
  });
});

describe('trouble codes of the job', () => {
  const read = (step: string, code: string | undefined, index: number) =>
    report({ step, ...(code === undefined ? {} : { code }) }, index);

  it('are compared before and after', () => {
    const view = sampleView('injectors-six-cylinder', {
      reports: [
        read('read-fault-codes', 'P0203', 0),
        read('read-fault-codes', 'SPN 653 FMI 5', 1),
        read('recheck-fault-codes', 'P0203', 2),
      ],
    });
    expect(told('which codes came back?', view)).toMatch(
      /^1 code; still there: P0203 \(cylinder 3\); cleared: SPN 653 FMI 5 \(cylinder 3\)/,
    );
  });

  it('are gone when the last reading has none', () => {
    const view = sampleView('injectors-six-cylinder', {
      reports: [read('read-fault-codes', 'P0203', 0), read('recheck-fault-codes', undefined, 1)],
    });
    expect(told('are the codes cleared?', view)).toMatch(/^No trouble code left; cleared: P0203/);
  });

  it('need two readings', () => {
    const view = sampleView('injectors-six-cylinder', {
      reports: [read('read-fault-codes', 'P0203', 0)],
    });
    expect(told('compare codes before and after', view)).toMatch(/Only one reading/);
    expect(told('compare codes before and after', injectors)).toMatch(
      /No trouble codes are reported/,
    );
  });
});

describe('time of the job', () => {
  it('is booked against planned, with what has to be settled first', () => {
    const at = (time: string) => Date.parse(`2026-03-04T${time}:00Z`);
    const labour = bookLabour(
      [
        { who: 'Nell', job: '1042', at: at('07:00'), kind: 'on' },
        { who: 'Nell', job: '1042', at: at('09:00'), kind: 'off' },
        { who: 'Ade', job: '1042', at: at('08:30'), kind: 'off' },
      ],
      calendar,
      at('12:00'),
    );
    const says = told('how many hours are booked', injectors, { ...AROUND, labour });
    expect(says).toMatch(/^2 h booked on job 1042 by 1 person/);
    expect(says).toContain('When did that work start?');
  });

  it('is forecast from what is left', () => {
    const [one] = injectors.steps;
    const done = injectors.steps.map((step) => ({ ...step, state: 'done' as const }));
    const view = sampleView('injectors-six-cylinder', {
      steps: one ? [one, ...done.slice(1)] : done,
    });
    // Reading the codes takes 5 to 20 minutes from 09:00, 8 as a rule: within the next quarter, or cautiously the one after.
    expect(told('when will it be ready', view)).toMatch(/Ready: 09:15, (?:likely and|cautiously)/);
    const all = sampleView('injectors-six-cylinder', { steps: done });
    expect(told('when will it be ready', all)).toMatch(/every step has its record/);
  });
});
