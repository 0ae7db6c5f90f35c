// What a clause offers for the match of a step: families of work, parts, figures.
import {
  type Clause,
  figuresOf,
  hasCue,
  movedOf,
  newMemo,
  partNamed,
  saidIn,
  verbsOf,
} from '../clause.ts';
import { against } from '../match/kinship.ts';
import type { Wanted } from '../match/score.ts';
import type { Stance } from '../stance.ts';
import { TOUCHES_PART } from '../thresholds.ts';

/** Everything the clause offers for the match of a step. */
export function wantedOf(clause: Clause): Wanted {
  const memo = clause.memo;
  if (memo.of === clause && memo.value) return memo.value;
  const made = makeWanted(clause);
  memo.of = clause;
  memo.value = made;
  return made;
}

function makeWanted(clause: Clause): Wanted {
  const parts = new Map<string, number>();
  const main = clause.pieces.filter(speaks);
  const named = main.some((piece) => partNamed(piece, TOUCHES_PART));
  for (const piece of clause.pieces) {
    // "Checked the caliper bolts and the wheel nuts": a second object counts as the first.
    const object = /^(and|&|\+)$/.test(piece.joint) && piece.figures.length === 0;
    const aside = named && !speaks(piece) && piece.from > (main[0]?.from ?? 0);
    const strength = aside ? (object ? 0.9 : 0.35) : 1;
    for (const [root, value] of piece.parts)
      parts.set(root, Math.max(value * strength, parts.get(root) ?? 0));
  }
  if (![...parts.values()].some((value) => value >= 0.3)) parts.clear();
  if (parts.size === 0 || !named)
    for (const [root, value] of clause.inherited)
      parts.set(root, Math.max(value * 0.9, parts.get(root) ?? 0));
  const verbs = [...verbsOf(clause), ...(clause.lent?.verbs ?? [])];
  const real = verbs.filter((verb) => !verb.maybeNoun || verb.form !== 'base');
  // "P0203 came back": a code is read again, nothing was fitted.
  const coded = figuresOf(clause).some((figure) => figure.kind === 'trouble-code');
  const moved = coded ? [] : [...movedOf(clause), ...(clause.lent?.moved ?? [])];
  const used = real.length > 0 ? real : moved.length > 0 ? [] : verbs;
  return {
    memo: newMemo(),
    classes: [...new Set([...used.flatMap((verb) => verb.classes), ...moved])],
    lemmas: verbs.map((verb) => verb.lemma),
    parts,
    unknown: clause.pieces.reduce((sum, piece) => sum + piece.unknown.length, 0),
    figures: figuresOf(clause),
    words: saidIn(clause),
    shortMend: clause.pieces.some((piece) =>
      piece.verbs.some(
        (verb) => (piece.tokens[verb.at]?.mended?.length ?? 9) <= 4 && verb.form === 'past',
      ),
    ),
    mendedVerb: clause.pieces.some((piece) =>
      piece.verbs.some((verb) => piece.tokens[verb.at]?.mended !== undefined),
    ),
    particleOnly: real.length === 0 && moved.length > 0,
    calledDone: hasCue(clause, 'finished') || clause.pieces.some((piece) => piece.tick),
  };
}

const speaks = (piece: Clause['pieces'][number]) =>
  piece.moved.length > 0 ||
  piece.verbs.some((verb) => !verb.maybeNoun) ||
  piece.tick ||
  piece.cues.some((cue) =>
    /^(finished|good|not|not-yet|left-to-do|future|later|starting)$/.test(cue.name),
  );

/** The name of a person is no part of the vehicle. */
export function withoutName(wanted: Wanted, by: string): Wanted {
  const parts = new Map(wanted.parts);
  parts.delete(by.toLowerCase());
  return {
    ...wanted,
    parts,
    unknown: Math.max(0, wanted.unknown - (parts.size === wanted.parts.size ? 1 : 0)),
  };
}

/** What a stance turns around: a cover still on is not off, hand tight is not tightened. */
export function adapted(wanted: Wanted, stance: Stance): Wanted {
  if (stance.still) return { ...wanted, classes: against(wanted.classes), lemmas: [], words: [] };
  if (/^(waiting-for|out-of-stock|turned-up)$/.test(stance.rule))
    return { ...wanted, classes: ['fit', 'renew', 'fill'], words: [], lemmas: [] };
  // "How much oil does it take": what goes in.
  if (
    stance.kind === 'asks' &&
    wanted.words.some((word) => /^(take|hold|put)$/.test(word.root)) &&
    wanted.words.some((word) => /^(much|many|lot)$/.test(word.root))
  )
    return { ...wanted, classes: ['fill', 'prime'] };
  // "How many Nm for the dryer": the step that tightens it.
  if (
    stance.kind === 'asks' &&
    wanted.classes.length === 0 &&
    wanted.words.some((word) =>
      /^(nm|torque|newton|strong|tight|setting|drehmoment|anzugsmoment|newtonmeter|fest)$/.test(
        word.root,
      ),
    )
  )
    return { ...wanted, classes: ['tighten'] };
  if (stance.handTight) return { ...wanted, classes: ['tighten'], words: [] };
  // What is stuck without a word of the work is what should have come off.
  if (stance.rule === 'cannot') {
    const stuck = wanted.words.some((word) =>
      /^(off|out|budge|move|shift|undo|stuck|seiz|seized|free|pop|part)$/.test(word.root),
    );
    if (wanted.classes.length === 0 || stuck)
      return { ...wanted, classes: ['remove', 'loosen', 'disconnect'] };
  }
  return wanted;
}

/** "Not done yet" speaks of the work in hand: a stranger among its words weighs less. */
export const eased = (wanted: Wanted, stance: Stance, clause: Clause): Wanted =>
  stance.kind === 'not-done' &&
  hasCue(clause, 'not-yet') &&
  wanted.unknown > 0 &&
  wanted.words.length <= 9
    ? { ...wanted, unknown: wanted.unknown - 1 }
    : wanted;
