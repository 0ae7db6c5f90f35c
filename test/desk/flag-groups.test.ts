// Flags that differ only in their position are said as one.
import { describe, expect, it } from 'vitest';
import { type Flag, flagKey } from '../../shared/flag.ts';
import { grouped, meansFlag } from '../../src/desk/flag-groups.ts';

const flag = (position: string | null, more: Partial<Flag> = {}): Flag => ({
  rule: 'skipped',
  level: 'stop',
  step: 'fit-line',
  position,
  part: null,
  says: `Skipped: "Fit the line"${position ? `, ${position}` : ''}. Report it now.`,
  raisedBy: ['m1'],
  ...more,
});

const six = [1, 2, 3, 4, 5, 6].map((number) => flag(`cylinder ${number}`));

describe('grouped', () => {
  it('six cylinders are one sentence', () => {
    const groups = grouped(six);
    expect(groups.map(({ says }) => says)).toEqual([
      'Skipped: "Fit the line", cylinder 1 to 6. Report it now.',
    ]);
    expect(groups[0]?.flags).toEqual(six);
  });

  it('a gap in the numbers is said', () => {
    expect(grouped([flag('cylinder 1'), flag('cylinder 3')])[0]?.says).toContain(
      'cylinder 1 and 3',
    );
  });

  it.each([
    ['another step', { step: 'bleed' }],
    ['another rule', { rule: 'redo' as const }],
    ['another level', { level: 'caution' as const }],
    ['another part', { part: 'stage 2' }],
    ['other words', { says: 'Skipped: "Fit the line", cylinder 2. It was done afterwards.' }],
  ])('%s is another group', (_what, more) => {
    expect(grouped([flag('cylinder 1'), flag('cylinder 2', more)])).toHaveLength(2);
  });

  it('keeps the order in which they came', () => {
    const groups = grouped([flag(null, { step: 'b' }), flag(null, { step: 'a' })]);
    expect(groups.map(({ flags }) => flags[0]?.step)).toEqual(['b', 'a']);
  });

  it('nothing is no group', () => {
    expect(grouped([])).toEqual([]);
  });
});

describe('the key of a group', () => {
  it('means every flag of it and no other', () => {
    const [group] = grouped(six);
    expect(six.every((each) => meansFlag(group?.key ?? '', each))).toBe(true);
    expect(meansFlag(group?.key ?? '', flag('cylinder 1', { step: 'bleed' }))).toBe(false);
  });

  it('of a flag that stands alone is its own', () => {
    const alone = flag('cylinder 3');
    expect(grouped([alone])[0]?.key).toBe(flagKey(alone));
  });
});
