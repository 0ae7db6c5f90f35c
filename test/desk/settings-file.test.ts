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
      'settings.yaml:6: "poeple" is not known here. Take it out: "people" is there already.',
    ],
    [
      'a key by another name',
      GOOD.replace('zone:', 'timezone:'),
      'settings.yaml:2: "timezone" is not known here. Did you mean "zone"?',
    ],
    [
      'a key that is missing',
      GOOD.replace('zone: Europe/London\n', ''),
      'settings.yaml:1: "zone" is missing. Write zone: Europe/London.',
    ],
    [
      'a role nobody has',
      `${GOOD}  - name: Ben\n    roles: [controler]\n`,
      'settings.yaml:7: "roles" 1 of "people" 2 is "controler", which is not known there. Did you mean "controller"? Choose one of technician, controller, manager.',
    ],
    [
      'text for a list',
      `${GOOD}plans: mine\n`,
      'settings.yaml:6: "plans" is text; a list is expected. Write it as plans: [plans].',
    ],
    [
      'a time in another form',
      `${GOOD}shifts:\n  - name: early\n    days: [mon]\n    from: "7:30"\n    to: "16:00"\n`,
      'settings.yaml:9: "from" of "shifts" 1 is "7:30", written in another way than expected. Write it as from: "07:30".',
    ],
    [
      'a key written twice',
      `${GOOD}zone: Europe/Paris\n`,
      'settings.yaml:6: This key is written twice in its group. Take one of them away.',
    ],
    [
      'a tab',
      GOOD.replace('  - name', '\t- name'),
      'settings.yaml:4: The line begins with a tab. Use two spaces for each level.',
    ],
    [
      'nobody',
      `workshop: W\nzone: Europe/London\npeople: []\n`,
      'settings.yaml:3: "people" is empty. Write it as people: with one entry a person, such as - name: Ada, and under it roles: [technician].',
    ],
    [
      'no time zone',
      GOOD.replace('Europe/London', 'Europe/Lundon'),
      'settings.yaml:2: "Europe/Lundon" is no time zone. Write one such as Europe/London.',
    ],
    [
      'a shift that is none',
      `${GOOD}  - name: Ben\n    roles: [technician]\n    shifts: [nights]\nshifts:\n  - name: night\n    days: [mon]\n    from: "22:00"\n    to: "06:00"\n`,
      'settings.yaml:8: Ben works a shift "nights" that is not under shifts. Write one of night, or add it there.',
    ],
    [
      'a break outside its shift',
      `${GOOD}shifts:\n  - name: day\n    days: [mon]\n    from: "07:30"\n    to: "16:00"\n    breaks:\n      - {name: tea, from: "16:30", to: "17:00"}\n`,
      'settings.yaml:7: The break 16:30 to 17:00 does not lie in shift "day" (07:30 to 16:00). Correct the break or the shift.',
    ],
    [
      'notes without shifts',
      `${GOOD}notes: {shift-start: true}\n`,
      'settings.yaml:6: notes are given at shifts, and there are none. Add the shifts, or take notes away.',
    ],
    [
      'a note at a day that is none',
      `${GOOD}notes: {shiftstart: true}\n`,
      'settings.yaml:6: "shiftstart" is not known here. Did you mean "shift-start"?',
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
    // The misspelled zone is named once, not as missing as well.
    expect(complaints).toHaveLength(2);
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
