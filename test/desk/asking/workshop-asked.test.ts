// What is a question about the workshop, and what is none: the title of each test is the message itself.
import { describe, expect, it } from 'vitest';
import type { AskedKnown } from '../../../src/desk/asking/asked.ts';
import { isVehicle, isWork } from '../../../src/desk/asking/asked.ts';
import { workshopAsked } from '../../../src/desk/asking/workshop-asked.ts';

const PEOPLE = ['Nell', 'Jorn', 'Ade', 'Ruth'];
const known: AskedKnown = {
  asker: 'Ruth',
  person: (name) => PEOPLE.find((each) => each.toLowerCase() === name.toLowerCase()),
  plans: [
    {
      plan: 'injectors-six-cylinder',
      title: 'Renew injectors, six-cylinder common-rail engine',
    },
    { plan: 'coolant-pump', title: 'Renew the coolant pump' },
  ],
  jobs: ['1042', '1043'],
};
const inJob: AskedKnown = { ...known, inJob: { vehicle: 'bus 17' } };

describe('asked in the channel', () => {
  it.each([
    ['open jobs', { ask: 'jobs', states: [] }],
    ['summary', { ask: 'jobs', states: [] }],
    ['what have we got on', { ask: 'jobs', states: [] }],
    ["what's the state of play", { ask: 'jobs', states: [] }],
    ["who's on what", { ask: 'jobs', states: [] }],
    ['late', { ask: 'jobs', states: ['late'] }],
    ["what's late?", { ask: 'jobs', states: ['late'] }],
    ['Whats late', { ask: 'jobs', states: ['late'] }],
    ["what's waiting", { ask: 'jobs', states: ['waiting'] }],
    ['what is waiting for parts', { ask: 'jobs', states: ['waiting'], waitsFor: 'parts' }],
    ['jobs waiting for approval', { ask: 'jobs', states: ['waiting'], waitsFor: 'approval' }],
    ['blocked jobs', { ask: 'jobs', states: ['blocked'] }],
    ['jobs with stops', { ask: 'jobs', states: ['stopped'] }],
    ['flagged jobs', { ask: 'jobs', states: ['flagged'] }],
    ['jobs ready to close', { ask: 'jobs', states: ['to-close'] }],
    ["Nell's jobs", { ask: 'jobs', states: [], person: 'Nell' }],
    ['nells jobs', { ask: 'jobs', states: [], person: 'Nell' }],
    ['my jobs', { ask: 'jobs', states: [], person: 'Ruth' }],
    ["what's Nell on", { ask: 'jobs', states: [], person: 'Nell' }],
    ['anything on bus 417', { ask: 'jobs', states: [], vehicle: 'bus 417' }],
    ["what's on 417", { ask: 'jobs', states: [], vehicle: '417' }],
    ['injector jobs', { ask: 'jobs', states: [], work: 'injector' }],
    [
      "Nell's late injector jobs",
      { ask: 'jobs', states: ['late'], person: 'Nell', work: 'injector' },
    ],
    ['pump jobs in strip', { ask: 'jobs', states: [], phase: 'strip', work: 'pump' }],
    ['hours this week', { ask: 'hours', span: 'this-week' }],
    ['hours', { ask: 'hours', span: 'today' }],
    ["Nell's hours last week", { ask: 'hours', span: 'last-week', person: 'Nell' }],
    ['hours last week for Nell', { ask: 'hours', span: 'last-week', person: 'Nell' }],
    ['my hours', { ask: 'hours', span: 'this-week', person: 'Ruth' }],
    ['how did last week go', { ask: 'week', span: 'last-week' }],
    ['what did we do last week', { ask: 'week', span: 'last-week' }],
    ['how is this week going', { ask: 'week', span: 'this-week' }],
    [
      'when did we last do the pump on bus 17',
      { ask: 'history', vehicle: 'bus 17', lastOnly: true, work: 'pump' },
    ],
    ['last job on bus 17', { ask: 'history', vehicle: 'bus 17', lastOnly: true }],
    ['history of bus 17', { ask: 'history', vehicle: 'bus 17', lastOnly: false }],
    ['when was bus 17 last in', { ask: 'history', vehicle: 'bus 17', lastOnly: true }],
    ['shift note', { ask: 'note' }],
  ])('%s', (text, asked) => {
    expect(workshopAsked(text, known)).toEqual(asked);
  });

  it.each([
    'drained 28 L',
    'open job 1050 bus 3 coolant pump',
    'new job',
    'job done',
    'job finished',
    'close job',
    'hours on 1042',
    'who is on 1042',
    'where are we',
    "what's next",
    'what torque for stage 2',
    'is the battery isolated',
    'anything on the pump?',
    'what about the pump',
    'what time is it',
    'waiting for parts',
    'bleeding hubs are late back from paint',
    'brake jobs are a pain',
  ])('no such question: %s', (text) => {
    expect(workshopAsked(text, known)).toBeUndefined();
  });
});

describe('asked in the thread of a job', () => {
  it.each([
    ["what's late", { ask: 'jobs', states: ['late'] }],
    ['anything on bus 417', { ask: 'jobs', states: [], vehicle: 'bus 417' }],
    ['hours this week', { ask: 'hours', span: 'this-week' }],
    [
      'when did we last do the pump on this',
      { ask: 'history', vehicle: 'bus 17', lastOnly: true, work: 'the pump' },
    ],
    ['last job', { ask: 'history', vehicle: 'bus 17', lastOnly: true }],
  ])('%s', (text, asked) => {
    expect(workshopAsked(text, inJob)).toMatchObject(
      'work' in asked ? { ...asked, work: expect.stringContaining('pump') } : asked,
    );
  });

  it.each([
    'summary',
    'how are we doing',
    'late',
    'hours',
    'hours today',
    'what is open',
    'shift note',
  ])('asks about the job, not about the workshop: %s', (text) => {
    expect(workshopAsked(text, inJob)).toBeUndefined();
  });
});

describe('what is meant', () => {
  it.each([
    ['Bus 17', 'bus 17', true],
    ['Bus 17', '17', true],
    ['Bus 17', 'bus 7', false],
    ['Bus 117', '17', false],
    ['coach 17', 'bus 17', false],
    ['417', 'bus 417', true],
  ])('vehicle %s by "%s": %s', (name, words, meant) => {
    expect(isVehicle(name, words)).toBe(meant);
  });

  it.each([
    ['injector', true],
    ['injectors', true],
    ['six-cylinder injector', true],
    ['pump', false],
  ])('the injector plan by "%s": %s', (words, meant) => {
    expect(isWork(known.plans[0] ?? { plan: '', title: '' }, words)).toBe(meant);
  });
});
