// A part with the figure its step asks for is a report: "rail pressure 3 bar".
import { figuresOf, verbsOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const figureBesidePart: Rule = {
  name: 'figure-beside-part',
  says: 'A part with the figure its step asks for is a report: "rail pressure 3 bar".',
  read: (clause) => {
    const figures = figuresOf(clause);
    const telling = figures.some((figure) =>
      /^(quantity|code|stage|trouble-code|count)$/.test(figure.kind),
    );
    const bare = figures.some(
      (figure) =>
        figure.kind === 'number' ||
        (figure.kind === 'positions' && figure.bare) ||
        figure.kind === 'positions' ||
        figure.kind === 'all',
    );
    if (!telling && !bare) return undefined;
    const first = clause.pieces[0];
    const commands = verbsOf(clause).some(
      (verb) => verb.form === 'base' && verb.at === first?.from,
    );
    return commands ? undefined : { kind: 'done', weak: true };
  },
};

export const examples: Examples = {
  yes: ['rail pressure 3 bar', 'clamps stage 2 45 nm all six'],
  no: ['torque the clamps to 45 nm'],
  ask: [],
};
