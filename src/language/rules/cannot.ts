// Cannot, stuck, will not come out: it is held up.
import { cueOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

/** What somebody cannot see, tell or wait for holds no work up. */
const OF_THE_HEAD =
  /^(see|tell|say|remember|believe|wait|complain|hear|swear|stand|think|argue|talk|come|stop|make|stay)$/;

export const cannot: Rule = {
  name: 'cannot',
  says: 'Cannot, stuck, will not come out: it is held up.',
  read: (clause) => {
    const cue = cueOf(clause, 'cannot');
    if (!cue) return undefined;
    const next = clause.pieces.find((piece) => piece.from <= cue.from && cue.from < piece.to)
      ?.tokens[cue.to]?.word;
    return OF_THE_HEAD.test(next ?? '') ? { kind: 'nothing' } : { kind: 'blocked', note: true };
  },
};

export const examples: Examples = {
  yes: ['cannot get injector 3 out', 'injector 4 stuck'],
  no: ['injector 4 out'],
  ask: [],
  also: ['not-done'],
};
