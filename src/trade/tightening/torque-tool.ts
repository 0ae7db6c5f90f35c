import { sayAnswer } from '../answer.ts';
import { figureBetween, figureOf, formatRange } from '../quantity.ts';
import { found, type Result, refused } from '../result.ts';
import { convert, formatFigure, formatQuantity, type Quantity, type Unit } from '../units.ts';
import { addMonths, dateOf } from './calendar-date.ts';

export type ToolTolerance = {
  readonly percent: 4 | 6;
  /** What the bolt may have got when the tool showed the torque, in the unit given. */
  readonly low: number;
  readonly high: number;
  readonly unit: Unit;
  readonly answer: string;
};

/**
 * The tolerance of a setting torque tool: ±4 % above 10 N·m, ±6 % at or below.
 * Source: ISO 6789 as quoted by tool makers' manuals. Refused: a torque outside 0.01 to 5000 N·m.
 */
export function toolTolerance(torque: Quantity): Result<ToolTolerance> {
  const newtonMetres = figureOf(torque, { name: 'The torque', unit: 'N.m', low: 0.01, high: 5000 });
  if (!newtonMetres.ok) return newtonMetres;
  const percent = newtonMetres.value > 10 ? 4 : 6;
  const margin = (torque.value * percent) / 100;
  const ends = { low: torque.value - margin, high: torque.value + margin };
  return found({
    percent,
    ...ends,
    unit: torque.unit,
    answer: sayAnswer({
      figure: `${formatRange(ends.low, ends.high, torque.unit)} at the bolt`,
      basis: `${formatQuantity(torque.value, torque.unit)} shown, ± ${percent} % for a tool that keeps ISO 6789`,
    }),
  });
}

export type ToolRecord = {
  /** Day of the last calibration, ISO 8601: "2026-03-01". May be left out where the last day is given. */
  readonly calibratedOn?: string;
  /** The last day the register gives it, where it gives one: it goes before the usual months. */
  readonly lastDay?: string;
  /** Pulls since then, where the tool or the register counts them. */
  readonly cycles?: number;
  /** The highest torque it has had since then, where that was over its largest setting. */
  readonly overload?: { readonly torque: Quantity; readonly largestSetting: Quantity };
};

export type ToolLimits = { readonly months: number; readonly cycles: number };

/** 12 months or 5,000 pulls, unless the workshop's own procedure says otherwise. Source: ISO 6789 as quoted. */
export const USUAL_TOOL_LIMITS: ToolLimits = { months: 12, cycles: 5000 };

export type ToolState = {
  readonly state: 'in-date' | 'out-of-date';
  /** The last day on which it is in date. */
  readonly lastDay: string;
  readonly reasons: readonly string[];
  readonly answer: string;
};

/**
 * Whether a torque tool may still be used on the day given (ISO 8601): by date, by pulls, and after an overload of
 * more than 25 %. The last day still counts as in date; a tool that has had all its pulls does not.
 *
 * Source: ISO 6789 as quoted by tool makers' manuals.
 * Refused: a date that is not one, a calibration after today, a negative or broken number of pulls, limits of nothing.
 */
export function toolState(
  tool: ToolRecord,
  today: string,
  limits: ToolLimits = USUAL_TOOL_LIMITS,
): Result<ToolState> {
  const months = wholeLimit(limits.months, 'months', 120);
  if (!months.ok) return months;
  const pulls = wholeLimit(limits.cycles, 'pulls', 1_000_000);
  if (!pulls.ok) return pulls;
  const dates = [
    tool.calibratedOn === undefined ? undefined : dateOf(tool.calibratedOn, 'The calibration date'),
    tool.lastDay === undefined ? undefined : dateOf(tool.lastDay, 'The last day'),
  ] as const;
  const [from, given] = dates;
  if (from && !from.ok) return from;
  if (given && !given.ok) return given;
  const now = dateOf(today, "Today's date");
  if (!now.ok) return now;
  if (from && from.value > now.value) {
    return refused(
      `The calibration is dated ${from.value}, after today, ${now.value}.`,
      'Check the date on the certificate.',
    );
  }
  const lastDay = given?.value ?? (from && addMonths(from.value, limits.months));
  if (lastDay === undefined) {
    return refused(
      'The tool has no date.',
      'Give the day of its calibration from the certificate.',
    );
  }
  const overload = overloadReason(tool);
  if (!overload.ok) return overload;
  const cycles = figureBetween(tool.cycles ?? 0, {
    name: 'The number of pulls',
    low: 0,
    high: 1e7,
  });
  if (!cycles.ok) return cycles;

  const life = given ? 'last day from the register' : `${limits.months} months`;
  const basis = `${from ? `calibrated ${from.value}, ` : ''}${life} or ${limits.cycles} pulls`;
  const reasons = [...overload.value];
  if (now.value > lastDay) reasons.push(`Its calibration ran out on ${lastDay}.`);
  if (cycles.value >= limits.cycles) {
    reasons.push(`It has had ${formatFigure(cycles.value)} of ${limits.cycles} pulls.`);
  }
  const state = reasons.length > 0 ? 'out-of-date' : 'in-date';
  return found({
    state,
    lastDay,
    reasons,
    answer:
      state === 'in-date'
        ? `In date until ${lastDay} (${basis}). The workshop's own procedure comes first.`
        : `Out of date (${basis}). ${reasons.join(' ')} Take another tool, and go over what was tightened with this one.`,
  });
}

function wholeLimit(value: number, name: string, high: number): Result<number> {
  if (Number.isInteger(value) && value >= 1 && value <= high) return found(value);
  return refused(
    `A limit of ${value} ${name} cannot be used.`,
    `Give a whole number of ${name} from 1 to ${high} in the settings.`,
  );
}

function overloadReason({ overload }: ToolRecord): Result<readonly string[]> {
  if (!overload) return found([]);
  const { unit } = overload.largestSetting;
  const largest = figureOf(overload.largestSetting, {
    name: 'The largest setting',
    unit: 'N.m',
    low: 0.01,
    high: 5000,
  });
  if (!largest.ok) return largest;
  const torque = figureOf(overload.torque, {
    name: 'The overload',
    unit: 'N.m',
    low: 0,
    high: 50_000,
  });
  if (!torque.ok) return torque;
  if (torque.value <= 1.25 * largest.value) return found([]);
  const shown = convert(torque.value, 'N.m', unit);
  if (typeof shown !== 'number') return { ok: false, problem: shown };
  return found([
    `It was loaded with ${formatQuantity(shown, unit)}, more than 25 % over its largest setting.`,
  ]);
}
