// "Drain the coolant" is an order or a plan, not a report.
import { hasCue, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const orderToDo: Rule = {
  name: 'order-to-do',
  says: '"Drain the coolant" is an order or a plan, not a report.',
  read: (clause, tongue) => {
    if (hasCue(clause, 'finished') || clause.pieces.some((piece) => piece.tick)) return undefined;
    const piece = clause.pieces[0];
    let first = piece?.from ?? 0;
    while (piece && first < piece.to && piece.tokens[first]?.kind !== 'word') first += 1;
    return verbsOf(clause).some(
      (verb) =>
        (verb.form === 'base' || verb.form === 'third') &&
        (verb.at === first || (tongue.pack.verbLast === true && !verb.maybeNoun)),
    ) && !verbsOf(clause).some((verb) => verb.form === 'past')
      ? { kind: 'nothing' }
      : undefined;
  },
};

export const examples: Examples = {
  yes: ['drain the coolant', 'torque the clamps to 45 nm'],
  no: ['coolant drained'],
  ask: [],
};
