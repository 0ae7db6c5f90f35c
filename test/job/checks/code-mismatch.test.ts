import { describe, expect, it } from 'vitest';
import { act, cyl, flagsOf, says, viewOf } from '../story.ts';
import { coded, on, plan } from './code-plan.ts';

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
