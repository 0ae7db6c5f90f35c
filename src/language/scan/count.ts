// Counts: "5 of 6", "8/10", "all six", "both", "2 left".
import type { Token } from '../tidy/token.ts';
import type { Hit, ScanWords } from './figure.ts';
import { unitAt } from './unit.ts';

const number = (token: Token | undefined): number | undefined =>
  token?.kind === 'number' && Number.isInteger(token.value) ? token.value : undefined;

/** "5 of 6", "5 out of 6", "5/6". */
export function countOf(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const done = number(tokens[i]);
  if (done === undefined) return undefined;
  const [a, b] = [tokens[i + 1]?.word, tokens[i + 2]?.word];
  const at =
    a === '/' && tokens[i + 1]?.glued && tokens[i + 2]?.glued
      ? i + 2
      : a === 'of' && b === 'the'
        ? i + 3
        : a === 'of'
          ? i + 2
          : a === 'out' && b === 'of'
            ? tokens[i + 3]?.word === 'the'
              ? i + 4
              : i + 3
            : undefined;
  if (at === undefined) return undefined;
  const of = number(tokens[at]);
  if (of === undefined || of > 500 || tokens[at + 1]?.word === '/') return undefined;
  if (a === '/' && (done > of || unitAt(tokens, at + 1, words))) return undefined;
  if (a === '/' && words.planFigures?.has(done) && words.planFigures.has(of)) return undefined;
  return { body: { kind: 'count', done, of }, next: at + 1 };
}

/** "x6", "6x": so many of them. */
export function times(tokens: readonly Token[], i: number): Hit | undefined {
  const [a, b] = [tokens[i], tokens[i + 1]];
  if (!a || !b?.glued) return undefined;
  const value = a.word === 'x' ? number(b) : b.word === 'x' ? number(a) : undefined;
  if (value === undefined || value < 1 || value > 60) return undefined;
  return { body: { kind: 'all', count: value }, next: i + 2 };
}

const REST = /^(rest|others|remainder|übrigen|anderen|restlichen)$/;

/** "rest", "the others", "the remaining ones". */
export function rest(tokens: readonly Token[], i: number): Hit | undefined {
  const the = tokens[i]?.word === 'the' && tokens[i + 1]?.kind === 'word';
  const word = tokens[the ? i + 1 : i]?.word ?? '';
  const remaining =
    word === 'remaining' &&
    (tokens[i + 1]?.kind === 'number' || /^(ones|cylinders?)$/.test(tokens[i + 1]?.word ?? ''));
  if (!REST.test(word) && !remaining) return undefined;
  return { body: { kind: 'rest' }, next: (the ? i + 1 : i) + (remaining ? 2 : 1) };
}

const BOTH = new Set(['both', 'pair', 'beide', 'beiden']);
const ALL = new Set([
  'all',
  'every',
  'each',
  'alle',
  'allen',
  'jede',
  'jeder',
  'jedes',
  'saemtliche',
  'sämtliche',
]);
const WHOLE = new Set(['lot', 'set']);

/** "all six", "all", "both", "the lot", "all round". */
export function allOf(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const word = tokens[i]?.word ?? '';
  if (tokens[i]?.kind !== 'word') return undefined;
  if (BOTH.has(word)) {
    const at = tokens[i + 1]?.word === 'of' || tokens[i + 1]?.word === 'the' ? i + 2 : i + 1;
    const side = tokens[at]?.entry?.side;
    if (side) return { body: { kind: 'all', count: 2, pair: true, sides: side }, next: at + 1 };
    return {
      body: { kind: 'all', count: 2, pair: true },
      next: tokens[i + 1]?.word === 'sides' ? i + 2 : i + 1,
    };
  }
  if (
    word === 'the' &&
    (WHOLE.has(tokens[i + 1]?.word ?? '') ||
      (/^(whole|full)$/.test(tokens[i + 1]?.word ?? '') && WHOLE.has(tokens[i + 2]?.word ?? '')))
  ) {
    return { body: { kind: 'all' }, next: WHOLE.has(tokens[i + 1]?.word ?? '') ? i + 2 : i + 3 };
  }
  if (WHOLE.has(word)) {
    const before = tokens[i - 1]?.word;
    if (before !== 'the' && before !== 'whole' && before !== 'full') return undefined;
    return { body: { kind: 'all' }, next: i + 1 };
  }
  if (!ALL.has(word)) return undefined;
  const next = tokens[i + 1]?.word ?? '';
  if (/^(good|clear|right|ok|yours|day|set|done|mine|i|you|we|that)$/.test(next) && next !== 'done')
    return undefined;
  if (next === 'but') return undefined;
  if (next === 'round' || next === 'around') return { body: { kind: 'all' }, next: i + 2 };
  let at = i + 1;
  while (/^(of|the|them|my|these|those)$/.test(tokens[at]?.word ?? '')) at += 1;
  const count = number(tokens[at]);
  if (count !== undefined && count <= 200 && !unitAt(tokens, at + 1, words)) {
    return { body: { kind: 'all', count }, next: at + 1 };
  }
  const side = tokens[at]?.entry?.side;
  if (side) return { body: { kind: 'all', sides: side }, next: at + 1 };
  return { body: { kind: 'all' }, next: i + 1 };
}

const LEFT_WORDS = new Set(['left', 'remaining', 'outstanding', 'short', 'missing']);

/** "2 left", "one left", "4 to go", "2 to do", "1 still to fit". */
export function countLeft(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const token = tokens[i];
  const left = number(token) ?? (token?.word === 'one' && token.kind === 'word' ? 1 : undefined);
  if (left === undefined) return undefined;
  let at = i + 1;
  if (tokens[at]?.word === 'more') at += 1;
  const next = tokens[at]?.word ?? '';
  if (next === 'left' && left > 12 && words.sidesOfPlan?.has('left')) return undefined;
  if (LEFT_WORDS.has(next)) return { body: { kind: 'left', left, toDo: false }, next: at + 1 };
  if (next === 'to' && /^(go|do|come)$/.test(tokens[at + 1]?.word ?? '')) {
    return { body: { kind: 'left', left, toDo: tokens[at + 1]?.word === 'do' }, next: at + 2 };
  }
  return undefined;
}
