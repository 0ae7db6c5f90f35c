// The one list of what speaks against a report, as each reader of reports uses it.
import { expect, it } from 'vitest';
import { signsAgainst } from '../../src/language/against.ts';
import { readMessage } from '../../src/language/read.ts';
import { lexiconFor } from './plans.ts';

it('leaves out what a reader lets pass, and nothing else', () => {
  const all = signsAgainst();
  expect(signsAgainst('no', 'defect')).toEqual(
    all.filter((name) => name !== 'no' && name !== 'defect'),
  );
  for (const name of ['not', 'left-to-do', 'future', 'condition', 'doubt', 'cannot'] as const)
    expect(all).toContain(name);
});

// The same denials, before a way of saying, a release, a plan's own words and a place alone.
const DENIALS = [
  'not',
  'will be',
  'still to be',
  'if it was',
  'think it was',
  'nearly',
  "can't be",
];

it.each(DENIALS)('records no safety-critical step behind "%s"', (denial) => {
  for (const [plan, words] of [
    ['injectors', 'fired it up'],
    ['injectors', 'released for first start'],
    ['clutch', 'gearbox strapped'],
    ['hub', 'wheel nuts torqued front left'],
  ] as const) {
    const lexicon = lexiconFor(plan);
    const wrong = readMessage(`${denial} ${words}`, lexicon, {}).acts.filter(
      (act) =>
        (act.kind === 'done' || (act.kind === 'command' && act.command === 'release')) &&
        lexicon.plan.stepById.get(act.step ?? '')?.weight === 'safety-critical',
    );
    expect(wrong).toEqual([]);
  }
});

it.each(['and the right', 'right too'])('lets "right" be the place in "%s"', (text) => {
  const read = readMessage(text, lexiconFor('brake'), {
    previous: [{ id: 'a', from: 'person', text: 'caliper off left' }],
  });
  expect(read.acts).toMatchObject([{ kind: 'done', positions: ['right'] }]);
});
