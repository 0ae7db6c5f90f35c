// Finds the signs of a language in a line of tokens: the longest sequence at each place, for each sign by itself.
import type { CueName, LanguagePack } from './pack.ts';
import type { Token } from './tidy/token.ts';

export type Cue = { readonly name: CueName; readonly from: number; readonly to: number };

type Row = { readonly words: readonly string[]; readonly name: CueName };
export type CueTable = ReadonlyMap<string, readonly Row[]>;

/** The table of one language: first word to the sequences that begin with it, longest first. */
export function makeCueTable(pack: LanguagePack): CueTable {
  const table = new Map<string, Row[]>();
  for (const [name, list] of Object.entries(pack.cues)) {
    for (const phrase of list) {
      const words = phrase.split(' ');
      const first = words[0] ?? '';
      const rows = table.get(first) ?? [];
      rows.push({ words, name: name as CueName });
      table.set(first, rows);
    }
  }
  for (const rows of table.values()) rows.sort((a, b) => b.words.length - a.words.length);
  return table;
}

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
    const token = tokens[i];
    const rows = token ? table.get(token.word) : undefined;
    if (!rows) continue;
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
