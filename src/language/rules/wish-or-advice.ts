// A wish, an order or somebody's advice is not a report.
import { type Clause, hasCue, textOf, wordsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

/** What is to be done by whoever does it: "must be bedded in", "make sure it is torqued", "if I were you". */
const ADVICE =
  /^(?:please )?(?:make sure|ensure|mind|remember that|always|never)\b|\b(?:must|should|shall|is|are|has|have) (?:not )?(?:to )?be (?:\w+ )?(?:re)?\w+(?:ed|ened|rqued)\b(?! (?:yet|still))(?=.*\b(?:to \d|before|with|by|after)\b)|\bnot to be (?:re)?\w+|\b(?:if i were you|if i was you|could do with|need a hand|needs a hand|want a hand)\b|\bwould \w+ (?:the|it|them|that) .*\bif\b/;

/** Whether a clause tells somebody what is to be. */
export const isAdvice = (clause: Clause): boolean =>
  ADVISING.test(textOf(clause)) && ADVICE.test(textOf(clause));

/** In every advice one of these words stands. */
const ADVISING = /\b(?:make|ensure|mind|remember|always|never|be|if|could|needs?|want|would)\b/;

export const wishOrAdvice: Rule = {
  name: 'wish-or-advice',
  says: "A wish, an order or somebody's advice is not a report.",
  read: (clause) => {
    const words = textOf(clause);
    if (isAdvice(clause)) return { kind: 'nothing' };
    // "I want take the box out now", "we need to drop the box": meant by the one who writes it.
    const wants = wordsOf(clause).includes('want');
    if (
      wants &&
      /\b(?:i|we) want (?:to )?(?:\w+ )*?(?:take|start|do|make|put|pull|fit|drop|fill|drain|drive|go)\b/.test(
        words,
      )
    )
      return { kind: 'intends' };
    if (!hasCue(clause, 'wish')) return undefined;
    // A wish that it were done says that it is not; "should have it out by ten" is a plan.
    if (/\bwish (?:\w+ )+(?:was|were|had)\b/.test(words)) return { kind: 'not-done' };
    if (/\b(?:should|could) have (?:\w+ ){1,6}by \d/.test(words)) return { kind: 'intends' };
    return { kind: 'nothing' };
  },
};

export const examples: Examples = {
  yes: ['boss wants the coolant drained', 'wish the clamps were torqued'],
  no: ['coolant drained'],
  ask: [],
};
