// Reads the settings file: strict, every complaint at once, with line and remedy.

import { IANAZone } from 'luxon';
import { LineCounter, parseDocument } from 'yaml';
import { Settings } from '../../shared/settings.ts';
import { nearestName } from '../job/nearest-name.ts';

export type SettingsResult =
  | { readonly ok: true; readonly settings: Settings }
  | { readonly ok: false; readonly complaints: readonly string[] };

const KNOWN = [
  ...Object.keys(Settings.shape),
  'name',
  'roles',
  'competences',
  'under',
  'also',
  'slack',
  'teams',
  'code',
  'days',
  'from',
  'to',
  'breaks',
  'words',
  'shown-to',
  'channel',
];

/** @param file its name, for the complaints */
export const readSettings = (text: string, file: string): SettingsResult => {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, uniqueKeys: true });
  const at = (offset: number): number => lines.linePos(offset).line;
  if (document.errors.length > 0)
    return {
      ok: false,
      complaints: document.errors.map(
        (error) =>
          `${file}:${at(error.pos[0])}: ${error.message.split('\n')[0]}. Mend the line and start again.`,
      ),
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
    for (const issue of parsed.error.issues) {
      const where = issue.path.map(String).join('.') || 'the file';
      if (issue.code === 'unrecognized_keys') {
        for (const key of issue.keys) {
          const near = nearestName(key, KNOWN);
          complaints.push(
            `${file}:${lineOf([...issue.path, key])}: "${key}" is not known here. ${near ? `Did you mean "${near}"?` : 'Take it out.'}`,
          );
        }
      } else
        complaints.push(
          `${file}:${lineOf(issue.path)}: ${where}: ${issue.message}. Mend the value and start again.`,
        );
    }
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
    if (complaints.length === 0) return { ok: true, settings: parsed.data };
  }
  return { ok: false, complaints };
};
