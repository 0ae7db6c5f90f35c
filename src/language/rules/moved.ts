// Off, out, in, on, full, tight: where a part is says what was done.
import { type Clause, movedOf } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

/** "Up ramps", "down hill": what stands behind it is where to, and nothing was put up or down. */
const leadsElsewhere = (clause: Clause): boolean =>
  clause.pieces.some((piece) =>
    piece.tokens
      .slice(piece.from, piece.to)
      .some(
        (token, index, all) =>
          /^(?:up|down)$/.test(token.word) && piece.unknown.includes(all[index + 1]?.word ?? ''),
      ),
  );

export const moved: Rule = {
  name: 'moved',
  says: 'Off, out, in, on, full, tight: where a part is says what was done.',
  read: (clause) =>
    (movedOf(clause).length > 0 || (clause.lent?.moved.length ?? 0) > 0) && !leadsElsewhere(clause)
      ? { kind: 'done' }
      : undefined,
};

export const examples: Examples = {
  yes: ['rocker cover off', 'injector out of 4'],
  no: ['rocker cover'],
  ask: [],
};
