// What technicians new to the reader typed: what each text must be read as, and what it must never be.
import { describe, expect, it } from 'vitest';
import { readMessage } from '../../src/language/read.ts';
import { lexiconFor } from './plans.ts';

const actsOf = (plan: string, text: string) => readMessage(text, lexiconFor(plan), {}).acts;

/** Plan, text, and the step that the text does not report; without a step it reports nothing at all. */
const NO_DONE: readonly (readonly [string, string, string?])[] = [
  ['coolant', 'no leaks i hope'],
  ['coolant', 'no leaks fingers crossed'],
  ['coolant', 'no leaks so far'],
  ['coolant', 'pressure test it to 1.2 bar'],
  ['coolant', 'book says pressure test 1.2 bar'],
  ['coolant', 'pressure test says 1.2 on the job card'],
  ['coolant', 'dave did the pressure test last time'],
  ['coolant', 'bus 12 pressure tested 1.2 bar'],
  ['coolant', 'robin said pressure test it to 1.2'],
  ['coolant', 'chocks are in the van'],
  ['coolant', 'be nice to have it up to temp before dinner'],
  ['coolant', 'fan belt off n hung up', 'fit-belt'],
  ['coolant', 'two bottom hoses off, clips were rusted solid', 'refit-hoses'],
  ['coolant', 'hoses off, clips rusted', 'refit-hoses'],
  ['clutch', 'all 14 bell bolts out'],
  ['clutch', 'bell bolts out'],
  ['clutch', 'box in the way'],
  ['clutch', 'chocks in the corner'],
  ['clutch', "box jack's away being mended"],
  ['clutch', 'truck down the road has same job'],
  ['clutch', 'sam said engine supported before anything'],
  ['clutch', 'marked the prop flanges, got a sling on it'],
  ['clutch', 'greased the prop'],
  ['clutch', 'greased the prop splines'],
  ['clutch', 'prop bolts ordered and in'],
  ['clutch', 'went over dees bell bolts and prop bolts, all good', 'refit-propshaft'],
  ['clutch', 'checked dees bell bolts and prop bolts all good', 'refit-propshaft'],
  ['clutch', 'second check on the bell bolts n prop done', 'refit-propshaft'],
  ['clutch', 'double checked my own bell bolts and prop bolts all good', 'refit-propshaft'],
  ['clutch', 'slave off n tied up', 'refit-clutch-cylinder'],
  ['clutch', 'slave cylinder unbolted n tied up', 'refit-clutch-cylinder'],
  ['clutch', 'linkage off and tied up', 'reconnect-linkage'],
  ['clutch', 'starter motor on the parts shelf'],
  ['clutch', "all gears go in mo's head wrong way"],
  ['clutch', 'nipped one prop bolt'],
  ['clutch', 'clutch is bled dry financially and so am i'],
  ['brake', 'he said second check done'],
  ['brake', "air's not dumped yet, 6 bar"],
  ['brake', 'air not dumped, 6 bar'],
  ['brake', 'air down to 4 bar'],
  ['brake', 'gauge says 9 bar before draining'],
  ['brake', 'tel said the stands are in but i cant see em'],
  ['brake', 'the day shift said air dumped'],
  ['brake', 'battery isolated he says'],
  ['brake', 'jacked off with this job'],
  ['brake', 'axle up for scrap'],
  ['brake', 'nuts torqued by hand left'],
  ['brake', 'left caliper off and hung up', 'refit-caliper'],
  ['brake', '10 nuts left 9 right'],
  ['brake', 'both wheels on fire lol'],
  ['brake', 'disc on the floor left'],
];

describe('words that report no step as done', () => {
  it.each(NO_DONE)('%s: %s', (plan = '', text = '', step) => {
    const done = actsOf(plan, text)
      .filter((act) => act.kind === 'done' && (step === undefined || act.step === step))
      .map((act) => act.step);
    expect(done).toEqual([]);
  });
});

it('keeps what is said not to be done', () => {
  expect(actsOf('brake', "air's not dumped yet, 6 bar")).toMatchObject([
    { kind: 'not-done', step: 'drain-air' },
  ]);
});

it('asks after hopes and hearsay of a known step', () => {
  for (const [plan, text, step] of [
    ['coolant', 'no leaks i hope', 'leak-check'],
    ['brake', 'he said second check done', 'second-check-brakes'],
    ['brake', 'tel said the stands are in but i cant see em', 'set-on-stands'],
  ] as const)
    expect(actsOf(plan, text), text).toMatchObject([
      {
        kind: 'unsure',
        candidates: [
          { kind: 'done', step },
          { kind: 'not-done', step },
        ],
      },
    ]);
});

/** Plan, text, and the one step it reports as done. */
const DONE: readonly (readonly [string, string, string])[] = [
  ['coolant', 'fan belt off n hung up', 'remove-belt'],
  ['coolant', 'hoses off, clips rusted', 'remove-hoses'],
  ['coolant', 'fired it up', 'start-engine'],
  ['coolant', 'fired it up quick to hear it', 'start-engine'],
  ['coolant', 'fired it up, sounds sweet', 'start-engine'],
  ['coolant', 'started it up', 'start-engine'],
  ['coolant', 'started her up', 'start-engine'],
  ['coolant', 'drove it over the pit quick', 'move-bus'],
  ['clutch', 'slave off n tied up', 'remove-clutch-cylinder'],
  ['clutch', 'linkage off and tied up', 'disconnect-linkage'],
  ['clutch', '14 bell bolts out, box off', 'remove-gearbox'],
  ['clutch', 'bell bolts out and box out', 'remove-gearbox'],
  ['clutch', 'spun it over on the key', 'crank-engine'],
  ['clutch', 'spun it over on the key to turn the flywheel', 'crank-engine'],
  ['brake', 'pumped the pedal a couple times', 'press-pedal'],
  ['brake', 'foot on the pedal', 'press-pedal'],
];

describe('words that report one step', () => {
  it.each(DONE)('%s: %s', (plan, text, step) => {
    expect(actsOf(plan, text)).toMatchObject([{ kind: 'done', step }]);
  });
});

describe('ways of saying that something did not happen', () => {
  it.each([
    ['coolant', "don't start it up yet"],
    ['coolant', 'if you fired it up you would hear it'],
    ['coolant', 'has anyone fired it up'],
    ['brake', 'nobody pumped the pedal'],
    ['brake', 'keep your foot off the pedal'],
    ['clutch', 'spun it over by hand'],
  ])('%s: %s', (plan, text) => {
    expect(actsOf(plan, text).filter((act) => act.kind === 'done')).toEqual([]);
  });
});

it('keeps a step that is itself a holding beside another report', () => {
  expect(actsOf('clutch', 'engine propped and box strapped')).toMatchObject([
    { kind: 'done', step: 'support-engine' },
    { kind: 'done', step: 'strap-gearbox' },
  ]);
});

it('gives each side its own figure', () => {
  expect(actsOf('brake', 'wheels back on both sides 10 nuts left 9 right')).toMatchObject([
    { kind: 'done', step: 'fit-wheel', positions: ['left'], count: { done: 10 } },
    { kind: 'partial', step: 'fit-wheel', positions: ['right'], count: { done: 9 } },
  ]);
  expect(actsOf('brake', 'clearance set 0.8 left 1.4 right')).toMatchObject([
    { step: 'adjust-brake', positions: ['left'], quantity: { value: 0.8 } },
    { step: 'adjust-brake', positions: ['right'], quantity: { value: 1.4 } },
  ]);
});

describe('a release behind a remark', () => {
  it.each([
    ['clutch', 'straps look good, release strap gearbox', 'strap-gearbox'],
    ['coolant', 'seen the gauge. release pressure test', 'pressure-test'],
    ['brake', 'printout looks fine, release roller test', 'roller-test'],
  ])('%s: %s', (plan, text, step) => {
    expect(actsOf(plan, text)).toMatchObject([{ kind: 'command', command: 'release', step }]);
  });

  it('is none where the remark holds it back', () => {
    for (const text of [
      'straps not on yet, release strap gearbox',
      'if the straps are good, release strap gearbox',
    ])
      expect(
        actsOf('clutch', text).filter((act) => act.command === 'release'),
        text,
      ).toEqual([]);
  });
});
