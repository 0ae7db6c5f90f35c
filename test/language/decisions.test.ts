// Orders and questions to the chargehand with what they are about, and withdrawals in their many words.
import { describe, expect, it } from 'vitest';
import { readMessage } from '../../src/language/read.ts';
import { lexiconFor } from './plans.ts';

const injectors = lexiconFor('injectors');
const hub = lexiconFor('hub');
const acts = (text: string, lexicon = injectors) => readMessage(text, lexicon, {}).acts;

describe('what is asked of the chargehand', () => {
  it.each([
    ['how did last week go', 'last-week'],
    ['what can I type', 'help'],
    ["who's waiting on what", 'waiting'],
    ['forecast for this one', 'forecast'],
    ['when will 417 be ready', 'forecast'],
    ['where are we with 1043', 'where'],
    ['nxt?', 'next'],
    ['what is still open on this job', 'next'],
    ['show me the history of 417', 'history'],
    ['close the job', 'close-job'],
  ])('%s', (text, command) => {
    expect(acts(text)).toMatchObject([{ kind: 'command', command }]);
  });
});

describe('decisions of the controller', () => {
  it('name the step of the flag and the reason', () => {
    const title = injectors.plan.steps.find((step) => step.id === 'drain-coolant')?.title ?? '';
    expect(acts(`override ${title} because the tank was full`)).toMatchObject([
      { kind: 'command', command: 'override', step: 'drain-coolant', note: 'the tank was full' },
    ]);
  });
  it('name the hold point with its place', () => {
    expect(acts('release hub check front left', hub)).toMatchObject([
      { command: 'release', step: 'second-check-hub', positions: ['front left'] },
    ]);
  });
  it('refuse with the reason', () => {
    expect(acts('refuse hub check front left because a nut is loose', hub)).toMatchObject([
      { command: 'refuse', positions: ['front left'], note: 'a nut is loose' },
    ]);
  });
});

describe('a report withdrawn', () => {
  const previous = [{ id: 'm1', from: 'person' as const, text: 'coolant drained 28 L' }];
  it.each([
    'scrap that',
    'forget that',
    'please disregard my last message',
    'sorry, wrong truck',
    'wrong bus, sorry',
  ])('%s', (text) => {
    expect(readMessage(text, injectors, { previous }).acts).toMatchObject([
      { kind: 'retracts', step: 'drain-coolant' },
    ]);
  });
  it('is not what a scrapped part is', () => {
    expect(readMessage('gasket scrapped', injectors, { previous }).acts).toEqual([]);
  });
});

describe('a component code of the wrong form', () => {
  it.each([
    ['injector 1 trim code ABC', 'ABC'],
    ['injector 1 trim code entered ABC', 'ABC'],
  ])('is kept for the checker: %s', (text, code) => {
    expect(acts(text)).toMatchObject([{ code, positions: ['cylinder 1'] }]);
  });
});

it('reads codes pulled with nothing active as read', () => {
  expect(acts('codes pulled, nothing active')).toMatchObject([{ kind: 'done' }]);
});
