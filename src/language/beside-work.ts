// "Greased the prop", "went over the prop bolts, all good": another work near a part does not make its step done.

import { type Clause, figuresOf, hasCue, movedOf, startOf, textOf, verbsOf } from './clause.ts';
import type { StepPhrases } from './match/phrases.ts';
import type { Message } from './message.ts';
import type { ActionClass } from './pack.ts';
import { NAMES_PART } from './thresholds.ts';

/** Families of work that a part gets on the way, without the step of the part being done by it. */
const BESIDE: ReadonlySet<ActionClass> = new Set(['grease', 'mark', 'clean', 'support', 'count']);

/** Families of steps that look at something. */
const LOOKS: ReadonlySet<ActionClass> = new Set(['check', 'measure', 'test', 'read', 'drive']);

const LOOKED =
  /\b(?:(?:went|gone|been|going) over|(?:double[- ]?|second |re-?)?check(?:ed)?|looked (?:at|over)|eyeballed)\b/i;

/** "Got a sling on it": what is on is the sling, and not the part it hangs from. */
function putOnIt(step: StepPhrases, clause: Clause): boolean {
  const found =
    /\b(?:got|put|have) (?:a|an|the|some) (\w+) (?:on|under|round|over) (?:it|them)\b/.exec(
      textOf(clause),
    );
  const thing = found?.[1];
  if (thing === undefined) return false;
  return !step.phrases.some((phrase) => phrase.words.includes(thing));
}

/** The families of all phrases of a step, put together once. */
function classesOf(step: StepPhrases): ReadonlySet<ActionClass> {
  const have = classes.get(step);
  if (have) return have;
  const made = new Set(step.phrases.flatMap((phrase) => phrase.classes));
  classes.set(step, made);
  return made;
}

const classes = new WeakMap<StepPhrases, ReadonlySet<ActionClass>>();

/**
 * Whether the work said of a part is another than that of the step: a family that the step never names, or a look
 * called good where the step is no look.
 */
export function isWorkBeside(step: StepPhrases, clause: Clause, message: Message): boolean {
  const own = classesOf(step);
  const verbs = verbsOf(clause).filter((verb) => verb.classes.length > 0);
  const beside = verbs.filter(
    (verb) => verb.form === 'past' && verb.classes.every((one) => BESIDE.has(one)),
  );
  const sized = figuresOf(clause).some((figure) => /^(quantity|stage|code)$/.test(figure.kind));
  // "Prop is off and tied up": where it is now reports by itself.
  const fits =
    verbs.some((verb) => verb.classes.some((one) => own.has(one))) ||
    clause.pieces.some(
      (piece) =>
        piece.verbs.every((verb) => verb.form !== 'past') &&
        piece.moved.some((one) => own.has(one)),
    );
  if (beside.length > 0 && !fits && !sized) return true;
  if (putOnIt(step, clause)) return true;
  if ([...own].some((one) => LOOKS.has(one)) || step.step?.check !== undefined) return false;
  if (fits || movedOf(clause).length > 0) return false;
  if (!hasCue(clause, 'finished') && !hasCue(clause, 'good')) return false;
  const to = clause.pieces.at(-1)?.to ?? 0;
  const sentence = message.clauses.filter((one) => one.sentence === clause.sentence);
  const words = message.tokens.slice(startOf(sentence[0] ?? clause), to).map((token) => token.word);
  return LOOKED.test(words.join(' '));
}

/** "All 14 bell bolts out" counts what holds the box; the box itself is not said to be out. */
export function onlyFastenersSaid(step: StepPhrases, parts: ReadonlyMap<string, number>): boolean {
  const counts = step.step?.report?.some((ask) => ask.kind === 'off' || ask.kind === 'on');
  if (step.step?.weight !== 'safety-critical' || !counts) return false;
  const named = [...parts].filter(([, value]) => value >= NAMES_PART).map(([root]) => root);
  const rootsOf = (report: boolean) =>
    new Set(
      step.phrases
        .filter((phrase) => (phrase.from === 'report') === report)
        .flatMap((phrase) => [...phrase.roots]),
    );
  const counted = rootsOf(true);
  const own = rootsOf(false);
  return (
    named.length > 0 &&
    named.every((root) => counted.has(root)) &&
    !named.some((root) => own.has(root))
  );
}
