// The plan's own words as a report: a title called done, or a phrase a controller wrote, alone or with place and figure.
import type { Act } from '../../shared/reading.ts';
import type { Clause } from './clause.ts';
import type { ReadContext, ReadResult } from './context.ts';
import type { Lexicon } from './lexicon.ts';
import { withAttributes } from './match/attributes-said.ts';
import { quantityFit } from './match/figure-fit.ts';
import { figuresSaid, withFigures } from './match/figures-said.ts';
import { oneOfASide } from './match/one-of-a-side.ts';
import type { StepPhrases } from './match/phrases.ts';
import { placesSaid } from './match/places-said.ts';
import { type Message, prepare } from './message.ts';
import type { CueName } from './pack.ts';
import type { Figure } from './scan/figure.ts';
import { scannersFor, startsOf } from './scan/starts.ts';
import { whenSaid } from './when-said.ts';

type Line = { readonly words: readonly string[]; readonly step: string; readonly title: boolean };
type Word = { readonly word: string; readonly from: number; readonly to: number };
type Found = { readonly lines: readonly Line[]; readonly from: number; readonly to: number };

const WORD = /[\p{L}\p{N}]+(?:['’]\p{L}+)*/gu;
const QUOTE = /["“”„«»?>]|^\s*'/;
const DONE = /^(done|finished|completed?|fertig|erledigt|gemacht)$/;
const DONE_WITHIN = /\b(?:done|finished|completed?|fertig|erledigt|gemacht)\b/i;
const FILL =
  /^(the|its|now|ok|okay|right|mate|lads|boss|guys|finally|also|too|and|chargehand|cheers|so|all|jetzt|auch|und|die|der|das|endlich|alles)$/;
const LONGEST = 200;

function wordsOf(text: string): Word[] {
  const out: Word[] = [];
  WORD.lastIndex = 0;
  for (let found = WORD.exec(text); found; found = WORD.exec(text)) {
    const word = found[0].toLowerCase();
    out.push({
      word: word.includes('’') ? word.replace('’', "'") : word,
      from: found.index,
      to: found.index + found[0].length,
    });
  }
  return out;
}

const indexes = new WeakMap<Lexicon, ReadonlyMap<string, readonly Line[]>>();

/** Titles and words of all steps and watched acts in every language of the plan, by their first word. */
function indexOf(lexicon: Lexicon): ReadonlyMap<string, readonly Line[]> {
  const have = indexes.get(lexicon);
  if (have) return have;
  const made = new Map<string, Line[]>();
  const add = (text: string, step: string, title: boolean) => {
    const words = wordsOf(text).map((one) => one.word);
    const first = words[0];
    if (first === undefined) return;
    const list = made.get(first) ?? [];
    const same = list.some(
      (one) => one.step === step && one.words.join(' ') === words.join(' ') && one.title === title,
    );
    if (!same) list.push({ words, step, title });
    made.set(first, list);
  };
  for (const item of [...lexicon.plan.steps, ...(lexicon.plan.watched ?? [])]) {
    const others = Object.values(item.also ?? {});
    for (const text of [item.title, ...others.flatMap((one) => one.title ?? [])])
      add(text, item.id, true);
    for (const text of [...(item.words ?? []), ...others.flatMap((one) => one.words ?? [])])
      add(text, item.id, false);
  }
  indexes.set(lexicon, made);
  return made;
}

function standsAt(line: readonly string[], words: readonly Word[], at: number): boolean {
  for (let k = 1; k < line.length; k += 1) if (words[at + k]?.word !== line[k]) return false;
  return true;
}

/** The longest line of the plan that stands in the words; several where steps share it. */
function longestIn(words: readonly Word[], lexicon: Lexicon, title: boolean): Found | undefined {
  const index = indexOf(lexicon);
  let best: { lines: Line[]; at: number; size: number } | undefined;
  for (let at = 0; at < words.length; at += 1) {
    const lines = index.get(words[at]?.word ?? '');
    if (!lines) continue;
    for (const line of lines) {
      const size = line.words.length;
      if (line.title !== title || size < (best?.size ?? 1)) continue;
      if (!standsAt(line.words, words, at)) continue;
      if (best && best.size === size && best.at === at) best.lines.push(line);
      else if (!best || size > best.size) best = { lines: [line], at, size };
    }
  }
  const last = best && words[best.at + best.size - 1];
  if (!best || !last) return undefined;
  return { lines: best.lines, from: words[best.at]?.from ?? 0, to: last.to };
}

export type SaidBy = { readonly words: readonly Word[]; readonly phrase: Found | undefined };

/** The words of a message and the longest phrase of the plan in them, worked out once. */
function saidBy(message: Message, lexicon: Lexicon): SaidBy {
  const memo = message.memo;
  if (memo.of === message && memo.value) return memo.value;
  const words = wordsOf(message.raw);
  const made = { words, phrase: longestIn(words, lexicon, false) };
  memo.of = message;
  memo.value = made;
  return made;
}

function stepOf(id: string, lexicon: Lexicon): StepPhrases | undefined {
  for (const tongue of lexicon.tongues)
    for (const step of tongue.steps) if (step.id === id) return step;
  return undefined;
}

const EMPTY: ReadonlySet<string> = new Set();

/** Words of a title but its first, which orders the work: "slide" of "slide pins free". */
function titleWordsOf(id: string, lexicon: Lexicon): ReadonlySet<string> {
  const step = stepOf(id, lexicon);
  if (!step) return EMPTY;
  const have = titleWords.get(step);
  if (have) return have;
  const made = new Set(
    wordsOf(step.title)
      .slice(1)
      .map((one) => one.word)
      .filter((word) => word.length > 3),
  );
  titleWords.set(step, made);
  return made;
}

const titleWords = new WeakMap<StepPhrases, ReadonlySet<string>>();

const FIGURES: ReadonlySet<string> = new Set([
  'positions',
  'all',
  'quantity',
  'number',
  'count',
  'stage',
  'code',
  'trouble-code',
  'time',
  'tool',
]);

/** The text with everything blanked that is no figure, in its old length; null where it had no word of done. */
function figuresOnly(
  text: string,
  words: readonly Word[],
  found: Found,
): { masked: string; done: boolean } {
  let masked = text;
  const blank = (from: number, to: number) => {
    masked = masked.slice(0, from) + ' '.repeat(to - from) + masked.slice(to);
  };
  blank(found.from, found.to);
  let done = false;
  for (const one of words) {
    if (one.from >= found.from && one.to <= found.to) continue;
    if (DONE.test(one.word)) {
      done = true;
      blank(one.from, one.to);
    }
  }
  masked = masked.replace(/[;!()–—]|:(?!\d)|,(?!\d)|(?<!\d)-(?!\d)|\.(?!\d)/g, ' ');
  // "Right" at the head of a text may be "right then"; here only a place can be meant.
  masked = masked.replace(/ {5}right\b/i, ' the right');
  return { masked, done };
}

/** What a line says of one step, if nothing but its figures and courtesy stands beside it. */
function actsOf(
  line: Line,
  beside: Message,
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
): Act[] | undefined {
  const step = stepOf(line.step, lexicon);
  if (!step) return undefined;
  const figures = beside.figures;
  const places = oneOfASide(
    placesSaid(step, figures, lexicon, context.positions),
    figures,
    message.tokens,
  );
  if (places.unknown) return undefined;
  if (step.step?.each === undefined && figures.some((one) => one.kind === 'positions' && !one.bare))
    return undefined;
  if (!line.title && strangeFigure(step, figures)) return undefined;
  const clause = message.clauses[0];
  if (places.missing && (!line.title || !clause)) return undefined;
  const time = figures.find((figure) => figure.kind === 'time');
  const when = time?.kind === 'time' ? whenSaid(time, context, false) : { assumed: [] };
  const parts = figuresSaid(step.step, figures, places.unused);
  if (parts.some((part) => part.doubt !== undefined)) return undefined;
  return parts.map((part): Act => {
    const bare: Act = {
      kind: 'done',
      step: step.id,
      positions: [...places.positions],
      ...(when.time === undefined ? {} : { time: when.time }),
      assumed: [...places.assumed, ...when.assumed],
      span: [0, message.raw.length],
    };
    const act = withFigures(bare, part);
    const full = clause
      ? withAttributes(
          act,
          step,
          { ...clause, pieces: message.clauses.flatMap((one) => one.pieces) },
          lexicon.plan,
          message.tongue,
        )
      : act;
    if (!places.missing) return fewerThanAll(full, step);
    const { kind, ...rest } = full;
    return {
      ...rest,
      kind: 'unsure',
      candidates: [
        {
          says: `all ${places.allowed.length}: ${step.title}`,
          kind,
          step: step.id,
          positions: [...places.allowed],
        },
      ],
    };
  });
}

/** "Pressure plate on, 48 Nm": the figure is of another step. */
const strangeFigure = (step: StepPhrases, figures: readonly Figure[]): boolean =>
  figures.some(
    (figure) =>
      figure.kind === 'quantity' && quantityFit(step.step, figure.value, figure.unit) === -0.08,
  );

/** Fewer than the plan's count is a part of the step. */
function fewerThanAll(act: Act, step: StepPhrases): Act {
  const ask = (step.step?.report ?? []).find((one) => one.kind === 'off' || one.kind === 'on');
  const of = act.count?.of ?? (ask && 'count' in ask ? ask.count : undefined);
  return of !== undefined && act.count !== undefined && act.count.done < of
    ? { ...act, kind: 'partial' }
    : act;
}

/** Words inside a figure that are verbs or nouns as well: "4 to go", "front left corner". */
const IN_FIGURE =
  /^(go|do|come|left|hand|side|sides|end|one|ones|corner|set|lot|start|back|round|around|under|over|half|point|short|missing|remaining|outstanding|still|fit|to|of|and)$/;

/** Whether a word of the plan or a verb stands beside the line that neither it, its title nor a figure takes in. */
function saysMore(message: Message, found: Found, lexicon: Lexicon): boolean {
  const starts = startsOf(message.tongue.scan);
  const scan = message.tongue.scan;
  for (const token of message.tokens) {
    const entry = token.entry;
    if (token.kind !== 'word' || !entry || !(entry.plan || entry.forms.length > 0)) continue;
    if (token.to > found.from && token.from < found.to) continue;
    if (FILL.test(token.word) || IN_FIGURE.test(token.word) || DONE.test(token.word)) continue;
    if (scannersFor(token, starts) !== 0 || scan.units[token.word] !== undefined) continue;
    if (scan.moments.has(token.word) || message.raw.slice(token.from, token.to).length < 3)
      continue;
    const [id] = new Set(found.lines.map((one) => one.step));
    if (id !== undefined && token.to < found.from && titleWordsOf(id, lexicon).has(token.word))
      continue;
    return true;
  }
  return false;
}

/**
 * Reads a message that is a title with a word of done, or a phrase of the plan, with places and figures at most.
 *
 * @param titles whether titles are looked for, or phrases
 */
export function readPlanLine(
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  titles: boolean,
): ReadResult | undefined {
  const text = message.raw;
  if (text.length > LONGEST || QUOTE.test(text) || (titles && !DONE_WITHIN.test(text)))
    return undefined;
  const { words, phrase } = saidBy(message, lexicon);
  const found = titles ? longestIn(words, lexicon, true) : phrase;
  if (!found || (!titles && saysMore(message, found, lexicon))) return undefined;
  const { masked, done } = figuresOnly(text, words, found);
  if (titles && !done) return undefined;
  const beside = prepare(masked, lexicon, context);
  const inFigure = (at: number) => beside.figures.some((one) => one.from <= at && at < one.to);
  const ids = new Set(found.lines.map((one) => one.step));
  const [id] = ids;
  const title = ids.size === 1 && id !== undefined ? titleWordsOf(id, lexicon) : EMPTY;
  const only = beside.tokens.every(
    (token, at) =>
      inFigure(at) ||
      (title.has(token.word) && token.to < found.from) ||
      (token.kind === 'word' && FILL.test(token.word)) ||
      (token.kind === 'sign' && /^[✅✔☑👍👌]/u.test(token.word)),
  );
  if (!only || beside.figures.some((one) => !FIGURES.has(one.kind))) return undefined;
  const read = found.lines.flatMap((line) => {
    const acts = actsOf(line, beside, message, lexicon, context);
    return acts ? [{ line, acts }] : [];
  });
  const [first] = read;
  if (!first) return undefined;
  const steps = new Set(read.map((one) => one.line.step));
  if (steps.size === 1)
    return {
      acts: first.acts,
      relied: [],
      explained: [`"${text.trim()}": the plan's own words for it (words-of-the-plan).`],
    };
  const candidates = read.flatMap(({ line, acts }) =>
    acts.map((act) => ({
      says: stepOf(line.step, lexicon)?.title ?? line.step,
      kind: act.kind,
      step: line.step,
      positions: act.positions,
    })),
  );
  return {
    acts: [{ kind: 'unsure', positions: [], assumed: [], candidates, span: [0, text.length] }],
    relied: [],
    explained: [`"${text.trim()}": words that the plan gives several steps.`],
  };
}

const PART_ENDS = /[,;\n]|\.(?!\d)|\band\b|\bund\b|&|\+/gi;

/** "Running, no leaks": a message of nothing but phrases of the plan, one after the other. */
export function readPlanLines(
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
): ReadResult | undefined {
  const text = message.raw;
  if (text.length > LONGEST || QUOTE.test(text) || !saidBy(message, lexicon).phrase)
    return undefined;
  const ends = [...text.matchAll(PART_ENDS)];
  if (ends.length === 0 || ends.length > 6) return undefined;
  const acts: Act[] = [];
  const explained: string[] = [];
  const parts: { readonly part: string; readonly at: number }[] = [];
  let from = 0;
  for (const end of [...ends.map((one) => [one.index, one.index + one[0].length] as const), null]) {
    const part = text.slice(from, end?.[0] ?? text.length);
    if (part.trim() !== '') {
      if (longestIn(wordsOf(part), lexicon, false) === undefined) return undefined;
      parts.push({ part, at: from });
    }
    from = end?.[1] ?? text.length;
  }
  for (const { part, at } of parts) {
    const read = readPlanLine(prepare(part, lexicon, context), lexicon, context, false);
    if (!read) return undefined;
    for (const act of read.acts) {
      const said = acts.some(
        (one) => one.step === act.step && one.positions.join() === act.positions.join(),
      );
      if (said && act.quantity === undefined) continue;
      acts.push({ ...act, span: [act.span[0] + at, act.span[1] + at] });
    }
    explained.push(...read.explained);
  }
  return acts.length > 0 ? { acts, relied: [], explained } : undefined;
}

const AGAINST: ReadonlySet<CueName> = new Set([
  'not',
  'not-yet',
  'left-to-do',
  'future',
  'later',
  'condition',
  'doubt',
  'next',
  'wish',
  'mistake',
  'still',
  'except',
  'cannot',
  'wait-for',
  'needs',
  'question-word',
  'question-start',
  'question-tag',
  'nearly',
  'other-vehicle',
  'private',
]);

/** The step whose own phrase a clause is, if nothing in its sentence denies, doubts, intends or asks. */
export function stepInPlanWords(
  clause: Clause,
  message: Message,
  lexicon: Lexicon,
): StepPhrases | undefined {
  if (clause.question || clause.pieces[0]?.joint === ':' || message.raw.length > 4 * LONGEST)
    return undefined;
  if (!saidBy(message, lexicon).phrase || QUOTE.test(message.raw)) return undefined;
  const tokens = message.tokens;
  const from = clause.pieces[0]?.from ?? 0;
  const to = clause.pieces.at(-1)?.to ?? 0;
  if (to - from > 16) return undefined;
  const start = tokens[from]?.from ?? 0;
  const end = tokens[to - 1]?.to ?? 0;
  const words = wordsOf(message.raw.slice(start, end)).map((one) => ({
    ...one,
    from: one.from + start,
    to: one.to + start,
  }));
  const found = longestIn(words, lexicon, false);
  if (!found || new Set(found.lines.map((one) => one.step)).size !== 1) return undefined;
  const figures = clause.pieces.flatMap((piece) => piece.figures);
  const only = words.every(
    (one) =>
      (one.from >= found.from && one.to <= found.to) ||
      FILL.test(one.word) ||
      figures.some((figure) => figure.at[0] <= one.from && one.to <= figure.at[1]),
  );
  if (!only) return undefined;
  const denied = message.clauses.some(
    (other) =>
      other.sentence === clause.sentence &&
      other.pieces.some((piece) =>
        piece.cues.some(
          (cue) =>
            AGAINST.has(cue.name) &&
            !(
              (tokens[cue.from]?.from ?? 0) >= found.from &&
              (tokens[cue.to - 1]?.to ?? 0) <= found.to
            ),
        ),
      ),
  );
  const step = denied ? undefined : stepOf(found.lines[0]?.step ?? '', lexicon);
  return step && !strangeFigure(step, figures) ? step : undefined;
}
