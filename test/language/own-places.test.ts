// A plan's own names of places: "drive left" and "tag left", "feed" and "return". The words are in no language pack.
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/job/load-plan.ts';
import { buildLexicon } from '../../src/language/lexicon.ts';
import { readMessage } from '../../src/language/read.ts';

const planOf = (names: string, part: string): string => `
plan: own-places
title: Renew the ${part}
machine: an invented machine
notice: Demonstration values; the maker's current data comes first.
positions:
  places: { names: [${names}], words: [${part}] }
steps:
  - { id: remove, title: Remove the ${part}, phase: strip, each: places }
  - { id: fit, title: Fit the new ${part}, phase: refit, each: places, after: [remove] }
`;
const lexiconOf = (names: string, part: string) => {
  const { plan } = loadPlan(planOf(names, part), 'own-places.yaml');
  if (!plan) throw new Error('The plan of this test does not load.');
  return buildLexicon(plan);
};
const corners = lexiconOf('drive left, drive right, tag left, tag right', 'spring');
const pipes = lexiconOf('feed, return', 'pipe');

describe('places by the names the plan gives them', () => {
  it.each([
    ['drive left spring out', ['drive left']],
    ['tag right spring removed', ['tag right']],
    ['spring off drive right and tag left', ['drive right', 'tag left']],
    ['drive left and right springs out', ['drive left', 'drive right']],
    ['tag springs removed', ['tag left', 'tag right']],
    ['dl spring out', ['drive left']],
    ['springs removed dr tl', ['drive right', 'tag left']],
    ['left springs removed', ['drive left', 'tag left']],
  ])('%s', (text, positions) => {
    expect(readMessage(text, corners, {}).acts).toMatchObject([
      { kind: 'done', step: 'remove', positions },
    ]);
  });

  it.each([
    ['feed pipe off', ['feed']],
    ['return pipe off', ['return']],
    ['rtn pipe off', ['return']],
    ['return and feed pipe off', ['feed', 'return']],
  ])('%s', (text, positions) => {
    expect(readMessage(text, pipes, {}).acts).toMatchObject([
      { kind: 'done', step: 'remove', positions },
    ]);
  });

  it('the other one of two', () => {
    const previous = [{ id: 'before', from: 'person' as const, text: 'feed pipe off' }];
    const { acts } = readMessage('same on the other side', pipes, { previous });
    expect(acts).toMatchObject([{ kind: 'done', step: 'remove', positions: ['return'] }]);
  });

  it('holds what is not off for not done there', () => {
    expect(readMessage('tag left spring not off', corners, {}).acts).toMatchObject([
      { kind: 'not-done', step: 'remove', positions: ['tag left'] },
    ]);
  });
});
