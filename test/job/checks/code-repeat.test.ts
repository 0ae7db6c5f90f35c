import { describe, expect, it } from 'vitest';
import { flagsOf, viewOf } from '../story.ts';
import { coded, on, plan } from './code-plan.ts';

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
