import { sayAnswer } from '../answer.ts';
import { figureBetween, figureOf, formatRange } from '../quantity.ts';
import { found, type Result, refused } from '../result.ts';
import { formatFigure, formatQuantity, kindOf, type Quantity } from '../units.ts';

/** How far a stage's figure may lie from what the plan states, both ends allowed. */
export type Tolerance = { readonly percent: number } | { readonly plusMinus: Quantity };

/** One figure of a stage: what the plan states, and how close it must be. */
export type StageTarget = { readonly figure: Quantity; readonly tolerance: Tolerance };

export type FigureCheck = {
  readonly verdict: 'below' | 'within' | 'above';
  /** The allowed ends, and the reported figure, all in the target's unit. */
  readonly low: number;
  readonly high: number;
  readonly reported: number;
  readonly answer: string;
};

export type StageCheck = {
  readonly verdict: 'within' | 'out-of-limits' | 'figure-missing';
  readonly torque?: FigureCheck;
  readonly angle?: FigureCheck;
  readonly missing: readonly ('torque' | 'angle')[];
  readonly answer: string;
};

type StageFigures = { readonly torque?: Quantity; readonly angle?: Quantity };

/** A figure within this share of an end counts as that end: it is dust from changing units, not a difference. */
const DUST = 1e-9;

/**
 * A reported torque or angle against its target. The report may be in another unit of the same kind.
 * Refused: another kind of quantity (a torque in litres), a negative or unreadable figure, a tolerance of more
 * than 50 %.
 */
export function checkFigure(
  target: StageTarget,
  reported: Quantity,
  source?: string,
): Result<FigureCheck> {
  const { unit } = target.figure;
  const name = kindOf(unit) === 'angle' ? 'The angle' : 'The torque';
  const high = kindOf(unit) === 'angle' ? 1080 : 100_000;
  if (kindOf(unit) !== 'torque' && kindOf(unit) !== 'angle') {
    return refused(
      `A stage of ${formatQuantity(target.figure.value, unit)} is neither a torque nor an angle.`,
      'Mend the plan: a stage has a torque, an angle, or both.',
    );
  }
  const wanted = figureOf(target.figure, { name, unit, low: 0, high });
  if (!wanted.ok) return wanted;
  const given = figureOf(reported, { name, unit, low: 0, high });
  if (!given.ok) return given;
  const margin = marginOf(target, wanted.value);
  if (!margin.ok) return margin;

  const ends = { low: wanted.value - margin.value, high: wanted.value + margin.value };
  const slack = DUST * Math.max(1, wanted.value);
  const verdict =
    given.value < ends.low - slack ? 'below' : given.value > ends.high + slack ? 'above' : 'within';
  const distance = verdict === 'below' ? ends.low - given.value : given.value - ends.high;
  const shown = shownReport(reported, given.value, target.figure);
  return found({
    verdict,
    ...ends,
    reported: given.value,
    answer: sayAnswer({
      figure:
        verdict === 'within'
          ? `${shown} is in the range ${formatRange(ends.low, ends.high, unit)}`
          : `${shown} is ${formatQuantity(distance, unit)} ${verdict} the range ${formatRange(ends.low, ends.high, unit)}`,
      basis: `${formatQuantity(wanted.value, unit)} ± ${toleranceText(target.tolerance)}`,
      cautions: verdict === 'within' ? [] : [REMEDY[verdict]],
      source,
    }),
  });
}

const REMEDY = {
  below: 'Do the stage again before the next one.',
  above: 'Do not ease it back and go on: ask what the maker says about a fastener turned too far.',
};

function marginOf(target: StageTarget, wanted: number): Result<number> {
  const { tolerance } = target;
  if ('percent' in tolerance) {
    const percent = figureBetween(tolerance.percent, {
      name: 'The tolerance in %',
      low: 0,
      high: 50,
    });
    return percent.ok ? found((wanted * percent.value) / 100) : percent;
  }
  const { unit } = target.figure;
  return figureOf(tolerance.plusMinus, { name: 'The tolerance', unit, low: 0, high: wanted });
}

function toleranceText(tolerance: Tolerance): string {
  if ('percent' in tolerance) return `${formatFigure(tolerance.percent)} %`;
  return formatQuantity(tolerance.plusMinus.value, tolerance.plusMinus.unit);
}

/** The reported figure in its own unit, and in the plan's when that is another one. */
function shownReport(reported: Quantity, value: number, target: Quantity): string {
  const own = formatQuantity(reported.value, reported.unit);
  return reported.unit === target.unit ? own : `${own} = ${formatQuantity(value, target.unit)}`;
}

/**
 * A whole stage, by torque, by angle or by both, against what was reported for it. A figure the plan wants and nobody
 * gave makes the stage `figure-missing`; one that the plan does not want is refused, since it belongs elsewhere.
 */
export function checkStage(
  target: { readonly torque?: StageTarget; readonly angle?: StageTarget },
  reported: StageFigures,
  source?: string,
): Result<StageCheck> {
  const checks: { torque?: FigureCheck; angle?: FigureCheck } = {};
  const missing: ('torque' | 'angle')[] = [];
  for (const part of ['torque', 'angle'] as const) {
    const wanted = target[part];
    const given = reported[part];
    if (!wanted && given) {
      return refused(
        `This stage has no ${part}, but ${formatQuantity(given.value, given.unit)} is reported.`,
        'Say which stage the figure belongs to.',
      );
    }
    if (!wanted) continue;
    if (kindOf(wanted.figure.unit) !== part) {
      return refused(
        `The plan gives ${formatQuantity(wanted.figure.value, wanted.figure.unit)} as the ${part} of the stage.`,
        `Mend the plan: write the ${part} in a unit of ${part}.`,
      );
    }
    if (!given) {
      missing.push(part);
      continue;
    }
    const check = checkFigure(wanted, given, source);
    if (!check.ok) return check;
    checks[part] = check.value;
  }
  const done = [checks.torque, checks.angle].filter((check) => check !== undefined);
  if (done.length + missing.length === 0) {
    return refused(
      'The stage has neither a torque nor an angle.',
      'Mend the plan: give one of them.',
    );
  }
  const out = done.some((check) => check.verdict !== 'within');
  const answers = done.map((check) => check.answer);
  if (missing.length > 0) answers.push(`Still to be reported: the ${missing.join(' and the ')}.`);
  return found({
    verdict: out ? 'out-of-limits' : missing.length > 0 ? 'figure-missing' : 'within',
    ...checks,
    missing,
    answer: answers.join(' '),
  });
}
