import { sayAnswer } from '../answer.ts';
import { figureBetween, figureOf } from '../quantity.ts';
import { found, type Result, refused } from '../result.ts';
import type { Glycol } from '../tables/glycol.ts';
import { formatFigure, formatQuantity, type Quantity } from '../units.ts';
import { concentrationFor } from './concentration.ts';
import { warmestAt } from './freeze-curves.ts';
import { checkMixture, STRONGEST_PERCENT } from './freeze-point.ts';

/** How strong a mixture is: per cent of glycol by volume, or the freezing point that a tester shows. */
export type Strength = { readonly percent: number } | { readonly freezesAt: Quantity };

export type MixQuestion = {
  readonly glycol: Glycol;
  /** What the whole system holds. */
  readonly system: Quantity;
  readonly have: Strength;
  /** What is filled in, in per cent by volume: 100 concentrate (taken when left out), 0 water, 50 a ready mixture. */
  readonly fillPercent?: number;
  readonly source?: string;
};

export type Replacement = {
  /** Litres to drain, and to fill again. */
  readonly litres: number;
  readonly havePercent: number;
  readonly targetPercent: number;
  readonly answer: string;
};

export type AfterRefill = {
  readonly percent: number;
  /** What the new mixture is good down to, °C, by the warmer source; undefined past 60 %. */
  readonly freezesAt: number | undefined;
  readonly answer: string;
};

/** The most a coolant system is believed to hold, in litres: past this the figure is taken for a slip. */
export const LARGEST_SYSTEM_L = 500;

const HOT = 'Let it cool first: hot coolant under pressure scalds.';

/**
 * How many litres to drain and refill so that a system reaches a target: V = Vt (Ct − C0)/(Cc − C0), with the system's
 * volume Vt, the concentration C0 now, Ct wanted and Cc filled in, all by volume. Source: published calculator formula.
 *
 * A strength given as a freezing point counts on the weaker figure for what is there and the stronger one for the
 * target. Refused: a target that this fill cannot reach, volumes outside 0 to 500 L, strengths outside 0 to 100 %.
 */
export function replaceToReach(
  question: MixQuestion & { readonly target: Strength },
): Result<Replacement> {
  const inputs = readInputs(question);
  if (!inputs.ok) return inputs;
  const { fill, have, litres: system } = inputs.value;
  const wanted = percentOf(question.target, question.glycol, 'high', 'The target');
  if (!wanted.ok) return wanted;
  const target = wanted.value;
  if (target > STRONGEST_PERCENT) {
    return refused(
      `A target of ${formatQuantity(target, '%')} is too strong: past ${STRONGEST_PERCENT} % a mixture soon protects less again and cools worse.`,
      `Choose a target up to ${STRONGEST_PERCENT} %.`,
    );
  }
  if (target !== have && (target < Math.min(have, fill) || target > Math.max(have, fill))) {
    return refused(
      `${formatQuantity(target, '%')} cannot be reached from ${formatQuantity(have, '%')} by filling in ${fillName(fill)}.`,
      target > have ? 'Use a stronger fill.' : 'Use a weaker fill, or water.',
    );
  }
  const litres = target === have ? 0 : replacementVolume(system, have, target, fill);
  return found({
    litres,
    havePercent: have,
    targetPercent: target,
    answer: sayAnswer({
      figure:
        litres === 0
          ? 'Nothing to replace'
          : `Drain ${formatQuantity(litres, 'L', 3)} and refill with ${formatQuantity(litres, 'L', 3)} of ${fillName(fill)}`,
      basis: `system ${formatQuantity(system, 'L')}, from ${formatFigure(have, 3)} to ${formatQuantity(target, '%', 3)} ${question.glycol} glycol by volume`,
      cautions: litres === 0 ? [] : [HOT],
      source: question.source,
    }),
  });
}

/** V = Vt (Ct − C0)/(Cc − C0). The volume comes out in the unit of Vt. */
export function replacementVolume(
  system: number,
  have: number,
  target: number,
  fill: number,
): number {
  return system * ((target - have) / (fill - have));
}

/**
 * What a part drain and refill leaves in the system, per cent by volume: (C0 (Vt − V) + Cc V)/Vt.
 * Refused: more drained than the system holds, and what {@link replaceToReach} refuses.
 */
export function afterRefill(
  question: MixQuestion & { readonly drained: Quantity },
): Result<AfterRefill> {
  const inputs = readInputs(question);
  if (!inputs.ok) return inputs;
  const { fill, have, litres: system } = inputs.value;
  const drained = litresOf(question.drained, 'The drained volume');
  if (!drained.ok) return drained;
  if (drained.value > system) {
    return refused(
      `${formatQuantity(drained.value, 'L')} is more than the system's ${formatQuantity(system, 'L')}.`,
      'Check both volumes.',
    );
  }
  const percent = (have * (system - drained.value) + fill * drained.value) / system;
  const freezesAt =
    percent <= STRONGEST_PERCENT ? warmestAt(question.glycol, 'volume', percent) : undefined;
  const good =
    freezesAt === undefined
      ? `too strong: keep to ${STRONGEST_PERCENT} % or less`
      : `good down to ${formatQuantity(freezesAt, 'Cel', 3)}`;
  return found({
    percent,
    freezesAt,
    answer: sayAnswer({
      figure: `${formatQuantity(percent, '%', 3)} ${question.glycol} glycol by volume, ${good}`,
      basis: `${formatQuantity(drained.value, 'L')} of ${formatQuantity(system, 'L')} at ${formatQuantity(have, '%', 3)} drained and refilled with ${fillName(fill)}`,
      cautions: ['Run it until it is mixed, let it cool, and measure.'],
      source: question.source,
    }),
  });
}

/** A volume in litres. Refused: not a volume, an ambiguous gallon, quart or pint, below 0 or above 500 L. */
export function litresOf(volume: Quantity, name: string): Result<number> {
  return figureOf(volume, { name, unit: 'L', low: 0, high: LARGEST_SYSTEM_L });
}

function readInputs(question: MixQuestion) {
  const known = checkMixture(question.glycol, 'volume');
  if (!known.ok) return known;
  const litres = litresOf(question.system, "The system's volume");
  if (!litres.ok) return litres;
  if (litres.value === 0) return refused('The system holds 0 L.', "Give the system's volume.");
  const fill = figureBetween(question.fillPercent ?? 100, {
    name: 'The fill in %',
    low: 0,
    high: 100,
  });
  if (!fill.ok) return fill;
  const have = percentOf(question.have, question.glycol, 'low', 'The concentration now');
  if (!have.ok) return have;
  return found({ litres: litres.value, fill: fill.value, have: have.value });
}

function percentOf(
  strength: Strength,
  glycol: Glycol,
  end: 'low' | 'high',
  name: string,
): Result<number> {
  if ('percent' in strength) {
    return figureBetween(strength.percent, { name: `${name} in %`, low: 0, high: 100 });
  }
  const band = concentrationFor({ glycol, by: 'volume', freezesAt: strength.freezesAt });
  return band.ok ? found(band.value[end]) : band;
}

function fillName(percent: number): string {
  if (percent === 100) return 'concentrate';
  return percent === 0 ? 'water' : `a ${formatFigure(percent)} % mixture`;
}
