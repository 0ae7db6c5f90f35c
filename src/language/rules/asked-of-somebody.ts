// "Can someone drain it", "please check my nuts": a request to colleagues is no report and no question to us.
import { startOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const askedOfSomebody: Rule = {
  name: 'asked-of-somebody',
  says: '"Can someone drain it", "please check my nuts": a request is no report.',
  read: (clause, tongue) => {
    const piece = clause.pieces[0];
    if (!piece) return undefined;
    const words = piece.tokens.slice(startOf(clause), piece.to).map((token) => token.word);
    const [first = '', second = ''] = words;
    if (
      /^(can|could|would|will|kann|könnte)$/.test(first) &&
      /^(someone|somebody|anyone|anybody|jemand)$/.test(second)
    )
      return { kind: 'nothing' };
    if (/^(please|bitte)$/.test(first) || words.at(-1) === 'please') {
      const past = piece.verbs.some((verb) => verb.form === 'past');
      return past || clause.question || tongue.pack.code === '' ? undefined : { kind: 'nothing' };
    }
    if (/^(someone|somebody|whoever|jemand)$/.test(first) && !clause.question) {
      return piece.moved.length > 0 || piece.verbs.some((verb) => verb.form === 'past')
        ? { kind: 'finding', note: true }
        : { kind: 'nothing' };
    }
    return undefined;
  },
};

export const examples: Examples = {
  yes: [
    'can someone drain the coolant on 417?',
    'second check please',
    'somebody look at my clamps',
  ],
  no: ['coolant drained'],
  ask: [],
  also: ['about-to', 'question-mark', 'question-words'],
};
