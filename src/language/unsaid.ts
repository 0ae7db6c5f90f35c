// Hopes, orders, hearsay and talk of other places: words that look like a report and say none.
import type { Act } from '../../shared/reading.ts';
import type { ReadResult } from './context.ts';
import type { Lexicon } from './lexicon.ts';
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

const BASE =
  /(?:^|[,;.] *|\b(?:said|says|told (?:me|us)) (?:to )?)((?:[a-z-]+ ){0,2}?)([a-z-]+) (?:it|them|her|him)\b/i;

/** "Pressure test it to 1.2": a verb in its bare form with its object behind it, and nothing before it. */
function isOrder(text: string, lexicon: Lexicon): boolean {
  const found = BASE.exec(text);
  if (!found?.[2]) return false;
  const verb = found[2].toLowerCase();
  const before = (found[1] ?? '').trim().toLowerCase();
  const look = (word: string) =>
    lexicon.tongues
      .map((tongue) => tongue.vocabulary.look(word, false))
      .find((one) => one.parts.some((part) => part.entry.forms.length > 0));
  const forms = look(verb)?.parts[0]?.entry.forms ?? [];
  if (!forms.includes('base') || forms.includes('past')) return false;
  // Before it only what belongs to the verb: "pressure test", "road test".
  const joined = `${before} ${verb}`.trim();
  return (
    before === '' ||
    /^(?:please|just|now|now just|so|ok)$/.test(before) ||
    lexicon.plan.steps.some((step) => step.title.toLowerCase().startsWith(joined))
  );
}

const UNIT_ONLY = /^[\s\d.,;-]*(?:bar|nm|mm|deg|°c?|c|l|ltr|litres?|psi|kpa|v|a|%)?\s*$/i;

const HELD = /\b(?:hung|tied|strapped|slung|cable[- ]tied|rusted|seized|corroded|hangs|hanging)\b/i;
const BACK = /\b(?:back|on|refit\w*|fitted|reconnected|in)\b/i;

/** Steps that are themselves a holding: "box strapped" behind "engine propped". */
const HOLDS = /\b(?:strap|sling|support|hang|tie|prop|secure|hold|set)\b/i;

const looseTitle =
  /^(?:remove|take|draw|disconnect|unplug|loosen|drain|slacken|pull|unbolt|lift out)\b/i;

/** A report that another act of the same message stands against: the figure of a thing not done, a part tied up. */
function standsAgainst(
  act: Act,
  acts: readonly Act[],
  text: string,
  title: string,
  isLoose: (one: Act) => boolean,
): boolean {
  const own = text.slice(act.span[0], act.span[1]);
  const denied = acts.some((one) => one.kind === 'not-done' && one.step !== act.step);
  if (denied && UNIT_ONLY.test(own)) return true;
  const upwards = /^(?:build|fill|raise|pump|top|warm|charge)\b/i.test(title);
  if (upwards && /\bdown to\b/i.test(own)) return true;
  if (act.kind === 'started' && /\bbefore \w+ing\b/i.test(own)) return true;
  if (act.kind === 'started' && /^\s*start (?:the|it|her)\b/i.test(own)) return true;
  const earlier = acts.some(
    (one) =>
      one !== act &&
      one.span[0] <= act.span[0] &&
      /^(done|partial)$/.test(one.kind) &&
      isLoose(one),
  );
  return (
    earlier && !looseTitle.test(title) && !HOLDS.test(title) && HELD.test(own) && !BACK.test(own)
  );
}

const LAID = /^on the (?:floor|bench|pallet|ground|deck|trolley|table)/;

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
    if (sign.name === 'another-vehicle' && act.job !== undefined) continue;
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
  if (!read.acts.some((act) => REPORTS.has(act.kind))) return read;
  const order = isOrder(text, lexicon);
  const isLoose = (one: Act) =>
    looseTitle.test(lexicon.plan.stepById.get(one.step ?? '')?.title ?? '');
  const counted = withCounts(read.acts);
  let changed = counted.length < read.acts.length;
  const acts = counted.flatMap((act): Act[] => {
    if (!REPORTS.has(act.kind) || act.step === undefined) return [act];
    const title = lexicon.plan.stepById.get(act.step)?.title ?? '';
    const verdict =
      order || standsAgainst(act, counted, text, title, isLoose)
        ? 'drop'
        : verdictOf(act, text, lexicon, isLoose(act), off);
    if (verdict === undefined) return [act];
    changed = true;
    if (verdict === 'drop') return [];
    const { kind, ...rest } = act;
    const same = { step: act.step, positions: [...act.positions] };
    const figure = act.quantity ? { quantity: act.quantity } : {};
    return [
      {
        ...rest,
        kind: 'unsure',
        candidates: [
          { says: `Done: ${title}`, kind, ...same, ...figure },
          { says: 'Not done yet', kind: 'not-done', ...same },
        ],
      },
    ];
  });
  return changed ? { ...read, acts } : read;
}
