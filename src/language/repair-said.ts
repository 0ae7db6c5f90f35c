// "Drained 62 L, I mean 26", "front left, sorry, right": what is put right within one message is said once, as it is right.
import { type CueTable, findCues } from './cue-table.ts';
import type { LanguagePack } from './pack.ts';
import type { Token } from './tidy/token.ts';

/** A stretch of tokens: numbers with what joins them, or sides. */
type Run = { readonly from: number; readonly to: number };

const JOINS = /^(to|-|–|and|&|\+|,|bis|und|through)$/;
const MARKS = /^[,.;:\-–…\n]$/;

const isNumber = (token: Token | undefined): boolean => token?.kind === 'number';
const isSide = (token: Token | undefined): boolean => token?.entry?.side !== undefined;

/** The unit a figure has behind it: one word of the language's units, or "newton metres". */
const unitAt = (tokens: readonly Token[], at: number, pack: LanguagePack): number => {
  const unit = (k: number) => {
    const word = tokens[k]?.word ?? '';
    return pack.units[word] !== undefined || /^(newton|foot|degree|degrees|grad)$/.test(word);
  };
  if (!unit(at)) return at;
  return unit(at + 1) ? at + 2 : at + 1;
};

/** The numbers that end before a place, over a unit and marks; "1 to 3" is one of them. */
function numbersBefore(tokens: readonly Token[], end: number, pack: LanguagePack): Run | undefined {
  let last = end - 1;
  while (last >= 0 && MARKS.test(tokens[last]?.word ?? '')) last -= 1;
  for (const back of [0, 1, 2]) {
    const at = last - back;
    if (!isNumber(tokens[at]) || unitAt(tokens, at + 1, pack) < last + 1) continue;
    let from = at;
    while (isNumber(tokens[from - 2]) && JOINS.test(tokens[from - 1]?.word ?? '')) from -= 2;
    return { from, to: at + 1 };
  }
  return undefined;
}

function numbersBehind(
  tokens: readonly Token[],
  start: number,
  noun: string | undefined,
): Run | undefined {
  let from = start;
  while (MARKS.test(tokens[from]?.word ?? '')) from += 1;
  if (!isNumber(tokens[from]) && noun !== undefined && sameNoun(tokens[from], noun)) from += 1;
  if (!isNumber(tokens[from])) return undefined;
  let to = from + 1;
  while (/^(to|-|–|bis|through)$/.test(tokens[to]?.word ?? '') && isNumber(tokens[to + 1])) to += 2;
  return { from, to };
}

const sameNoun = (token: Token | undefined, noun: string): boolean =>
  token?.kind === 'word' && (token.entry?.root ?? token.word) === noun;

function sidesBefore(tokens: readonly Token[], end: number): Run | undefined {
  let to = end;
  while (to > 0 && MARKS.test(tokens[to - 1]?.word ?? '')) to -= 1;
  let from = to;
  while (isSide(tokens[from - 1])) from -= 1;
  return from < to ? { from, to } : undefined;
}

function sidesBehind(tokens: readonly Token[], start: number): Run | undefined {
  let from = start;
  while (MARKS.test(tokens[from]?.word ?? '') || tokens[from]?.word === 'the') from += 1;
  let to = from;
  while (isSide(tokens[to])) to += 1;
  return from < to ? { from, to } : undefined;
}

/** "Cyl 4 no 5", "4, no, 5"; "1, 2, 3, no 4" may leave 4 out. */
function saysNoAlone(
  tokens: readonly Token[],
  sign: Run,
  noun: Token | undefined,
  end: number,
  pack: LanguagePack,
): boolean {
  if (MARKS.test(tokens[sign.to]?.word ?? '')) return true;
  const named =
    noun?.kind === 'word' &&
    (pack.positionNouns.includes(noun.word) || pack.stageNouns.includes(noun.word));
  return named && end === tokens.length;
}

/** What a repair at a place puts right: the tokens without the slip, and where to go on looking. */
function repaired(
  tokens: readonly Token[],
  sign: Run,
  pack: LanguagePack,
  needsUnit: boolean,
): Token[] | undefined {
  const said = overWork(tokens, sign.from, pack);
  const figure = numbersBefore(tokens, sign.from, pack) ?? numbersBefore(tokens, said, pack);
  if (figure) {
    const noun = tokens[figure.from - 1];
    const right = numbersBehind(tokens, sign.to, noun?.entry?.root ?? noun?.word);
    if (!right || (said < sign.from && !endsThere(tokens, right.to, pack))) return undefined;
    const ownEnd = unitAt(tokens, figure.to, pack);
    const rightEnd = unitAt(tokens, right.to, pack);
    const sized = ownEnd > figure.to || rightEnd > right.to;
    if (needsUnit && !sized && !saysNoAlone(tokens, sign, noun, rightEnd, pack)) return undefined;
    // "4 wait 10 min": how long is nothing that puts a figure right.
    const lasts = (from: number, to: number) =>
      from < to && /^(min|h|s)$/.test(pack.units[tokens[from]?.word ?? ''] ?? '');
    if (lasts(right.to, rightEnd) && !lasts(figure.to, ownEnd)) return undefined;
    // "1, 2 and 4, I mean 5": one number puts the last one right.
    const from = right.to - right.from > 1 ? figure.from : figure.to - 1;
    const unit =
      rightEnd > right.to ? tokens.slice(right.to, rightEnd) : tokens.slice(figure.to, ownEnd);
    return [
      ...tokens.slice(0, from),
      ...tokens.slice(right.from, right.to),
      ...unit,
      ...tokens.slice(ownEnd, said < sign.from ? sign.from : ownEnd),
      ...tokens.slice(rightEnd),
    ];
  }
  const side = sidesBefore(tokens, sign.from) ?? sidesBefore(tokens, said);
  const right = side && sidesBehind(tokens, sign.to);
  if (!side || !right || (said < sign.from && !endsThere(tokens, right.to, pack))) return undefined;
  // "Front left, sorry, right": fewer words put the last of them right.
  const from = Math.max(side.from, side.to - (right.to - right.from));
  return [
    ...tokens.slice(0, from),
    ...tokens.slice(right.from, right.to),
    ...tokens.slice(side.to, said < sign.from ? sign.from : side.to),
    ...tokens.slice(right.to),
  ];
}

/** The place before the work that stands between a slip and its repair: "injector 4 out, sorry, 5". */
function overWork(tokens: readonly Token[], end: number, pack: LanguagePack): number {
  let at = end;
  while (at > 0 && MARKS.test(tokens[at - 1]?.word ?? '')) at -= 1;
  const work = (token: Token | undefined) =>
    token?.kind === 'word' &&
    (pack.particles[token.word] !== undefined ||
      token.entry?.forms.includes('past') === true ||
      pack.cues.finished?.includes(token.word) === true);
  let from = at;
  while (at - from < 2 && work(tokens[from - 1])) from -= 1;
  return from < at ? from : end;
}

/** Nothing stands behind what was meant but a mark. */
const endsThere = (tokens: readonly Token[], at: number, pack: LanguagePack): boolean => {
  const end = unitAt(tokens, at, pack);
  return end >= tokens.length || MARKS.test(tokens[end]?.word ?? '');
};

/** Words that begin a sign of repair, for each language. */
const beginnings = new WeakMap<LanguagePack, ReadonlySet<string>>();

function beginningsOf(pack: LanguagePack): ReadonlySet<string> {
  const have = beginnings.get(pack);
  if (have) return have;
  const phrases = [...(pack.cues.repair ?? []), ...(pack.cues['repair-behind'] ?? [])];
  const made = new Set(phrases.map((phrase) => phrase.split(' ')[0] ?? ''));
  beginnings.set(pack, made);
  return made;
}

/** At most so many repairs of one message. */
const AT_MOST = 4;

/**
 * The tokens of a message with each slip of the tongue that it puts right itself replaced by what was meant. A report
 * put right by a later message is a correction and none of this.
 */
export function withRepairs(
  tokens: readonly Token[],
  table: CueTable,
  pack: LanguagePack,
): readonly Token[] {
  const first = beginningsOf(pack);
  if (!tokens.some((token) => token.kind === 'word' && first.has(token.word))) return tokens;
  let out = tokens;
  for (let round = 0; round < AT_MOST; round += 1) {
    const cues = findCues(out, 0, out.length, table).filter((cue) => /^repair/.test(cue.name));
    const made = cues
      .map((cue) =>
        cue.name === 'repair'
          ? repaired(out, cue, pack, /^(no|nein|nee|ne)$/.test(out[cue.from]?.word ?? ''))
          : repairedBehind(out, cue, pack),
      )
      .find((one) => one !== undefined);
    if (!made) break;
    out = made;
  }
  return out;
}

/** "62, 26 rather": the sign stands behind what is right. */
function repairedBehind(
  tokens: readonly Token[],
  sign: Run,
  pack: LanguagePack,
): Token[] | undefined {
  const right = numbersBefore(tokens, sign.from, pack) ?? sidesBefore(tokens, sign.from);
  if (!right) return undefined;
  const comma = right.from - 1;
  if (!MARKS.test(tokens[comma]?.word ?? '')) return undefined;
  const rest = [...tokens.slice(0, sign.from), ...tokens.slice(sign.to)];
  return repaired(rest, { from: comma, to: comma + 1 }, pack, false);
}
