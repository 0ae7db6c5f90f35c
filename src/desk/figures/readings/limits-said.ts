// "limits 12.5 to 12.9", "min 20", "no more than 0.3": limits that are typed with a question.
import type { Unit } from '../../../trade/units.ts';
import { type Asked, aroundSaid, type Said } from '../asking/asked.ts';

export type LimitsSaid = {
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly unit: Unit | undefined;
  /** The figures that are limits, not readings. */
  readonly used: readonly Said[];
};

const LOW =
  /\b(?:min(?:imum)?|at least|no less than|not less than|lower limit|low limit|mindestens|wenigstens)(?:\s*(?:is|of|=|:))?\s*$/;
const HIGH =
  /\b(?:max(?:imum)?|at most|no more than|not more than|upper limit|up to|limit|höchstens|maximal)(?:\s*(?:is|of|=|:))?\s*$/;
const FROM =
  /\b(?:limits?|range|between|from|spec|grenzen?|zwischen|von)(?:\s*(?:is|are|of|=|:))?\s*$/;
const TO = /^\s*(?:to|and|-|–|bis|und)\s*$/;

/** The limits among the figures given; `spread` and its figure are left to whoever asks about cylinders. */
export function limitsIn(asked: Asked, figures: readonly Said[]): LimitsSaid {
  let low: number | undefined;
  let high: number | undefined;
  let unit: Unit | undefined;
  const used: Said[] = [];
  const use = (said: Said) => {
    used.push(said);
    unit ??= said.unit;
    return said.value;
  };
  for (const [index, said] of figures.entries()) {
    if (used.includes(said)) continue;
    const { before, after } = aroundSaid(asked, said);
    const next = figures[index + 1];
    if (next && FROM.test(before) && (TO.test(after) || dashed(asked, said, next))) {
      low = use(said);
      high = use(next);
    } else if (LOW.test(before)) low = use(said);
    else if (HIGH.test(before) && !/\bspread\b/.test(before)) high = use(said);
  }
  return { low, high, unit, used };
}

const dashed = (asked: Asked, said: Said, next: Said): boolean =>
  /^\s*[-–]\s*$/.test(asked.plain.slice(said.to, next.from));
