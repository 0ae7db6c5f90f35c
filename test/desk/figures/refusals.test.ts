// What cannot be answered gets a clear sentence, says what to do, and has no figure that could be worked to.
import { describe, expect, it } from 'vitest';
import { answerFigure } from '../../../src/desk/figures/answer-figure.ts';
import { AROUND, ask, told } from './ground.ts';
import { sampleView } from './sample-view.ts';

it.each([
  ['-2 us gal in litres', /There is no volume below nought/],
  ['40 l at 30 percent to 20', /cannot be reached/],
  ['40 l at 30 percent to 70', /too strong/],
  ['-40 l at 30 percent to 50', /from 0 to 500 L/],
  ['4000 l at 30 percent to 50', /from 0 to 500 L/],
  ['40 l at 30 percent, want 50, fill with water', /cannot be reached/],
  ['reads -15, want -80, 40 litres', /The freezing point/],
  ['drain 50 of 40 l at 30 percent and refill with concentrate', /more than the system/],
  ['freeze point 80 percent glycol', /from 0 to 60/],
  ['freeze point -5 percent glycol', /from 0 to 60/],
  ['preload m13 10.9 80 nm oiled', /not a size in the table/],
  ['preload m12 9.8 80 nm oiled', /not a strength class/],
  ['preload m12x2 10.9 80 nm oiled', /Measure the pitch/],
  ['preload m12 10.9 6000 nm oiled', /this is worked out from/],
  ['preload m12 10.9 80 litres oiled', /is volume, not torque/],
  ['preload m12 10.9 60 nm + 90 degrees oiled', /past yield/],
  ['proof load m7 8.8', /not a size in the table/],
  ['what is 300 nm in litres', /measures torque/],
  ['what do i set for 300 litres with a 100 mm extension on a 400 mm arm', /not a torque/],
  ['6000 nm with a 100 mm extension on a 400 arm', /this is worked out from/],
  ['300 nm with a 100 mm extension on a 4 mm arm', /The arm/],
  ['300 nm with a 380 mm extension on a 400 arm at 180 degrees', /over the bolt/],
  ['is 6000 nm ok for 60 ±4%', /too far apart for one stage/],
  ['is 60 litres ok for 60 nm ±4%', /is volume, not torque/],
  ['how far off can a torque wrench be at 9000 nm', /The torque/],
  ['order for 7 bolts in two rows', /an odd number/],
  ['tightening order 90 wheel nuts', /from 2 to 60/],
  ['which valves with 7 at tdc, order 1-3-4-2', /no cylinder 7/],
  ['what shim: reading 0.1 target 3 fitted 2.5', /No shim is thin enough/],
  ['how far do i turn the adjuster from 0.45 to 0.35, pitch 9', /not found on an adjuster/],
  ['spn 653 fmi 40', /above 31/],
  ['spn 600000 fmi 5', /the largest there is/],
  ['what is spn 653', /no failure mode/],
  ['what is pO203', /letter O/],
  ['bytes 01 02 03', /four bytes/],
  ['check vin 1M8GDM9AXKP04278', /17 characters/],
  ['check vin 1M8GDM9AXKPO42788', /not used in a vehicle/],
  ['check digit for 12AB mod 10', /has no value/],
  ['does code 12 34 fit form 9{6}', /2 too few/],
  ['when is -3 h of work from 13:00 done', /no time below nought/],
  ['how long from 07:00 to 15:30 on 2026-02-30', /The day/],
  ['when is 3 h of work from 13:00 on 2026-13-01 done', /The day/],
  ['is TW-99 in date', /not in the register/],
  ['wrench calibrated 2027-01-01, still in date?', /after today/],
  ['0.52 ohm at 400 c, what is that at 20', /outside what is measured/],
])('%s', (text, says) => {
  const card = ask(text)?.card;
  expect(card?.text).toMatch(says);
  expect(card?.text).not.toMatch(/^(?:Set|Expect|Drain|Shim|Tighten|Counts) /);
  expect(card?.text.split('. ').length).toBeGreaterThan(1);
  expect(card?.picture).toBeUndefined();
});

describe('without what it needs', () => {
  it('says that there is no register of tools, and no shifts', () => {
    const bare = (text: string) => answerFigure(text, undefined, '2026-03-04')?.card.text;
    expect(bare('is TW-03 in date')).toMatch(/no register of tools/);
    expect(bare('how long from 07:00 to 15:30')).toBe(
      '8 h 30 min (07:00 to 15:30). No shifts are known here, so breaks and clock changes are not taken into account.',
    );
    expect(bare('how long from 22:00 to 06:00')).toMatch(/^8 h \(22:00 to 06:00 the next day\)/);
    expect(bare('when is 3 h of work from 23:00 done')).toMatch(/^02:00, 1 day on/);
  });

  it('leaves the forecast to others without the time of day or the shifts', () => {
    const view = sampleView('injectors-six-cylinder');
    expect(answerFigure('when will it be ready', view, '2026-03-04', AROUND)).toBeUndefined();
    expect(answerFigure('when will it be ready', view, '2026-03-04T09:00:00Z')).toBeUndefined();
  });

  it('shows hours to nobody who may not see them', () => {
    const view = sampleView('injectors-six-cylinder', { minutesBooked: 90 });
    const question = 'how many hours are booked';
    expect(told(question, view, {})).not.toMatch(/\d h/);
    expect(told(question, view, { mayHours: true })).toMatch(/^1 h 30 min booked/);
  });
});
