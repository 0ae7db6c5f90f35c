// The plan's own words as a whole message: a title called done, or a phrase a controller wrote, with place and figure.
import type { Act } from '../../../shared/reading.ts';
import type { ReadContext, ReadResult } from '../context.ts';
import type { Lexicon } from '../lexicon.ts';
import { type Message, prepare } from '../message.ts';
import { scannersFor, startsOf } from '../scan/starts.ts';
import { actsOf } from './line-acts.ts';
import {
  EMPTY,
  FILL,
  type Found,
  LONGEST,
  longestIn,
  QUOTE,
  saidBy,
  stepOf,
  titleWordsOf,
  type Word,
  wordsOf,
} from './lines.ts';

const DONE = /^(done|finished|completed?|fertig|erledigt|gemacht)$/;
const DONE_WITHIN = /\b(?:done|finished|completed?|fertig|erledigt|gemacht)\b/i;
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

/** How a reading by the plan's own words explains itself: word for word, so no slip can be in it. */
const PLAN_LINE = "the plan's own words for it (words-of-the-plan)";

/** Whether a reading was word for word what the plan says. */
export const isWordForWord = (read: ReadResult): boolean =>
  read.explained.length > 0 && read.explained.every((one) => one.endsWith(`${PLAN_LINE}.`));

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
      (at > 0 && /^(is|are)$/.test(token.word)) ||
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
      explained: [`"${text.trim()}": ${PLAN_LINE}.`],
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

/** "Running nicely" behind another report: any workshop's words without a word of the title may go on about that. */
const goesOn = (found: Found, lexicon: Lexicon): boolean =>
  found.lines.every(
    (line) => line.usual && !line.words.some((word) => titleWordsOf(line.step, lexicon).has(word)),
  );

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
      const found = longestIn(wordsOf(part), lexicon, false);
      if (found === undefined || (parts.length > 0 && goesOn(found, lexicon))) return undefined;
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
