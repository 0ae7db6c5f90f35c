// Stages of a tightening or loosening: "stage 2", "s2", "1st pass", "stages 1 and 2", "second stage".
import type { Token } from '../tidy/token.ts';
import type { Hit, ScanWords } from './figure.ts';
import { unitAt } from './unit.ts';

const small = (token: Token | undefined, words: ScanWords): number | undefined => {
  if (token?.kind === 'number') {
    return Number.isInteger(token.value) && (token.value ?? 0) >= 1 && (token.value ?? 99) <= 12
      ? token.value
      : undefined;
  }
  return token ? words.heardNumbers[token.word] : undefined;
};

const JOIN = new Set(['and', '&', '+', ',', 'und']);

/** Reads a stage or a list of stages. */
export function stage(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const token = tokens[i];
  if (!token) return undefined;
  const ordinal = words.ordinals[ordinalWord(tokens, i)];
  if (ordinal !== undefined) return ordinalStages(tokens, i, ordinal, words);
  if (token.kind !== 'word' || !words.stageNouns.has(token.word.replace(/s$/, ''))) {
    if (token.word !== 's' || !tokens[i + 1]?.glued) return undefined;
  }
  let at = i + 1;
  if (tokens[at]?.word === 'no' || tokens[at]?.word === 'number' || tokens[at]?.word === '#')
    at += 1;
  const first = tokens[at];
  const heard = first?.kind === 'word';
  const value = small(first, words);
  if (value === undefined || (heard && !endsHere(tokens[at + 1]))) return undefined;
  if (unitAt(tokens, at + 1, words) && tokens[at + 1]?.glued) return undefined;
  const stages = [value];
  at += 1;
  for (;;) {
    const join = tokens[at]?.word ?? '';
    if (
      join === '-' ||
      ((join === 'to' || join === 'bis' || join === 'through') && tokens[at + 1]?.kind === 'number')
    ) {
      const end = small(tokens[at + 1], words);
      if (
        end === undefined ||
        end <= value ||
        tokens[at + 1]?.kind !== 'number' ||
        unitAt(tokens, at + 2, words)
      )
        break;
      for (let n = (stages.at(-1) ?? value) + 1; n <= end; n += 1) stages.push(n);
      at += 2;
      continue;
    }
    if (!JOIN.has(join)) break;
    const skip = join === ',' && JOIN.has(tokens[at + 1]?.word ?? '') ? 2 : 1;
    let k = at + skip;
    if (words.stageNouns.has(tokens[k]?.word ?? '')) k += 1;
    const more = tokens[k]?.kind === 'number' ? small(tokens[k], words) : undefined;
    if (more === undefined || more <= (stages.at(-1) ?? 0) || unitAt(tokens, k + 1, words)) break;
    if (join === ',' && !isListEnd(tokens, k + 1)) break;
    stages.push(more);
    at = k + 1;
  }
  return { body: { kind: 'stage', stages }, next: at };
}

const isListEnd = (tokens: readonly Token[], k: number) => {
  const next = tokens[k];
  return (
    next === undefined ||
    JOIN.has(next.word) ||
    next.entry?.forms.includes('past') ||
    next.word === 'done'
  );
};

const endsHere = (next: Token | undefined) =>
  next === undefined ||
  next.kind === 'mark' ||
  next.entry?.stop === true ||
  (next.entry?.forms.length ?? 0) > 0;

function ordinalWord(tokens: readonly Token[], i: number): string {
  const token = tokens[i];
  if (token?.kind === 'word') return token.word;
  const suffix = tokens[i + 1];
  if (token?.kind === 'number' && suffix?.glued && /^(st|nd|rd|th|te|ter)$/.test(suffix.word)) {
    return `${token.word}${suffix.word}`;
  }
  return '';
}

function ordinalStages(
  tokens: readonly Token[],
  i: number,
  first: number,
  words: ScanWords,
): Hit | undefined {
  const width = (k: number) => (tokens[k]?.kind === 'number' ? 2 : 1);
  const stages = [first];
  let at = i + width(i);
  for (;;) {
    const join = JOIN.has(tokens[at]?.word ?? '');
    const more = join ? words.ordinals[ordinalWord(tokens, at + 1)] : undefined;
    if (more === undefined) break;
    stages.push(more);
    at += 1 + width(at + 1);
  }
  const noun = tokens[at]?.word.replace(/s$/, '') ?? '';
  if (!words.stageNouns.has(noun) || noun === 'st') return undefined;
  return { body: { kind: 'stage', stages }, next: at + 1 };
}
