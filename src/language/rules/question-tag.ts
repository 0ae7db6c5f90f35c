// "Right", "yeah", "innit" at the end ask for a yes: it is not a report.
import { endOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const questionTag: Rule = {
  name: 'question-tag',
  says: '"Right", "yeah", "innit" at the end ask for a yes: it is not a report.',
  read: (clause) => {
    const end = endOf(clause);
    const last = clause.pieces.at(-1);
    const inSide = [...(last?.figures ?? []), ...(last?.excepted ?? [])].some(
      (figure) => figure.to === end && figure.kind === 'positions',
    );
    if (!last || inSide) return undefined;
    const tag = last.cues.find((cue) => cue.name === 'question-tag' && cue.to === end);
    if (!tag || (tag.from === last.from && clause.pieces.length === 1)) return undefined;
    // "all ok", "looks right" are results, not tags.
    const word = last.tokens[tag.from]?.word ?? '';
    const before = last.tokens[tag.from - 1]?.word ?? '';
    if (/^(ok|correct|no)$/.test(word) && tag.to - tag.from === 1 && tag.from > last.from)
      return undefined;
    if (/^(all|looks|is|was|set|are|them|not)$/.test(before) && tag.to - tag.from === 1)
      return undefined;
    return { kind: 'asks' };
  },
};

export const examples: Examples = {
  yes: ['drained it all out didnt you', 'clamps 1 to 6 torqued right', 'coolant drained yeah'],
  no: ['sleeves all ok'],
  ask: [],
  also: ['not-done'],
};
