// What does not fit a form, in words: what stands there, what is expected, how to mend it.
import type { z } from 'zod';
import { nearestName } from '../job/nearest-name.ts';

export type Misfit = {
  /** Where it stands, for the line number. */
  readonly path: readonly PropertyKey[];
  readonly says: string;
};

export type FormWords = {
  /** Keys that may stand at a place. */
  readonly keysAt: (path: readonly PropertyKey[]) => readonly string[];
  /** Words people use for a key of ours. */
  readonly meant?: Readonly<Record<string, string>>;
  /** How a value is written, by its key. */
  readonly examples?: Readonly<Record<string, string>>;
};

const KIND: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'a group of keys with values',
  record: 'a group of keys with values',
  null: 'nothing',
};

const kindOf = (value: unknown): string =>
  value === null
    ? 'empty'
    : Array.isArray(value)
      ? 'a list'
      : (KIND[typeof value] ?? 'something else');

const at = (value: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (inner, key) =>
      typeof inner === 'object' && inner !== null && Object.hasOwn(inner, key)
        ? (inner as Record<PropertyKey, unknown>)[key]
        : undefined,
    value,
  );

/** `people.4.roles.0` as `"roles" 1 of "people" 5`: entries are counted from 1. */
const placeWords = (path: readonly PropertyKey[]): string => {
  const words: string[] = [];
  for (const key of path) {
    const last = words.pop();
    if (typeof key === 'number') words.push(last ? `${last} ${key + 1}` : `entry ${key + 1}`);
    else {
      if (last !== undefined) words.push(last);
      words.push(`"${String(key).slice(0, 60)}"`);
    }
  }
  return words.reverse().join(' of ') || 'the whole';
};

const shown = (value: unknown): string =>
  (typeof value === 'string' ? `"${value}"` : (JSON.stringify(value) ?? 'nothing')).slice(0, 60);

const meantKey = (key: string, path: readonly PropertyKey[], form: FormWords) => {
  const known = form.keysAt(path);
  const alias = form.meant?.[key.toLowerCase()];
  if (alias !== undefined && known.includes(alias)) return alias;
  return (
    nearestName(key, known) ??
    known.find((each) => each.length > 3 && key.toLowerCase().includes(each))
  );
};

const sentence = (issue: z.core.$ZodIssue, root: unknown, form: FormWords): string => {
  const key = issue.path.findLast((part) => typeof part === 'string');
  const example = key === undefined ? undefined : form.examples?.[String(key)];
  const where = placeWords(issue.path);
  const value = at(root, issue.path);
  const such = example === undefined ? 'Mend the value.' : `Write it as ${example}.`;
  if (value === undefined)
    return `${where} is missing. ${example === undefined ? 'Write it.' : `Write ${example}.`}`;
  switch (issue.code) {
    case 'invalid_type':
      return `${where} is ${kindOf(value)}; ${KIND[issue.expected] ?? issue.expected} is expected. ${such}`;
    case 'invalid_value': {
      const choices = issue.values.map(String);
      const near = nearestName(String(value), choices);
      return `${where} is ${shown(value)}, which is not known there. ${near ? `Did you mean "${near}"? ` : ''}Choose one of ${choices.join(', ')}.`;
    }
    case 'too_small':
      return Number(issue.minimum) <= 1 && issue.origin !== 'number' && issue.origin !== 'int'
        ? `${where} is empty. ${example === undefined ? 'Write at least one.' : such}`
        : `${where} is ${shown(value)}; ${issue.origin === 'string' ? `at least ${issue.minimum} characters are` : `${issue.inclusive === false ? 'more than' : 'at least'} ${issue.minimum} is`} expected. ${such}`;
    case 'too_big':
      return `${where} is longer or larger than ${issue.maximum}. Shorten it.`;
    case 'invalid_format':
      return `${where} is ${shown(value)}, written in another way than expected. ${such}`;
    default:
      return `${where} does not fit. ${such}`;
  }
};

/**
 * Every misfit once. A key that is missing only because it was misspelled is named as the misspelling alone.
 * @param root what was read, before it was checked
 */
export const misfits = (
  issues: readonly z.core.$ZodIssue[],
  root: unknown,
  form: FormWords,
): readonly Misfit[] => {
  const found: Misfit[] = [];
  const misspelled = new Set<string>();
  for (const issue of issues)
    if (issue.code === 'unrecognized_keys')
      for (const key of issue.keys) {
        const near = meantKey(key, issue.path, form);
        const taken = near !== undefined && at(root, [...issue.path, near]) !== undefined;
        if (near !== undefined) misspelled.add(JSON.stringify([...issue.path, near]));
        found.push({
          path: [...issue.path, key],
          says: `"${key.slice(0, 60)}" is not known here. ${near === undefined ? `Take it out; known are ${form.keysAt(issue.path).join(', ')}.` : taken ? `Take it out: "${near}" is there already.` : `Did you mean "${near}"?`}`,
        });
      }
  for (const issue of issues)
    if (issue.code !== 'unrecognized_keys' && !misspelled.has(JSON.stringify(issue.path)))
      found.push({ path: issue.path, says: sentence(issue, root, form) });
  return found;
};
