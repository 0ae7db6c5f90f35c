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
    if (
      /^(get|bring|have|keep|leave|make|send|hol|hole|bring|nimm|mach|lass)$/.test(
        piece?.tokens[first]?.word ?? '',
      ) &&
      !verbsOf(clause).some((verb) => verb.form === 'past')
    )
      return { kind: 'nothing' };
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
  yes: ['drain the coolant', 'torque the clamps to 45 nm', 'get the rocker cover off'],
  no: ['coolant drained'],
  ask: [],
};
