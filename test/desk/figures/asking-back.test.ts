// What is not clear is asked back in one sentence, and each button leads on to a figure.
import { describe, expect, it } from 'vitest';
import type { JobView } from '../../../src/job/view.ts';
import { ask } from './ground.ts';
import { sampleView } from './sample-view.ts';

const injectors = sampleView('injectors-six-cylinder');
const hub = sampleView('hub-bearing');

const unclear: readonly (readonly [text: string, asks: RegExp, view?: JobView])[] = [
  ['2 gal in litres', /"gal" may be US gal or imp gal/],
  ['how many litres is 3 pints', /"pints" may be US pt or imp pt/],
  ['4 quarts in l', /may be US qt or imp qt/],
  ['10 litres in gallons', /US gal or imp gal/],
  ['what is 12 mil in inches', /"mil" may be mm or thou/],
  ['what is 45 in nm', /45 of which unit/],
  ['what is 45 lb in nm', /lb measures mass, not torque/],
  ['what is 3 kg in nm', /kg measures mass, not torque/],
  ['8 gal at 30 percent to 50', /US gal or imp gal/],
  ['drain 2 of 8 gal at 30 percent and refill with concentrate', /US gal or imp gal/],
  ['preload m12 80 nm oiled', /strength class/],
  ['preload m12 10.9 80 nm', /How are the threads/],
  ['proof load m16', /strength class/],
  ['tightening order 10 bolts', /How do the 10 sit/],
  ['is 310 nm ok for 300 nm', /tolerance/],
  ['which valves with 1 at tdc', /firing order/],
  ['shortest valve round', /firing order/],
  ['check digit for 7992739871', /rule/],
  ['check digit for 7992739871 mod 12', /no check that is known/],
  ['compression 400 395 390 400', /unit/],
  ['how far do i turn the adjuster from 0.45 to 0.35', /pitch/],
  ['is 48 nm ok for the wheel nuts', /Which stage of/, hub],
  ['is 20 nm ok for the clamp', /Which stage of/, injectors],
  ['is the wrench in date', /Which tool/],
];

describe('asks back', () => {
  it.each(unclear.map(([text, asks, view]) => ({ text, asks, view })))(
    '$text',
    ({ text, asks, view }) => {
      const answer = ask(text, view);
      expect(answer?.card.text).toMatch(asks);
      const actions = answer?.card.actions ?? [];
      expect(actions.length).toBeGreaterThan(0);
      expect(actions.length).toBeLessThanOrEqual(3);
      for (const { label, intent } of actions) {
        if (intent.do !== 'say') throw new Error('A button of a question says something.');
        expect(intent.job).toBe(view?.job);
        expect(label.length).toBeLessThanOrEqual(75);
        const next = ask(intent.text, view);
        expect(next?.kind, intent.text).toBe(answer?.kind);
        expect(next?.card.actions ?? [], intent.text).toEqual([]);
        expect(next?.card.text, intent.text).toMatch(/\d/);
      }
    },
  );

  it.each([
    ['what do i set for 300 nm with a 100 mm extension', /How long is the arm/],
    ['what do i set for 300 nm with an extension on a 400 mm arm', /How long is the extension/],
    ['100 nm, 400 mm arm, 100 mm extension, 45', /What is the 45/],
    ['which shim for 0.42, target 0.30, 2.50 in now, 0.38', /Give the reading/],
    ['reads -15, want -37, how much do i drain', /How much does the whole system hold/],
    ['what preload at 80 nm', /Which size/],
    ['preload m12 10.9 oiled', /At which torque/],
    ['does code 123456 fit', /No form is known/],
    ['is 12.4 v ok for the battery', /Ask again with the limits/],
    ['which shim for 0.42, target 0.30', /the shim that is in now/],
  ])('%s: for a figure that nobody can choose from a list', (text, asks) => {
    const card = ask(text)?.card;
    expect(card?.text).toMatch(asks);
    expect(card?.actions).toBeUndefined();
  });
});
