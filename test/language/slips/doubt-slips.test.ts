// Words that may have been meant for others: counted slips, and questions where another word would turn the report.
import { expect, it } from 'vitest';
import { readMessage } from '../../../src/language/read.ts';
import { slipsBetween, slipsFor } from '../../../src/language/slips/near-words.ts';
import { holdsGlued, nearTo, tellingWords } from '../../../src/language/slips/telling-words.ts';
import { lexiconFor } from '../plans.ts';

it.each([
  // Counted by hand: one letter changed, dropped, added, swapped; two of them.
  ['from', 'from', 0],
  ['frim', 'from', 1],
  ['fom', 'from', 1],
  ['froom', 'from', 1],
  ['form', 'from', 1],
  ['frlmm', 'from', 2],
  ['weeinh', 'weeping', 2],
  ['dianed', 'drained', 2],
  ['wheel', 'steering', 3],
])('counts the slips between %s and %s', (a, b, slips) => {
  expect(slipsBetween(a, b, 2)).toBe(slips);
  expect(slipsBetween(b, a, 2)).toBe(slips);
});

it('allows two slips from six letters on', () => {
  expect(slipsFor('front')).toBe(1);
  expect(slipsFor('weeinh')).toBe(2);
});

it('knows the words that turn a report, place it and name its work', () => {
  const tongue = lexiconFor('hub').tongues[0];
  if (!tongue) throw new Error('The plan has no language.');
  const telling = tellingWords(tongue);
  expect(nearTo('stil', telling.turning, 1)).toContain('still');
  expect(nearTo('rigth', telling.placing, 1)).toContain('right');
  expect(nearTo('wheeel', telling.naming, 1)).toContain('wheel');
  expect(holdsGlued('therearr', telling, false)).toBe(true);
  expect(holdsGlued('sixpence', telling, false)).toBe(false);
});

const graveDone = (plan: string, text: string) => {
  const lexicon = lexiconFor(plan);
  return readMessage(text, lexicon, {}).acts.filter(
    (act) =>
      act.kind === 'done' &&
      act.step !== undefined &&
      lexicon.plan.stepById.get(act.step)?.weight === 'safety-critical',
  );
};

it.each([
  ['clutch', 'bell bolts torqued apat form the top two'],
  ['clutch', 'gearbox to in'],
  ['hub', 'wheel nuts front left jot finisj'],
  ['hub', 'wheel nuts cheekced agaon after 30 min front left, all good'],
  ['injectors', 'leaks checked, twoweepingg'],
  ['injectors', 'fwwd: pipe nuts all torqued'],
  ['injectors', 'clamps done bat cyl 6'],
  ['injectors', 'rail is off theengine'],
  ['brake', 'wheel nuts torqued on the lfet frlmm'],
])('asks where a stranger may turn the report: %s "%s"', (plan, text) => {
  expect(graveDone(plan, text)).toEqual([]);
});

it.each([
  ['injectors', 'morning campers, pipe nuts torqued 1 to 6, like a dream'],
  ['hub', 'wheel nuts torqued 600 nm front left, champion'],
  ['clutch', 'box strpd'],
  ['hub', 'wheel nuts torqd front left'],
])('takes a plain report beside other words: %s "%s"', (plan, text) => {
  expect(graveDone(plan, text).length).toBeGreaterThan(0);
});
