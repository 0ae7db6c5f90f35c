// Reads the settings file: strict, every complaint at once, with line and remedy.

import { IANAZone } from 'luxon';
import { LineCounter, parseDocument, type YAMLError } from 'yaml';
import { Notes, Person, Settings, Shift } from '../../shared/settings.ts';
import { yamlComplaint } from '../job/plan-file/yaml-complaint.ts';
import { calendarIn } from './calendar.ts';
import { type FormWords, misfits } from './misfit-words.ts';

export type SettingsResult =
  | { readonly ok: true; readonly settings: Settings }
  | { readonly ok: false; readonly complaints: readonly string[] };

const BREAK = ['name', 'from', 'to', 'words'];

const FORM: FormWords = {
  keysAt: (path) => {
    const place = path.findLast((part) => typeof part === 'string');
    if (place === undefined) return Object.keys(Settings.shape);
    if (place === 'people') return Object.keys(Person.shape);
    if (place === 'shifts') return Object.keys(Shift.shape);
    if (place === 'notes') return Object.keys(Notes.shape);
    if (place === 'week') return ['day', 'at'];
    if (place === 'breaks') return BREAK;
    if (place === 'hours') return ['shown-to'];
    return place === 'slack' || place === 'teams' ? ['channel'] : [];
  },
  meant: {
    timezone: 'zone',
    'time-zone': 'zone',
    tz: 'zone',
    depot: 'workshop',
    name: 'workshop',
    staff: 'people',
    users: 'people',
    team: 'people',
    technicians: 'people',
    holidays: 'days-off',
    lang: 'language',
    skills: 'competences',
    nicknames: 'also',
    start: 'from',
    end: 'to',
    until: 'to',
    pauses: 'breaks',
  },
  examples: {
    workshop: 'workshop: Harrow Lane depot',
    zone: 'zone: Europe/London',
    people:
      'people: with one entry a person, such as - name: Ada, and under it roles: [technician]',
    name: 'name: Ada',
    roles: 'roles: [technician]',
    language: 'language: en',
    also: 'also: [Jo, Joanna]',
    competences: 'competences: [high-voltage]',
    under: 'under: Ada',
    shifts: 'shifts: with one entry a shift, such as - name: early',
    days: 'days: [mon, tue, wed]',
    from: 'from: "07:30"',
    to: 'to: "16:00"',
    breaks: 'breaks: with one entry a break, such as - name: lunch',
    words: 'words: [dinner]',
    plans: 'plans: [plans]',
    'days-off': 'days-off: [2026-12-25]',
    notes: 'notes: with shift-start: true under it',
    'shift-start': 'shift-start: true',
    'shift-end': 'shift-end: true',
    week: 'week: false, or week: with day: mon and at: "07:00" under it',
    day: 'day: mon',
    at: 'at: "07:00"',
    'nudge-after-minutes': 'nudge-after-minutes: 60',
    hours: 'hours: with shown-to: [manager] under it',
    'shown-to': 'shown-to: [manager]',
    'keep-text-days': 'keep-text-days: 365',
    'back-again-days': 'back-again-days: 30',
    slack: 'slack: U0123ABCD for a person, or slack: with channel: under it for the workshop',
    teams:
      'teams: the id of a person in the directory, or teams: with channel: under it for the workshop',
    channel: 'channel: C0123ABCD for Slack, channel: 19:…@thread.tacv2 for Teams',
    code: 'code: followed by the salted hash of the personal code',
  },
};

/** What keeps the lines from being read at all. */
const unreadable = (error: YAMLError, line: number): string => {
  if (error.code === 'DUPLICATE_KEY')
    return 'This key is written twice in its group. Take one of them away.';
  if (error.code === 'MISSING_CHAR')
    return 'Something is left open above, or a colon, comma, bracket or quote is missing here. Compare the line with the one above it.';
  const { what, mend } = yamlComplaint(error, line);
  return `${what.replace('a plan does', 'the settings do')} ${mend}`;
};

/** @param file its name, for the complaints */
export const readSettings = (text: string, file: string): SettingsResult => {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, uniqueKeys: true });
  const at = (offset: number): number => lines.linePos(offset).line;
  if (document.errors.length > 0)
    return {
      ok: false,
      // One fault is often met several times on its line.
      complaints: document.errors
        .map((error) => [error, at(error.pos[0])] as const)
        .filter(([, line], index, all) => all.findIndex(([, first]) => first === line) === index)
        .map(([error, line]) => `${file}:${line}: ${unreadable(error, line)}`),
    };
  let plain: unknown;
  try {
    plain = document.toJS({ maxAliasCount: 20 });
  } catch {
    return {
      ok: false,
      complaints: [`${file}:1: aliases refer to each other. Write the values out.`],
    };
  }
  const lineOf = (path: readonly PropertyKey[]): number => {
    for (let length = path.length; length > 0; length -= 1) {
      const node = document.getIn(path.slice(0, length) as (string | number)[], true) as
        | { range?: [number, number, number] }
        | undefined;
      if (node?.range) return at(node.range[0]);
    }
    return 1;
  };
  const parsed = Settings.safeParse(plain);
  const complaints: string[] = [];
  if (!parsed.success)
    for (const { path, says } of misfits(parsed.error.issues, plain, FORM))
      complaints.push(`${file}:${lineOf(path)}: ${says}`);
  else {
    const { people, zone } = parsed.data;
    if (!IANAZone.isValidZone(zone))
      complaints.push(
        `${file}:${lineOf(['zone'])}: "${zone}" is no time zone. Write one such as Europe/London.`,
      );
    const names = new Map<string, number>();
    people.forEach((person, index) => {
      for (const name of [person.name, ...(person.also ?? [])]) {
        const key = name.toLocaleLowerCase('en');
        const other = names.get(key);
        if (other !== undefined && other !== index)
          complaints.push(
            `${file}:${lineOf(['people', index])}: the name "${name}" is used for two people. Give one of them another name.`,
          );
        names.set(key, index);
      }
    });
    const shifts = new Set((parsed.data.shifts ?? []).map(({ name }) => name));
    people.forEach(({ name, shifts: own = [] }, index) => {
      for (const shift of own)
        if (!shifts.has(shift))
          complaints.push(
            `${file}:${lineOf(['people', index, 'shifts'])}: ${name} works a shift "${shift}" that is not under shifts. ${shifts.size > 0 ? `Write one of ${[...shifts].join(', ')}, or add it there.` : 'Add it there.'}`,
          );
    });
    const calendar = calendarIn(parsed.data);
    if (complaints.length === 0 && !calendar.ok) {
      const { what, doThis } = calendar.problem;
      complaints.push(`${file}:${lineOf(['shifts'])}: ${what} ${doThis}`);
    }
    if (parsed.data.notes && shifts.size === 0)
      complaints.push(
        `${file}:${lineOf(['notes'])}: notes are given at shifts, and there are none. Add the shifts, or take notes away.`,
      );
    if (complaints.length === 0) return { ok: true, settings: parsed.data };
  }
  return { ok: false, complaints };
};
