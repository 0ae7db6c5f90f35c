import { describe, expect, it } from 'vitest';
import {
  act,
  cyl,
  done,
  flagsOf,
  only,
  opened,
  planOf,
  SIX,
  says,
  stateOf,
  viewOf,
} from '../story.ts';

const code = (of: string, todo: 'read' | 'enter') => ({
  kind: 'code' as const,
  of,
  do: todo,
  form: 'X{6}',
  alphabet: 'ABCDEFGHJKLMNPRSTUVWXYZ0123456789',
});
const plan = planOf(
  [
    { id: 'old', each: 'cylinders', report: [code('old-code', 'read')] },
    {
      id: 'read',
      each: 'cylinders',
      weight: 'damage-critical',
      report: [code('trim-code', 'read')],
    },
    {
      id: 'enter',
      title: 'Enter the code',
      each: 'cylinders',
      weight: 'damage-critical',
      report: [code('trim-code', 'enter')],
    },
  ],
  { positions: SIX },
);
const on = opened({ positions: cyl(1, 2) });
const coded = (id: string, clock: string, step: string, at: number, text: string) =>
  says(id, clock, 'Tom', [done(step, { code: text }, cyl(at))]);

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

describe('code-mismatch', () => {
  const label = coded('m1', '08:00', 'read', 1, 'AB12C0');
  it('the same code is right', () => {
    expect(flagsOf(viewOf(plan, [on, label, coded('m2', '09:00', 'enter', 1, 'ab12c0')]))).toEqual(
      [],
    );
  });
  it.each([
    ['AB12C0', 'A812C0', 'place 2 B or 8'],
    ['AB52C0', 'ABS2C0', 'place 3 5 or S'],
    ['AB1ZC0', 'AB12C0', 'place 4 Z or 2'],
  ])('label %s, entered %s: look-alikes are named', (read, entered, says_) => {
    const view = viewOf(plan, [
      on,
      coded('m1', '08:00', 'read', 1, read),
      coded('m2', '09:00', 'enter', 1, entered),
    ]);
    expect(flagsOf(view)).toEqual([`code-mismatch|enter|cylinder 1|${entered} caution`]);
    expect(view.flags[0]?.says).toContain(says_);
    expect(view.flags[0]?.says).toContain(`Label ${read}, entered ${entered}.`);
  });
  it('another position is another part', () => {
    expect(flagsOf(viewOf(plan, [on, label, coded('m2', '09:00', 'enter', 2, 'XY12C3')]))).toEqual(
      [],
    );
  });
  it('the entry corrected, it is right again', () => {
    const fixed = says('m3', '09:01', 'Tom', [
      act('corrects', 'enter', { code: 'AB12C0' }, cyl(1)),
    ]);
    expect(
      flagsOf(viewOf(plan, [on, label, coded('m2', '09:00', 'enter', 1, 'A812C0'), fixed])),
    ).toEqual([]);
  });
});

describe('code-repeat', () => {
  it('one code at two places', () => {
    const view = viewOf(plan, [
      on,
      coded('m1', '08:00', 'read', 1, 'AB12C3'),
      coded('m2', '08:10', 'read', 2, 'AB12C3'),
    ]);
    expect(flagsOf(view)).toEqual(['code-repeat|read|cylinder 2|AB12C3 caution']);
    expect(view.flags[0]?.says).toContain('AB12C3 is also on record for "read", cylinder 1.');
    expect(view.flags[0]?.raisedBy).toEqual(['m2']);
  });
  it("the old part's code entered again", () => {
    const view = viewOf(plan, [
      on,
      coded('m1', '08:00', 'old', 1, 'AB12C3'),
      coded('m2', '09:00', 'enter', 1, 'AB12C3'),
    ]);
    expect(flagsOf(view)).toEqual(['code-repeat|enter|cylinder 1|AB12C3 caution']);
    expect(view.flags[0]?.says).toContain('was read as the old code');
  });
  it('read and entered at one place is no repeat', () => {
    expect(
      flagsOf(
        viewOf(plan, [
          on,
          coded('m1', '08:00', 'read', 1, 'AB12C3'),
          coded('m2', '09:00', 'enter', 1, 'AB12C3'),
        ]),
      ),
    ).toEqual([]);
  });
});

it('a code left out is partly done, with one question', () => {
  const view = viewOf(plan, [on, says('m1', '08:00', 'Tom', [done('read', {}, cyl(1, 2))])]);
  expect(stateOf(view, 'read', 'cylinder 1')).toBe('partial');
  expect(view.wants.map(({ question }) => question)).toEqual(['m1:figure:read']);
});
