// The ways in which a plan with nothing but titles is understood, each with what it must not be taken for.
import { describe, expect, it } from 'vitest';
import { soleTaker } from '../../src/language/match/sole-taker.ts';
import { usualWordsOf } from '../../src/language/match/usual-words.ts';
import { german } from '../../src/language/packs/de/index.ts';
import { english } from '../../src/language/packs/en/index.ts';
import { readMessage } from '../../src/language/read.ts';
import { makeSameThing } from '../../src/language/tidy/same-thing.ts';
import { lexiconOf } from '../corpus/score.ts';
import { otherPlans } from './other-plans/messages.ts';

const planOf = (name: string) => {
  const plan = otherPlans.get(name);
  if (!plan)
    throw new Error(`No plan ${name} in test/language/other-plans. Name one that is there.`);
  return plan;
};
const lexicon = (name: string) => lexiconOf(planOf(name));

/** Kinds and steps of what was read, as "done remove-belt". */
const said = (name: string, text: string): string[] =>
  readMessage(text, lexicon(name), {}).acts.map((act) => `${act.kind} ${act.step ?? ''}`.trim());

const recorded = (name: string, text: string): string[] =>
  said(name, text).filter((one) => /^(done|partial) /.test(one));

describe('usual words of a work', () => {
  it('belong to the step whose title names it', () => {
    const words = usualWordsOf(planOf('oil-cooler'), english);
    expect(words.get('check-leaks')).toContain('all dry');
    expect(words.get('start-engine')).toContain('engine running');
    expect(words.get('road-test')).toContain('road tested');
    expect(words.get('drain-oil')).toBeUndefined();
    expect(usualWordsOf(planOf('alternator-belt'), german).get('chock-wheels')).toContain(
      'verkeilt',
    );
  });

  it('are nobody’s where two steps would share them, and give way to the words of the plan', () => {
    const plan = planOf('air-springs');
    const [step] = plan.steps;
    if (!step) throw new Error('The plan has no step. Give it one.');
    const twice = { ...plan, steps: [...plan.steps, { ...step, id: 'chock-again' }] };
    expect(usualWordsOf(twice, english).get('chock-wheels')).toBeUndefined();
    const own = plan.steps.map((one) =>
      one.id === 'road-test' ? { ...one, words: ['chocks in'] } : one,
    );
    expect(usualWordsOf({ ...plan, steps: own }, english).get('chock-wheels')).not.toContain(
      'chocks in',
    );
  });

  it('report nothing behind another report, in a question or denied', () => {
    expect(said('oil-cooler', 'road tested, running nicely')).toEqual(['done road-test']);
    expect(recorded('oil-cooler', 'is it all dry?')).toEqual([]);
    expect(recorded('oil-cooler', 'not all dry yet')).toEqual([]);
    expect(recorded('oil-cooler', 'hope it is all dry')).toEqual([]);
  });
});

describe('where a part lies', () => {
  it.each([
    ['alternator-belt', "belt's on the bench", 'done remove-belt'],
    ['alternator-belt', 'belt guard is off and on the pallet', 'done remove-guard'],
    ['alternator-belt', "old alternator's in the skip", 'done remove-alternator'],
    ['alternator-belt', 'Lichtmaschine liegt auf der Werkbank', 'done remove-alternator'],
    ['oil-cooler', 'cooler is off the box and in the skip', 'done remove-cooler'],
  ])('%s: %s', (name, text, act) => {
    expect(said(name, text)).toEqual([act]);
  });

  it.each([
    'new alternator is on the bench',
    'alternator on the bench',
    'box of doughnuts is on the bench',
    'belt is sat on the bench',
    'is the belt on the bench?',
    'belt is on the bench in stores for the other bus',
  ])('reports nothing: %s', (text) => {
    expect(recorded('alternator-belt', text)).toEqual([]);
  });
});

describe('a figure that only one step takes', () => {
  it.each([
    ['alternator-belt', '28.2 volts at the battery', 'done measure-charge'],
    ['oil-cooler', '5 bar, no drop', 'done pressure-test'],
    ['air-springs', '210 nm both sides', 'done connect-damper'],
    ['air-springs', '250 mm on the left', 'done measure-height'],
  ])('%s: %s', (name, text, act) => {
    expect(said(name, text)).toEqual([act]);
  });

  it.each([
    ["28.2 volts, that's my phone charger", 'alternator-belt'],
    ['is it 28.2 volts?', 'alternator-belt'],
    ['should be 28.2 volts', 'alternator-belt'],
    ['back in 15', 'alternator-belt'],
    ['10/10 for effort', 'oil-cooler'],
  ])('reports nothing: %s', (text, name) => {
    expect(recorded(name, text)).toEqual([]);
  });

  it('is nobody’s where two steps could take it', () => {
    const steps = lexicon('air-springs').tongues[0]?.steps ?? [];
    const bar = (value: number) =>
      ({ kind: 'quantity', value, unit: 'bar', from: 0, to: 1, at: [0, 1] }) as never;
    expect(soleTaker([bar(10)], steps)?.id).toBe('build-air');
    expect(soleTaker([bar(100)], steps)).toBeUndefined();
    expect(soleTaker([], steps)).toBeUndefined();
    const doubled = [...steps, ...steps.filter((one) => one.id === 'build-air')];
    expect(soleTaker([bar(10)], doubled)).toBeUndefined();
  });
});

describe('another name of a thing', () => {
  it('is read as the word of the plan, if the plan has only one of its row', () => {
    const find = makeSameThing(english, new Set(['prop', 'seal']));
    expect(find('cardan')).toBe('prop');
    expect(find('rings')).toBe('seal');
    expect(find('sandwich')).toBeUndefined();
    expect(makeSameThing(english, new Set(['hose', 'pipe']))('tube')).toBeUndefined();
  });

  it('is the end of a German noun of the plan, if no other ends so', () => {
    expect(
      makeSameThing(german, new Set(['keilrippenriemen']), new Set(['keilrippenriemen']))('riemen'),
    ).toBe('keilrippenriemen');
    const cables = new Set(['ladekabel', 'massekabel']);
    expect(makeSameThing(german, cables, cables)('kabel')).toBeUndefined();
  });
});

describe('who looked', () => {
  it('a person who is named does the second check, the writer does not', () => {
    expect(said('alternator-belt', 'Gus has looked over the cable nut')).toEqual([
      'done second-check',
    ]);
    expect(recorded('alternator-belt', 'I looked over the cable nut')).not.toContain(
      'done second-check',
    );
    const own = readMessage('Gus has looked over the cable nut', lexicon('alternator-belt'), {
      by: 'Gus',
    }).acts;
    expect(own.filter((act) => act.kind === 'done').map((act) => act.step)).not.toContain(
      'second-check',
    );
  });
});

describe('what stuck, and how far it was filled', () => {
  it('stuck fast is blocked where it should have come off', () => {
    expect(said('air-springs', 'left bellows wont come out')).toEqual(['blocked remove-spring']);
  });

  it('a figure of how far it was filled belongs to the filling, one still to come to nothing', () => {
    const [act] = readMessage(
      'filled with coolant till it ran out the overflow, 20 litres',
      lexicon('oil-cooler'),
      {},
    ).acts;
    expect(act).toMatchObject({
      kind: 'done',
      step: 'fill-coolant',
      quantity: { value: 20, unit: 'L' },
    });
    // The plan tightens them to 45 and then to 85: the second stage is still to come.
    const tightened = readMessage(
      'mounting bolts 45, after dinner I make 85',
      lexicon('alternator-belt'),
      {},
    ).acts.filter((one) => one.kind === 'done' || one.kind === 'partial');
    expect(tightened).toMatchObject([
      { step: 'tighten-alternator', stage: 1, quantity: { value: 45, unit: 'N.m' } },
    ]);
  });
});
