import { describe, expect, it } from 'vitest';
import { act, cyl, done, flagsOf, only, says, stateOf, viewOf } from '../story.ts';
import { coded, on, plan } from './code-plan.ts';

describe('code-form', () => {
  it('small letters, spaces and hyphens make no difference', () => {
    expect(flagsOf(viewOf(plan, [on, coded('m1', '08:00', 'read', 1, 'ab-12 c3')]))).toEqual([]);
  });
  it.each([
    ['AB12C', 'AB12C'],
    ['AB12C34', 'AB12C34'],
    ['AB12CO', 'AB12CO'],
  ])('%s has not the form', (text, part) => {
    expect(only(viewOf(plan, [on, coded('m1', '08:00', 'read', 1, text)]), 'code-form')).toEqual([
      `code-form|read|cylinder 1|${part} caution`,
    ]);
  });
  it('names the character that was probably meant', () => {
    const view = viewOf(plan, [on, coded('m1', '08:00', 'read', 1, 'AB12CO')]);
    expect(view.flags[0]?.says).toMatch(
      /Place 6 of AB12CO is O.*Job 1042, cylinder 1, 08:00\..*0 may be meant/,
    );
  });
  it('the step counts as reported', () => {
    expect(
      stateOf(viewOf(plan, [on, coded('m1', '08:00', 'read', 1, 'AB12C')]), 'read', 'cylinder 1'),
    ).toBe('done');
  });
  it('a correction takes it away', () => {
    const fixed = says('m2', '08:01', 'Tom', [
      act('corrects', 'read', { code: 'AB12C0', was: 'AB12CO' }, cyl(1)),
    ]);
    expect(flagsOf(viewOf(plan, [on, coded('m1', '08:00', 'read', 1, 'AB12CO'), fixed]))).toEqual(
      [],
    );
  });
});

it('a code left out is partly done, with one question', () => {
  const view = viewOf(plan, [on, says('m1', '08:00', 'Tom', [done('read', {}, cyl(1, 2))])]);
  expect(stateOf(view, 'read', 'cylinder 1')).toBe('partial');
  expect(view.wants.map(({ question }) => question)).toEqual(['m1:figure:read']);
});
