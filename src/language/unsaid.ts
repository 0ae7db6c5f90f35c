// Hopes, orders, hearsay and talk of other places: words that look like a report and say none.
import type { Act } from '../../shared/reading.ts';
import { askedInstead } from './asked-instead.ts';
import type { ReadResult } from './context.ts';
import { heldPatterns, standsAgainst } from './held-instead.ts';
import type { Lexicon } from './lexicon.ts';
import { isOrder } from './order-given.ts';
import { SIGNS } from './rules/unsaid/index.ts';
import type { Sign } from './rules/unsaid/sign.ts';

type Verdict = Sign['verdict'];

const ENDS = /[,;\n]|\.(?!\d)|\bbut\b|\bthen\b/gi;

/** The clause around a span, from mark to mark. */
function around(text: string, [from, to]: Act['span']): string {
  let start = 0;
  let end = text.length;
  ENDS.lastIndex = 0;
  for (let found = ENDS.exec(text); found; found = ENDS.exec(text)) {
    if (found.index < from) start = found.index + found[0].length;
    else if (found.index >= to) {
      end = found.index;
      break;
    }
  }
  return text.slice(Math.min(start, from), Math.max(end, to));
}

const REPORTS: ReadonlySet<string> = new Set(['done', 'partial', 'started']);

/** Kinds that say something of the job without reporting work. */
const SAYS: ReadonlySet<string> = new Set(['finding', 'not-done', 'intends', 'blocked', 'resumed']);

/** Whether a sign speaks over every act of a message: it is of another vehicle. */
const ofSomethingElse = (text: string, off: ReadonlySet<string> | undefined): boolean =>
  SIGNS.some(
    (sign) =>
      sign.every === true &&
      !off?.has(sign.name) &&
      sign.words.test(text) &&
      sign.unless?.test(text) !== true,
  );

const LAID =
  /^(?:on the (?:floor|bench|pallet|ground|deck|trolley|table)|in the (?:skip|bin|scrap|bucket|tray))/;

/** What a controller wrote for the step of an act. */
const ownWords = (act: Act, lexicon: Lexicon): readonly string[] =>
  (lexicon.plan.stepById.get(act.step ?? '')?.words ?? []).map((line) => line.toLowerCase());

/** The signs that speak over an act, the strictest first. */
function verdictOf(
  act: Act,
  text: string,
  lexicon: Lexicon,
  loose: boolean,
  off: ReadonlySet<string> | undefined,
): Verdict | undefined {
  const clause = around(text, act.span);
  let asked = false;
  for (const sign of SIGNS) {
    if (off?.has(sign.name)) continue;
    const words = sign.where === 'message' ? text : clause;
    if (!sign.words.test(words) || sign.unless?.test(words)) continue;
    if (/vehicle/.test(sign.name) && act.job !== undefined) continue;
    if (sign.name === 'one-of-several' && (act.count !== undefined || act.positions.length > 0))
      continue;
    // What a controller wrote for the step himself is no talk of another place.
    const said = sign.words.exec(words)?.[0].trim().toLowerCase() ?? '';
    if (ownWords(act, lexicon).some((line) => line.includes(said))) continue;
    // "Compressor on the bench": for a step that takes it off, where it lies is the report.
    if (sign.name === 'place-off-the-vehicle' && loose && LAID.test(said)) continue;
    if (sign.verdict === 'drop') return 'drop';
    asked = true;
  }
  return asked ? 'ask' : undefined;
}

/** Whether an act calls the whole of what another reports a part of. */
const isWhole = (part: Act, one: Act): boolean =>
  one.kind === 'done' &&
  one.step === part.step &&
  one.count === undefined &&
  one.positions.join() === part.positions.join();

/** "14 bell bolts out, box off": the count belongs to the step that the next words call done. */
function withCounts(acts: readonly Act[]): readonly Act[] {
  const parts = acts.filter(
    (act) =>
      act.kind === 'partial' &&
      (act.count === undefined || act.count.done > 1) &&
      act.quantity === undefined &&
      acts.some((one, at) => isWhole(act, one) && at > acts.indexOf(act)),
  );
  if (parts.length === 0) return acts;
  return acts
    .filter((act) => !parts.includes(act))
    .map((act) => {
      const part = parts.find((one) => isWhole(one, act));
      return part?.count ? { ...act, count: part.count } : act;
    });
}

/** Takes out of a reading what its words do not report, and asks where they leave it in doubt. */
export function withoutUnsaid(
  read: ReadResult,
  text: string,
  lexicon: Lexicon,
  off?: ReadonlySet<string>,
): ReadResult {
  if (!read.acts.some((act) => REPORTS.has(act.kind) || SAYS.has(act.kind))) return read;
  const order = isOrder(text, lexicon);
  const held = heldPatterns(lexicon);
  const isLoose = (one: Act) =>
    held.loosens.test(lexicon.plan.stepById.get(one.step ?? '')?.title ?? '');
  const counted = withCounts(read.acts);
  let changed = counted.length < read.acts.length;
  const acts = counted.flatMap((act): Act[] => {
    if (SAYS.has(act.kind) && act.job === undefined && ofSomethingElse(text, off)) {
      changed = true;
      return [];
    }
    if (!REPORTS.has(act.kind) || act.step === undefined) return [act];
    const title = lexicon.plan.stepById.get(act.step)?.title ?? '';
    const verdict =
      order || standsAgainst(act, counted, text, title, held, isLoose)
        ? 'drop'
        : verdictOf(act, text, lexicon, isLoose(act), off);
    if (verdict === undefined) return [act];
    changed = true;
    if (verdict === 'drop') return [];
    return [askedInstead(act, title)];
  });
  return changed ? { ...read, acts } : read;
}
