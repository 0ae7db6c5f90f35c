// A settings file with mistakes: every one is named with its line and how to mend it.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSettings } from '../../src/desk/settings-file.ts';

const GOOD = `workshop: Test
zone: Europe/London
people:
  - name: Ada
    roles: [technician]
`;

const complaintsOf = (text: string): readonly string[] => {
  const read = readSettings(text, 'settings.yaml');
  return read.ok ? [] : read.complaints;
};

describe('readSettings', () => {
  it('takes the demonstration settings', () => {
    const text = readFileSync(join(import.meta.dirname, '../../data/demo/settings.yaml'), 'utf8');
    expect(complaintsOf(text)).toEqual([]);
  });

  it('takes a small file', () => {
    const read = readSettings(GOOD, 'settings.yaml');
    expect(read.ok && read.settings.people[0]?.name).toBe('Ada');
  });

  it.each([
    [
      'a wrong key',
      `${GOOD}poeple: []\n`,
      'settings.yaml:6: "poeple" is not known here. Did you mean "people"?',
    ],
    [
      'no time zone',
      GOOD.replace('Europe/London', 'Europe/Lundon'),
      'settings.yaml:2: "Europe/Lundon" is no time zone. Write one such as Europe/London.',
    ],
    [
      'one name for two',
      `${GOOD}  - name: ada\n    roles: [controller]\n`,
      'settings.yaml:6: the name "ada" is used for two people. Give one of them another name.',
    ],
  ])('names %s', (_what, text, complaint) => {
    expect(complaintsOf(text)).toEqual([complaint]);
  });

  it('names several at once', () => {
    const text = GOOD.replace('roles: [technician]', 'roles: [boss]').replace('zone', 'zoen');
    const complaints = complaintsOf(text);
    expect(complaints.length).toBeGreaterThanOrEqual(3);
    expect(
      complaints.some(
        (complaint) => complaint.startsWith('settings.yaml:5:') && complaint.includes('roles'),
      ),
    ).toBe(true);
    expect(complaints).toContain('settings.yaml:2: "zoen" is not known here. Did you mean "zone"?');
  });

  it('never throws, whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 400 }), (text) => {
        readSettings(text, 'settings.yaml');
      }),
      { numRuns: 300, seed: 7 },
    );
    for (const text of ['a: &a [*a]', '\t', '- - -', 'people: &x {x: *x}', '!!binary x', '{'])
      expect(() => readSettings(text, 'settings.yaml')).not.toThrow();
  });
});
