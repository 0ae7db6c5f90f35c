// Finds the signs of a language in a line of tokens: the longest sequence at each place, for each sign by itself.
import type { CueName, LanguagePack } from './pack.ts';
import type { Token } from './tidy/token.ts';

export type Cue = { readonly name: CueName; readonly from: number; readonly to: number };

type Row = { readonly words: readonly string[]; readonly name: CueName };

/** The sequences that begin with one word, longest first: those of the word alone, and all by their second word. */
type Beginning = {
  readonly alone: readonly Row[];
  readonly bySecond: ReadonlyMap<string, readonly Row[]> | undefined;
};

export type CueTable = {
  readonly byFirst: ReadonlyMap<string, Beginning>;
  /** Words that join what stands before them with what stands behind. */
  readonly conjunctions: ReadonlySet<string>;
};

function beginningOf(rows: readonly Row[]): Beginning {
  const names = new Set<CueName>();
  const alone = rows.filter((row) => {
    if (row.words.length > 1 || names.has(row.name)) return false;
    names.add(row.name);
    return true;
  });
  const seconds = new Set(rows.flatMap((row) => row.words[1] ?? []));
  if (seconds.size === 0) return { alone, bySecond: undefined };
  const bySecond = new Map(
    [...seconds].map((second) => [
      second,
      rows.filter((row) => row.words.length === 1 || row.words[1] === second),
    ]),
  );
  return { alone, bySecond };
}

/** The table of one language: made once, the same for every plan. */
export function makeCueTable(pack: LanguagePack): CueTable {
  const have = tables.get(pack);
  if (have) return have;
  const lists = new Map<string, Row[]>();
  for (const [name, list] of Object.entries(pack.cues)) {
    for (const phrase of list) {
      const words = phrase.split(' ');
      const first = words[0] ?? '';
      const rows = lists.get(first) ?? [];
      rows.push({ words, name: name as CueName });
      lists.set(first, rows);
    }
  }
  const byFirst = new Map<string, Beginning>();
  for (const [first, rows] of lists)
    byFirst.set(first, beginningOf(rows.sort((a, b) => b.words.length - a.words.length)));
  const conjunctions = new Set(
    [...byFirst].flatMap(([first, { alone }]) =>
      alone.some((row) => row.name === 'conjunction') ? [first] : [],
    ),
  );
  const made = { byFirst, conjunctions };
  tables.set(pack, made);
  return made;
}

const tables = new WeakMap<LanguagePack, CueTable>();

/** Every cue from `from` up to `to`. Each sign counts once at a place, by its longest sequence. */
export function findCues(
  tokens: readonly Token[],
  from: number,
  to: number,
  table: CueTable,
): Cue[] {
  const cues: Cue[] = [];
  let whole = false;
  for (let i = from; i < to; i += 1) {
    const beginning = table.byFirst.get((tokens[i] as Token).word);
    if (beginning === undefined) continue;
    const rows = beginning.bySecond?.get(behind(tokens, i, to)) ?? beginning.alone;
    const first = cues.length;
    for (const row of rows) {
      if (cues.length > first && isFound(cues, first, row.name)) continue;
      const end = endOf(tokens, i, to, row.words);
      if (end === undefined) continue;
      cues.push({ name: row.name, from: i, to: end });
      if (row.name === 'set-phrase') whole = true;
    }
  }
  if (!whole) return cues;
  const phrases = cues.filter((cue) => cue.name === 'set-phrase');
  return cues.filter((cue) => !phrases.some((one) => isInside(cue, one)));
}

/** The word behind a place, commas passed over. */
function behind(tokens: readonly Token[], i: number, to: number): string {
  let k = i + 1;
  while (k < to && (tokens[k] as Token).word === ',') k += 1;
  return k < to ? (tokens[k] as Token).word : '';
}

/** Whether a sign of this name was found at this place already. */
function isFound(cues: readonly Cue[], first: number, name: CueName): boolean {
  for (let k = first; k < cues.length; k += 1) if (cues[k]?.name === name) return true;
  return false;
}

const isInside = (cue: Cue, whole: Cue) =>
  cue.from >= whole.from && cue.to <= whole.to && cue.to - cue.from < whole.to - whole.from;

function endOf(
  tokens: readonly Token[],
  i: number,
  to: number,
  words: readonly string[],
): number | undefined {
  if (words.length === 1) return i + 1;
  let k = i;
  for (const word of words) {
    while (k > i && k < to && tokens[k]?.word === ',') k += 1;
    if (k >= to || tokens[k]?.word !== word) return undefined;
    k += 1;
  }
  return k;
}
