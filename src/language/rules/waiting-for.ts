// Waiting for something: the work stands still, and nothing was done.
import { type Clause, hasCue, wordsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

/** "Pump will not come out": it is stuck, and nothing is waited for. */
const stuckFast = (clause: Clause): boolean =>
  hasCue(clause, 'cannot') &&
  /\bcome (?:out|off|away|apart|loose|free)\b/.test(wordsOf(clause).join(' '));

export const waitingFor: Rule = {
  name: 'waiting-for',
  says: 'Waiting for something: the work stands still, and nothing was done.',
  read: (clause) =>
    hasCue(clause, 'wait-for') && !stuckFast(clause) ? { kind: 'blocked', note: true } : undefined,
};

export const examples: Examples = {
  yes: ['waiting for washers', 'washers on back order'],
  no: ['washers on'],
  ask: [],
  also: ['wish-or-advice'],
};
