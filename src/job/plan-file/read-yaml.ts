// The text of a plan file to plain data, with the line of everything in it.
import {
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseDocument,
  visit,
} from 'yaml';
import type { Complaint } from '../../../shared/plan.ts';
import { type Path, pathText, short } from './place.ts';
import { yamlComplaint } from './yaml-complaint.ts';

/** A plan of 200 steps is about 60 kB; beyond this it is some other file. In UTF-16 units. */
export const LONGEST_TEXT = 1_000_000;
/** A plan that repeats itself by anchors stays readable with a few; the limit keeps a small file from growing huge. */
const MOST_ALIASES = 100;

export type ReadYaml = {
  /** Plain data, or undefined where the text cannot be read. */
  readonly value: unknown;
  readonly complaints: readonly Complaint[];
  /** The line, from 1, of the deepest part of the path that the file has. */
  readonly lineOf: (path: Path) => number;
};

const none = (complaint: Omit<Complaint, 'level' | 'path'>): ReadYaml => ({
  value: undefined,
  complaints: [{ level: 'error', path: 'the file', ...complaint }],
  lineOf: () => 1,
});

/** Reads the text of the file of that name. Never throws: what is wrong with it is among the complaints. */
export function readYaml(text: string, file: string): ReadYaml {
  if (text.length > LONGEST_TEXT) {
    return none({
      line: 1,
      what: `${short(file)} has ${text.length} characters.`,
      expected: `A plan of at most ${LONGEST_TEXT} characters.`,
      mend: 'Name the plan file itself, or cut the plan into several.',
    });
  }
  if (text.trim() === '') {
    return none({
      line: 1,
      what: `There is nothing in ${short(file)}.`,
      expected: 'A plan: plan, title, machine, notice and steps.',
      mend: 'Copy a shipped plan from data/plans and change it.',
    });
  }
  try {
    return readDocument(text);
  } catch (error) {
    // The parser recurses, so that thousands of nested brackets exhaust the stack.
    if (!(error instanceof RangeError)) throw error;
    return none({
      line: 1,
      what: 'Lists or groups stand inside each other thousands deep.',
      expected: 'A plan of a few levels.',
      mend: 'Look for a run of opening brackets and take it out.',
    });
  }
}

function readDocument(text: string): ReadYaml {
  const lines = new LineCounter();
  // Doubled keys are looked for below: the parser's own search takes the square of their number.
  const doc = parseDocument(text, {
    lineCounter: lines,
    uniqueKeys: false,
    logLevel: 'error',
    prettyErrors: false,
  });
  const lineAt = (offset: number): number => Math.max(1, lines.linePos(offset).line);
  const lineOf = (path: Path): number => lineAt(offsetOf(doc, path));
  const faults = [...doc.errors, ...doc.warnings];
  if (faults.length > 0) {
    const complaints = faults.map((fault) => yamlComplaint(fault, lineAt(fault.pos[0])));
    return { value: undefined, complaints, lineOf };
  }
  const complaints = [...doubledKeys(doc, lineAt)];
  const alias = doc.contents ? aliasFault(doc.contents, doc) : undefined;
  if (alias === undefined) {
    try {
      return { value: doc.toJS({ maxAliasCount: MOST_ALIASES }), complaints, lineOf };
    } catch (error) {
      // This is how the library reports too many aliases.
      if (!(error instanceof ReferenceError)) throw error;
    }
  }
  complaints.push({
    level: 'error',
    line: alias ? lineAt(alias.offset) : 1,
    path: 'the file',
    what:
      alias?.what ??
      `Anchors (&name, *name) repeat themselves more than ${MOST_ALIASES} times over.`,
    expected: 'A plan in which everything stands where it is read.',
    mend: alias?.mend ?? 'Write the repeated lines out.',
  });
  return { value: undefined, complaints, lineOf };
}

type AliasFault = { readonly what: string; readonly mend: string; readonly offset: number };

/** The first alias that stands for nothing, or for something that it is itself a part of. */
function aliasFault(node: Node, doc: Document): AliasFault | undefined {
  let fault: AliasFault | undefined;
  visit(node, {
    Alias(_, alias, path) {
      const target = alias.resolve(doc);
      const offset = alias.range?.[0] ?? 0;
      const name = short(alias.source);
      if (!target) {
        const what = `*${name} stands for an anchor (&${name}) that is nowhere before it.`;
        fault = { what, offset, mend: 'Put the text in "quotes", or write the lines out.' };
      } else if (path.includes(target)) {
        const what = `The anchor &${name} holds itself.`;
        fault = { what, offset, mend: 'Write the repeated lines out.' };
      }
      return fault ? visit.BREAK : undefined;
    },
  });
  return fault;
}

function doubledKeys(doc: Document, lineAt: (offset: number) => number): Complaint[] {
  const complaints: Complaint[] = [];
  visit(doc, {
    Map(_, map) {
      const first = new Map<string, number>();
      for (const { key } of map.items) {
        if (!isScalar(key)) continue;
        const name = String(key.value);
        const line = lineAt(key.range?.[0] ?? 0);
        const before = first.get(name);
        if (before === undefined) {
          first.set(name, line);
          continue;
        }
        complaints.push({
          level: 'error',
          line,
          path: pathText([name]),
          what: `"${short(name)}" stands twice in the same group, first in line ${before}.`,
          expected: 'Each key once in its group.',
          mend: 'Join the two, or give one its right name.',
        });
      }
    },
  });
  return complaints;
}

/** The offset of the deepest part of the path that the document has: of its key in a group, of the item in a list. */
function offsetOf(doc: Document, path: Path): number {
  let node = doc.contents as Node | null;
  let offset = node?.range?.[0] ?? 0;
  for (const key of path) {
    if (isAlias(node)) node = node.resolve(doc) ?? null;
    if (isMap(node)) {
      // The last of doubled keys is the one whose value counts.
      const pair = node.items.findLast(
        (item) => isScalar(item.key) && String(item.key.value) === String(key),
      );
      if (!pair) return offset;
      offset = (pair.key as Node).range?.[0] ?? offset;
      node = (pair.value as Node | null) ?? null;
    } else if (isSeq(node) && typeof key === 'number') {
      const item = node.items[key] as Node | undefined;
      if (!item) return offset;
      offset = item.range?.[0] ?? offset;
      node = item;
    } else return offset;
  }
  return offset;
}
