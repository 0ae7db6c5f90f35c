// What the schema found in one place of a plan, in a workshop's words.
import type { z } from 'zod';
import { type Complaint, PlanFile } from '../../../shared/plan.ts';
import { nearestName } from '../nearest-name.ts';
import { describedAt } from './known-keys.ts';
import { inWords, type Path, placeInWords, short, valueAt } from './place.ts';

type Issue = z.core.$ZodIssue;
type Words = Pick<Complaint, 'what' | 'expected' | 'mend'>;

/** The complaint for an issue of the schema, other than for keys that it does not know. */
export function wordsFor(issue: Issue, data: unknown, path: Path): Words {
  const value = valueAt(data, path);
  const key = path.at(-1);
  const place = placeInWords(data, path);
  const where =
    typeof key === 'number'
      ? `Item ${key + 1} of ${String(path.at(-2))}`
      : `"${short(String(key ?? ''))}"`;
  const named =
    path.length === 0 ? 'The file' : place === 'the plan' ? where : `${where} of ${place}`;
  if (value === undefined && issue.code !== 'invalid_key') return missing(issue, data, path, place);
  if (value === null && issue.code !== 'invalid_key') {
    return {
      what: `${named} has nothing after it.`,
      expected: expectation(issue, data, path),
      mend: 'Write its value, or take the line out if the key may be left out.',
    };
  }
  switch (issue.code) {
    case 'invalid_key':
      return {
        what: `The name ${inWords(key)} is not spelled as names are.`,
        expected: ended(capital(issue.issues[0]?.message ?? 'a name')),
        mend: `Rename it ${suggestedName(String(key))}, here and wherever it is used.`,
      };
    case 'invalid_value':
    case 'invalid_union':
      return choice(issue, value, named);
    case 'invalid_type':
      return {
        what: `${named} is ${inWords(value)}.`,
        expected: expectation(issue, data, path),
        mend: mendType(issue.expected, value),
      };
    default:
      return {
        what: `${named} is ${inWords(value)}.`,
        expected: expectation(issue, data, path),
        mend: mendSize(issue, value, key),
      };
  }
}

function missing(issue: Issue, data: unknown, path: Path, place: string): Words {
  const key = String(path.at(-1));
  const said = describedAt(PlanFile, data, path);
  const owner = placeInWords(data, path.slice(0, -1));
  return {
    what:
      path.length === 0
        ? 'The file holds nothing.'
        : `${capital(owner === 'the plan' ? place : owner)} has no ${key}.`,
    expected: said ? `${key}: ${ended(said)}` : expectation(issue, data, path),
    mend: `Add a line "${key}: ${EXAMPLES[key] ?? '...'}".`,
  };
}

/** What might stand there, for a key that is missing. */
const EXAMPLES: Readonly<Record<string, string>> = {
  plan: 'renew-coolant-pump',
  title: 'Drain the coolant',
  machine: 'the machine the plan is for',
  notice: "a demonstration; the maker's current data come first",
  id: 'drain-coolant',
  phase: 'strip',
  kind: 'quantity',
  of: 'bearing play',
  unit: 'mm',
  fluid: 'coolant',
  because: 'the sealant has to set',
  form: 'A9999',
  minutes: '30',
  release: '[controller]',
  after: 'drain-coolant',
  part: 'pipe clips',
  count: '6',
};

function choice(issue: Issue, value: unknown, named: string): Words {
  const values =
    issue.code === 'invalid_value' ? issue.values : 'options' in issue ? issue.options : [];
  const known = (values as readonly unknown[]).map(String);
  const nearest = nearestName(String(value), known);
  return {
    what: `${named} is ${inWords(value)}.`,
    expected: `One of ${known.join(', ')}.`,
    mend: nearest ? `Write ${nearest}.` : 'Choose one of these.',
  };
}

const TYPES: Readonly<Record<string, string>> = {
  string: 'A text.',
  number: 'A number.',
  int: 'A whole number.',
  boolean: 'true or false.',
  array: 'A list: [one, other], or a line beginning "- " for each.',
  object: 'A group of keys, two spaces further in.',
  record: 'A group of names, two spaces further in.',
};

function expectation(issue: Issue, data: unknown, path: Path): string {
  const said = describedAt(PlanFile, data, path);
  const because = said ? ` (${said})` : '';
  switch (issue.code) {
    case 'invalid_type':
      return `${(TYPES[issue.expected] ?? 'A value.').slice(0, -1)}${because}.`;
    case 'invalid_value':
      return `One of ${issue.values.map(String).join(', ')}.`;
    case 'too_small':
      return `${sized(issue.origin, issue.inclusive ? 'At least' : 'More than', Number(issue.minimum))}${because}.`;
    case 'too_big':
      return `${sized(issue.origin, issue.inclusive ? 'At most' : 'Less than', Number(issue.maximum))}${because}.`;
    case 'invalid_format':
      return issue.format === 'regex' && issue.message.startsWith('Invalid')
        ? 'Two small letters, such as de.'
        : `${capital(issue.message)}.`;
    default:
      return said ? `${capital(said)}.` : 'A value of the plan format.';
  }
}

function sized(origin: string, bound: string, size: number): string {
  if (origin === 'string') return `${bound} ${size} character${size === 1 ? '' : 's'}`;
  if (origin === 'array') return `${bound} ${size} in the list`;
  return `${bound} ${size}`;
}

function mendType(expected: string, value: unknown): string {
  if (expected === 'string' && ['number', 'boolean'].includes(typeof value)) {
    return `Put it in quotes: "${String(value)}".`;
  }
  if (expected === 'array' && typeof value === 'string')
    return `Write it as a list: [${short(value)}].`;
  if (expected === 'array') return 'Put "- " before each of them, or square brackets round all.';
  if (['number', 'int'].includes(expected)) {
    const figure = typeof value === 'string' ? /-?\d+(?:[.,]\d+)?/.exec(value)?.[0] : undefined;
    return figure
      ? `Write ${figure.replace(',', '.')} without quotes or unit.`
      : 'Write the figure alone, without quotes or unit.';
  }
  if (expected === 'boolean') return 'Write true, or leave the line out.';
  return 'Put each of its keys on a line of its own below it.';
}

function mendSize(issue: Issue, value: unknown, key: string | number | undefined): string {
  if (issue.code === 'invalid_format') return `Write ${suggestedName(String(value))}.`;
  if (key === 'release') return 'Name who may release it, such as [controller].';
  if (key === 'steps') return 'Write the steps, each beginning "- id: ".';
  if (issue.code === 'too_small' && issue.origin === 'array')
    return 'List at least one, or take the key out.';
  if (issue.code === 'too_big' && issue.origin === 'array') return 'Cut the list down.';
  if (issue.code === 'too_big' && issue.origin === 'string') return 'Shorten it.';
  if (issue.code === 'too_small' && issue.origin === 'string') return 'Write a few words.';
  return 'Correct the figure or its unit.';
}

/** A text as a name: `Drain Coolant` becomes `drain-coolant`. */
function suggestedName(text: string): string {
  const name = text
    .toLowerCase()
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return name === '' ? 'a name such as drain-coolant' : short(name);
}

const ended = (text: string): string => (text.endsWith('.') ? text : `${text}.`);
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
