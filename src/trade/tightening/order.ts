import { found, type Result, refused } from '../result.ts';

/**
 * `opposite`: a ring, each fastener followed by the one across. `star`: a ring of any number, criss-cross; with an
 * even number it is the same as `opposite`. `centre-outwards`: two rows, from the middle to the ends.
 */
export type Pattern = 'opposite' | 'star' | 'centre-outwards';

export type Place = { readonly fastener: number; readonly x: number; readonly y: number };

export type TighteningOrder = {
  readonly pattern: Pattern;
  readonly loosening: boolean;
  /** Fastener numbers in the order in which they are turned. */
  readonly turns: readonly number[];
  /** Where each fastener sits in a square of −1 to 1, x to the right, y downwards. */
  readonly places: readonly Place[];
  readonly numbering: string;
  readonly answer: string;
};

/**
 * The order in which the fasteners of a joint are turned.
 *
 * Ring: fasteners are numbered clockwise from the top. Two rows: 1 to half along the first row, the rest along the
 * second row in the same direction. A two-row joint is loosened from the ends inwards; a ring is loosened in the same
 * order as it is tightened. Source for the rings of 4, 8, 12, 16 and 20: the cross-pattern of ASME PCC-1, from memory; the
 * two-row pattern is common practice, no source.
 * Refused: a number that the pattern cannot have.
 */
export function tighteningOrder(question: {
  readonly pattern: Pattern;
  readonly fasteners: number;
  readonly loosening?: boolean;
}): Result<TighteningOrder> {
  const { pattern, fasteners, loosening = false } = question;
  if (!['opposite', 'star', 'centre-outwards'].includes(pattern)) {
    return refused(`"${pattern}" is not a pattern.`, 'Give opposite, star or centre-outwards.');
  }
  const least = { opposite: 2, star: 3, 'centre-outwards': 4 }[pattern];
  if (!Number.isInteger(fasteners) || fasteners < least || fasteners > 60) {
    return refused(
      `${fasteners} fasteners cannot be put in the pattern "${pattern}".`,
      `Give a whole number from ${least} to 60.`,
    );
  }
  if (pattern !== 'star' && fasteners % 2 === 1) {
    return refused(
      `With ${fasteners} fasteners, an odd number, none sits across from another.`,
      pattern === 'opposite'
        ? 'Use the pattern "star".'
        : 'Count again: two rows have an even number.',
    );
  }
  const twoRows = pattern === 'centre-outwards';
  const forwards = twoRows ? twoRowTurns(fasteners / 2) : ringTurns(fasteners);
  const turns = twoRows && loosening ? forwards.toReversed() : forwards;
  const numbering = twoRows
    ? `numbered 1 to ${fasteners / 2} along the first row and ${fasteners / 2 + 1} to ${fasteners} along the second, in the same direction`
    : 'numbered clockwise from the top';
  return found({
    pattern,
    loosening,
    turns,
    places: twoRows ? twoRowPlaces(fasteners / 2) : ringPlaces(fasteners),
    numbering,
    answer: `${loosening ? 'Loosen' : 'Tighten'} ${turns.join(', ')} (${fasteners} fasteners, ${numbering}). The maker's order comes first.`,
  });
}

/** Odd rings step by just under half; even ones take diameters, square to each other where the number allows it. */
function ringTurns(count: number): number[] {
  const half = Math.floor(count / 2);
  if (count % 2 === 1) return steps(count, half).map((place) => place + 1);
  if (count % 4 !== 0) {
    return steps(half, Math.floor(half / 2)).flatMap((place) => [place + 1, place + 1 + half]);
  }
  const quarter = count / 4;
  const firsts = Array.from({ length: quarter }, (_, index) => index);
  const groups =
    quarter <= 3
      ? firsts
      : [...firsts.filter((i) => i % 2 === 0), ...firsts.filter((i) => i % 2 === 1)];
  return groups.flatMap((first) =>
    [first, first + half, first + quarter, first + half + quarter].map((place) => place + 1),
  );
}

/** 0, s, 2s, … around `count` places. Both callers pass an s that shares no factor with `count`. */
function steps(count: number, by: number): number[] {
  return Array.from({ length: count }, (_, index) => (index * by) % count);
}

/** Each ring of four around the middle is taken corner to corner, so that the joint is drawn down level. */
function twoRowTurns(columns: number): number[] {
  const turns: number[] = [];
  const odd = columns % 2 === 1;
  let left = odd ? (columns - 1) / 2 : columns / 2 - 1;
  let right = columns - 1 - left;
  if (odd) {
    turns.push(left + 1, left + 1 + columns);
    left -= 1;
    right += 1;
  }
  for (; left >= 0; left -= 1, right += 1) {
    turns.push(left + 1, right + 1 + columns, right + 1, left + 1 + columns);
  }
  return turns;
}

function ringPlaces(count: number): Place[] {
  return Array.from({ length: count }, (_, index) => {
    const angle = (2 * Math.PI * index) / count;
    return { fastener: index + 1, x: Math.sin(angle), y: -Math.cos(angle) };
  });
}

function twoRowPlaces(columns: number): Place[] {
  return Array.from({ length: 2 * columns }, (_, index) => ({
    fastener: index + 1,
    x: -1 + (2 * (index % columns)) / (columns - 1),
    y: index < columns ? -1 : 1,
  }));
}
