// Which parts of an event are words or names of people. They can be removed later; all else is fact and stays.
import type { JobEvent } from '../../shared/event.ts';

export type Leaf = {
  /** Such as `text`, `by` or `acts.0.note`. */
  readonly path: string;
  readonly kind: 'text' | 'name';
  readonly value: string | null;
};

type Kind = Leaf['kind'];
type Pattern = readonly [path: string, kind: Kind];

/** `*` stands for every member of a list. `message-moved` has a `to` as well, but that one is a job. */
const ACT: readonly Pattern[] = [
  ['by', 'name'],
  ['note', 'text'],
  ['was', 'text'],
  ['assumed.*', 'text'],
  ['candidates.*.says', 'text'],
];
const under = (path: string, patterns: readonly Pattern[]): readonly Pattern[] =>
  patterns.map(([inner, kind]) => [`${path}.${inner}`, kind] as const);
const BY: Pattern = ['by', 'name'];
const REASON: Pattern = ['reason', 'text'];
const SAYS: Pattern = ['says', 'text'];
const CREW: readonly Pattern[] = [
  ['technician', 'name'],
  ['controller', 'name'],
];

const PATTERNS: Readonly<Record<JobEvent['kind'], readonly Pattern[]>> = {
  'job-opened': [BY, ...CREW, ['complaint', 'text']],
  'message-posted': [BY, ['under', 'name'], ['text', 'text']],
  'message-edited': [BY, ['text', 'text']],
  'message-deleted': [BY],
  'message-read': [BY, ...under('acts.*', ACT)],
  'photo-kept': [BY],
  'question-asked': [
    BY,
    ['asks', 'text'],
    ['choices.*.says', 'text'],
    ['choices.*.value', 'text'],
    ...under('choices.*.acts.*', ACT),
  ],
  'question-answered': [BY, ...under('acts.*', ACT)],
  'question-lapsed': [BY],
  'hold-released': [BY, REASON],
  'hold-refused': [BY, REASON],
  'flag-announced': [BY, ['to', 'name'], SAYS],
  'flag-withdrawn': [BY, SAYS],
  'flag-acknowledged': [BY],
  'flag-overridden': [BY, REASON],
  'flag-passed-on': [BY, ['to', 'name']],
  'finding-settled': [BY, REASON],
  'job-changed': [BY, ...CREW, REASON],
  'job-corrected': [BY, REASON],
  'plan-moved': [BY],
  'message-moved': [BY],
  'wait-nudged': [BY, ['to', 'name'], SAYS],
  'handed-over': [BY, ['to', 'name'], SAYS],
  'road-released': [BY],
  'job-closed': [BY],
  'job-reopened': [BY, REASON],
  'job-cancelled': [BY, REASON],
};

type Tree = { readonly [key: string]: unknown };
const isTree = (value: unknown): value is Tree => typeof value === 'object' && value !== null;

const SPLIT: ReadonlyMap<string, readonly (readonly [parts: readonly string[], kind: Kind])[]> =
  new Map(
    Object.entries(PATTERNS).map(([event, patterns]) => [
      event,
      patterns.map(([path, kind]) => [path.split('.'), kind] as const),
    ]),
  );

type Change = (leaf: Leaf) => unknown;

/** Walks one pattern; gives back the same object where nothing was changed. */
function walk(
  at: unknown,
  parts: readonly string[],
  seen: string,
  kind: Kind,
  to: Change,
): unknown {
  const [part, ...rest] = parts;
  if (part === undefined) {
    if (typeof at !== 'string' && at !== null) return at;
    return to({ path: seen, kind, value: at });
  }
  if (!isTree(at)) return at;
  const keys = part === '*' && Array.isArray(at) ? at.map((_, i) => String(i)) : [part];
  let changed: Record<string, unknown> | unknown[] | undefined;
  for (const key of keys) {
    const old = at[key];
    if (old === undefined) continue;
    const next = walk(old, rest, seen === '' ? key : `${seen}.${key}`, kind, to);
    if (next === old) continue;
    changed ??= Array.isArray(at) ? [...at] : { ...at };
    (changed as Record<string, unknown>)[key] = next;
  }
  return changed ?? at;
}

/** Every word and name of an event, in a fixed order. */
export function leavesOf(event: JobEvent): readonly Leaf[] {
  const leaves: Leaf[] = [];
  withLeaves(event, (leaf) => {
    leaves.push(leaf);
    return leaf.value;
  });
  return leaves;
}

/** The event with each word and name replaced by what `to` makes of it. */
export function withLeaves(event: JobEvent, to: Change): unknown {
  let tree: unknown = event;
  for (const [parts, kind] of SPLIT.get(event.kind) ?? []) tree = walk(tree, parts, '', kind, to);
  return tree;
}
