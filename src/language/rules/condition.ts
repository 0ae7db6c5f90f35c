// If, once, when, unless, until: what hangs on it has not happened.
import {
  type Clause,
  cueOf,
  figuresOf,
  hasCue,
  namesPart,
  startOf,
  textOf,
  verbsOf,
} from '../clause.ts';
import type { CueName } from '../pack.ts';
import type { Examples, Rule } from '../stance.ts';

/** "Rest after tea" says when the rest is to come. */
const restLater = (clause: Clause, start: number): boolean =>
  hasCue(clause, 'later') &&
  figuresOf(clause).some((figure) => figure.kind === 'rest' && figure.from === start);

/** "After dinner", said with what is to be done and without a word that it was. */
const isBreak = (clause: Clause, at: number): boolean =>
  clause.pieces.some((piece) =>
    piece.cues.some((cue) => cue.name === 'later' && cue.from === at && cue.to - cue.from > 1),
  ) &&
  namesPart(clause) &&
  !verbsOf(clause).some((verb) => verb.form === 'past');

const sized = (clause: Clause): boolean =>
  clause.pieces[0]?.tokens[startOf(clause)]?.entry?.plan === true &&
  figuresOf(clause).some((figure) => /^(quantity|number)$/.test(figure.kind));

/** "Noise only when it rains": what is wrong, and when; no work hangs on it. */
function isWrongAtTimes(clause: Clause): boolean {
  const [defect, condition] = [cueOf(clause, 'defect'), cueOf(clause, 'condition')];
  return (
    defect !== undefined &&
    condition !== undefined &&
    defect.to <= condition.from &&
    !['no', 'none', 'not', 'harmless-no'].some((name) => hasCue(clause, name as CueName)) &&
    clause.pieces.every((piece) => piece.verbs.length === 0 && piece.moved.length === 0)
  );
}

/** "Fill it when you're ready" tells somebody what to do. */
const isOrder = (clause: Clause): boolean =>
  verbsOf(clause).some((verb) => verb.form === 'base' && verb.at === startOf(clause));

export const condition: Rule = {
  name: 'condition',
  says: 'If, once, when, unless, until: what hangs on it has not happened.',
  read: (clause) => {
    if (clause.hangs) return { kind: 'nothing' };
    if (clause.under && /\bwould have\b/.test(textOf(clause))) return { kind: 'not-done' };
    if (isWrongAtTimes(clause)) return { kind: 'finding', note: true };
    if (clause.under) return { kind: isOrder(clause) ? 'nothing' : 'intends' };
    const start = startOf(clause);
    const cue = cueOf(clause, 'condition');
    if (!cue) return undefined;
    // "Not sure if clamp 2 is tight": the doubt says more.
    const doubt = cueOf(clause, 'doubt');
    if (doubt && doubt.to <= cue.from) return undefined;
    const first = clause.pieces[0]?.tokens[cue.from]?.word ?? '';
    // "Thermostat after lunch": a time of day, and nothing that it hangs on.
    if (isBreak(clause, cue.from)) return undefined;
    if (cue.from === start || cue.from === start + 1) {
      const told =
        verbsOf(clause).some((verb) => verb.form === 'past') ||
        /\b(?:was|were|had)\b/.test(textOf(clause));
      // "After the road test no codes were present" tells what was; "temp after the run 41" has its figure.
      if (first === 'after' && told && cue.from === start && !hasCue(clause, 'future'))
        return undefined;
      if (/^(after|before)$/.test(first) && cue.from > start && sized(clause)) return undefined;
      // "Retorqued after the run": what stands before it was said plainly.
      const before = clause.pieces[0]?.tokens[start]?.entry;
      const plain = before?.forms.includes('past') === true;
      if (/^(after|before|while|when)$/.test(first))
        return cue.from > start && (plain || restLater(clause, start))
          ? undefined
          : { kind: 'nothing' };
      return { kind: 'intends' };
    }
    // Behind the report it only limits what is meant with words such as "if" and "once".
    return /^(if|once|unless|assuming|provided|whether|subject|erst|nur|ob)$/.test(first)
      ? { kind: 'intends' }
      : undefined;
  },
};

export const examples: Examples = {
  yes: ['if the rail is down I will open the pipes', 'once the coolant is drained'],
  no: ['coolant drained'],
  ask: [],
  also: ['about-to'],
};
