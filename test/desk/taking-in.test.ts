// Taking somebody in: the form, the person it makes, and the settings with them.
import { describe, expect, it } from 'vitest';
import type { Settings } from '../../shared/settings.ts';
import type { Stranger } from '../../src/desk/card.ts';
import { readSettings } from '../../src/desk/settings-file.ts';
import { onlyLooks, strangerCard, takeInForm, takenIn } from '../../src/desk/taking-in.ts';
import { withPerson } from '../../src/desk/with-person.ts';

const SETTINGS: Settings = {
  workshop: 'Harrow Lane depot',
  zone: 'Europe/London',
  people: [
    { name: 'Ada', also: ['Addie'], roles: ['technician'], slack: 'U0ADA001' },
    { name: 'Lee', roles: ['technician'], language: 'de' },
  ],
};
const JO: Stranger = { channel: 'slack', team: 'T1', person: 'U0JO0001', name: 'Jo Smith' };

describe('what only looks', () => {
  it.each([
    [true, [{ kind: 'command', command: 'where' }]],
    [true, [{ kind: 'asks', command: 'limit' }]],
    [true, [{ kind: 'asks' }]],
    [false, []],
    [false, [{ kind: 'done' }]],
    [false, [{ kind: 'command', command: 'release' }]],
    [false, [{ kind: 'command', command: 'where' }, { kind: 'done' }]],
  ])('%s: %j', (looks, acts) => {
    expect(onlyLooks(acts as Parameters<typeof onlyLooks>[0])).toBe(looks);
  });
});

describe('the form', () => {
  it('offers those of the settings who have no id there, and somebody new', () => {
    const who = takeInForm(SETTINGS, JO).fields.find(({ name }) => name === 'who');
    expect(who?.choices?.map(({ value }) => value)).toEqual(['(new)', 'Lee']);
    const all = { people: SETTINGS.people.slice(0, 1) };
    expect(takeInForm(all, JO).fields.map(({ name }) => name)).toEqual(['name', 'role']);
  });

  it('goes with a card that says what was kept, whose it is, and what to do', () => {
    const card = strangerCard(SETTINGS, JO, true, ['Robin']);
    expect(card.text).toContain('Kept, not recorded yet: "Jo Smith"');
    expect(card.tells).toEqual(['Robin']);
    for (const { intent } of card.actions ?? [])
      expect(JSON.stringify(intent).length).toBeLessThan(2000);
  });
});

describe('the person', () => {
  it('is new, with the role that was chosen', () => {
    expect(takenIn(SETTINGS, JO, { who: '(new)', name: ' Jo  Smith ', role: 'manager' })).toEqual({
      ok: true,
      known: false,
      person: { name: 'Jo Smith', roles: ['manager'], slack: 'U0JO0001' },
    });
  });

  it('is one of the settings, who keeps everything and gains the id', () => {
    expect(takenIn(SETTINGS, JO, { who: 'Lee' })).toEqual({
      ok: true,
      known: true,
      person: { name: 'Lee', roles: ['technician'], language: 'de', slack: 'U0JO0001' },
    });
  });

  it.each([
    ['a name that is taken', { name: 'ada' }, 'There is a "ada"'],
    ['a name by which somebody is called', { name: 'ADDIE' }, 'There is a "ADDIE"'],
    ['a name of 61 letters', { name: 'a'.repeat(61) }, 'longer than 60'],
    ['one who has an id already', { who: 'Ada' }, 'has an id already'],
    ['one who is not there', { who: 'Zed' }, 'not in the settings'],
  ])('is none with %s, in a sentence', (_, fields, says) => {
    const made = takenIn(SETTINGS, JO, fields as Record<string, string>);
    expect(made.ok).toBe(false);
    expect(!made.ok && made.says).toContain(says);
  });

  it('never gets a role that was not offered', () => {
    const made = takenIn(SETTINGS, JO, { name: 'Jo', role: 'owner' });
    expect(made.ok && made.person.roles).toEqual(['technician']);
  });
});

describe('the settings', () => {
  const TEXT = `# of the depot
workshop: Harrow Lane depot
zone: Europe/London
people:
  - name: Ada # on days
    roles: [technician]
  - { name: Lee, roles: [technician] }
plans: [ours]
`;

  it('keep their comments, their order and everybody else', () => {
    const text = withPerson(
      TEXT,
      { name: 'Jo', roles: ['technician'], slack: 'U0JO0001' },
      'by Robin',
    );
    for (const words of ['# of the depot', '# on days', 'plans: [ ours ]', '# by Robin'])
      expect(text).toContain(words);
    const read = readSettings(text ?? '', 'settings.yaml');
    expect(read.ok && read.settings.people).toEqual([
      { name: 'Ada', roles: ['technician'] },
      { name: 'Lee', roles: ['technician'] },
      { name: 'Jo', roles: ['technician'], slack: 'U0JO0001' },
    ]);
  });

  it('gain the id of one who is there, and nothing that was written is overwritten', () => {
    const person = { name: 'Lee', roles: ['manager' as const], slack: 'U0JO0001' };
    const read = readSettings(withPerson(TEXT, person, '') ?? '', 'settings.yaml');
    expect(read.ok && read.settings.people[1]).toEqual({
      name: 'Lee',
      roles: ['technician'],
      slack: 'U0JO0001',
    });
  });

  it('are left alone where people are no list', () => {
    expect(withPerson('people: none\n', { name: 'Jo', roles: ['technician'] }, '')).toBeUndefined();
    expect(withPerson('people: [', { name: 'Jo', roles: ['technician'] }, '')).toBeUndefined();
  });
});
