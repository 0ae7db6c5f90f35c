// Cracked, worn, leaking, missing: something was found, and nothing is done by it.
import { hasCue, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const somethingWrong: Rule = {
  name: 'something-wrong',
  says: 'Cracked, worn, leaking, missing: something was found, and nothing is done by it.',
  read: (clause) => {
    if (!hasCue(clause, 'defect')) return undefined;
    const verbs = verbsOf(clause).filter(
      (verb) => verb.form === 'past' && !/^(find|look)$/.test(verb.lemma),
    );
    return verbs.length === 0 && !hasCue(clause, 'finished')
      ? { kind: 'finding', note: true }
      : undefined;
  },
};

export const examples: Examples = {
  yes: ['sleeve 3 is cracked', 'leak at 2'],
  no: ['rocker cover off'],
  ask: [],
};
