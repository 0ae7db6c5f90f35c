// Where something stands in a plan file: as a path for programs, and in words for people.

export type Path = readonly (string | number)[];

/** `steps[3].after[0]`; a key that is no plain name stands in quotes. The whole file is "the file". */
export function pathText(path: Path): string {
  let text = '';
  for (const key of path) {
    if (typeof key === 'number') text += `[${key}]`;
    else if (/^[\p{L}\p{N}_-]+$/u.test(key)) text += text === '' ? key : `.${key}`;
    else text += `[${JSON.stringify(short(key))}]`;
  }
  return text === '' ? 'the file' : text;
}

/** The value at a path of plain data, or undefined. Only own keys count. */
export function valueAt(value: unknown, path: Path): unknown {
  let here = value;
  for (const key of path) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, key)) return undefined;
    here = (here as Record<string | number, unknown>)[key];
  }
  return here;
}

const LISTS: Readonly<Record<string, string>> = {
  steps: 'step',
  watched: 'watched act',
  report: 'report',
  stages: 'stage',
  waits: 'wait',
  valves: 'valve',
  renew: 'part to renew',
};
const SETS: Readonly<Record<string, string>> = {
  positions: 'position set',
  fluids: 'fluid',
  states: 'vehicle state',
  tools: 'tool',
  parts: 'part',
  options: 'option',
  also: 'language',
};

/**
 * The thing a path leads to or into, in words: `stage 2 of report 1 of step "fit-clamp"`. Keys that name no thing of
 * their own (such as `title`) are left out; the file itself is "the plan".
 */
export function placeInWords(root: unknown, path: Path): string {
  const things: string[] = [];
  for (const [index, key] of path.entries()) {
    const list = path[index - 1];
    if (typeof list !== 'string') continue;
    if (typeof key === 'number' && Object.hasOwn(LISTS, list)) {
      const id = valueAt(root, [...path.slice(0, index + 1), 'id']);
      const name = typeof id === 'string' && id !== '' ? `"${short(id)}"` : `${key + 1}`;
      things.push(`${LISTS[list]} ${name}`);
    } else if (typeof key === 'string' && Object.hasOwn(SETS, list)) {
      things.push(`${SETS[list]} "${short(key)}"`);
    }
  }
  return things.length === 0 ? 'the plan' : things.reverse().join(' of ');
}

/** A text as it is quoted in a complaint: one line, no control characters, at most 60 characters. */
export function short(text: string): string {
  const line = text.replace(/[\p{C}\p{Z}]+/gu, ' ').trim();
  return line.length > 60 ? `${line.slice(0, 57)}...` : line;
}

/** A value as it is quoted in a complaint. */
export function inWords(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'an empty line';
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : 'a list';
  if (typeof value === 'object') return 'a group of keys';
  if (typeof value === 'string') return value.trim() === '' ? 'an empty text' : `"${short(value)}"`;
  return typeof value === 'number' ? `the number ${value}` : `${value}`;
}

/** `a`, `a or b`, `a, b or c`. */
export function either(names: readonly string[], or = 'or'): string {
  if (names.length < 2) return names[0] ?? '';
  return `${names.slice(0, -1).join(', ')} ${or} ${names.at(-1)}`;
}
