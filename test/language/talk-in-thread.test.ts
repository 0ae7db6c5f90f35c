// Talk in the thread of a job goes on with nothing, whatever was reported just before it.
import { expect, it } from 'vitest';
import { readMessage } from '../../src/language/read.ts';
import { lexiconFor } from './plans.ts';

const REPORTS = [
  ['injectors', 'injector 3 in'],
  ['injectors', 'injectors in 1 to 3'],
  ['hub', 'wheel off front left'],
  ['coolant', 'pump bolts 25 nm'],
  ['clutch', 'box strapped'],
] as const;

it.each([
  'morning all',
  'morning lads',
  'kettle is on',
  "kettle's on",
  'back in ten',
  'back in 10 min',
  'lads, back in ten',
])('records nothing of "%s"', (text) => {
  for (const [plan, before] of REPORTS) {
    const read = readMessage(text, lexiconFor(plan), {
      previous: [{ id: 'a', from: 'person', text: before }],
    });
    expect(read.acts.filter((act) => !/^(clock|asks)$/.test(act.kind))).toEqual([]);
  }
});

it('still goes on with a place', () => {
  const read = readMessage('and 5', lexiconFor('injectors'), {
    previous: [{ id: 'a', from: 'person', text: 'injector 3 in' }],
  });
  expect(read.acts).toMatchObject([{ kind: 'done', positions: ['cylinder 5'] }]);
});
