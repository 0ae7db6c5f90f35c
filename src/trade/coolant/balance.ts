import { figureBetween } from '../quantity.ts';
import { found, type Result, refused } from '../result.ts';
import { formatQuantity, type Quantity } from '../units.ts';
import { litresOf } from './dilution.ts';

/**
 * One volume that was reported. `topped-up` is filled in later; `spilled-draining` came out but not into a container;
 * `spilled-filling` was poured but did not go in.
 */
export type FluidEntry = {
  readonly what: 'drained' | 'filled' | 'topped-up' | 'spilled-draining' | 'spilled-filling';
  readonly volume: Quantity;
};

/** How much may stay unaccounted for: the larger of a volume and a share of what came out. */
export type BalanceTolerance = { readonly litres: number; readonly percent: number };

/** The larger of 1 L and 5 %. Ours, no source. */
export const USUAL_BALANCE_TOLERANCE: BalanceTolerance = { litres: 1, percent: 5 };

export type FluidBalance = {
  /** All in litres. */
  readonly out: number;
  readonly in: number;
  /** What came out less what went in: above 0, less is in than before. */
  readonly unaccounted: number;
  readonly tolerance: number;
  readonly verdict: 'balanced' | 'too-little-in' | 'too-much-in';
  readonly answer: string;
};

/**
 * What was drained against what was filled, over any number of containers, top-ups and spills, in litres.
 * The ends of the tolerance count as balanced.
 * Refused: nothing drained, or a volume below 0, above 500 L, of another kind or an unsaid size of gallon.
 */
export function fluidBalance(
  entries: readonly FluidEntry[],
  fluid = 'coolant',
  tolerance: BalanceTolerance = USUAL_BALANCE_TOLERANCE,
): Result<FluidBalance> {
  const litres = figureBetween(tolerance.litres, { name: 'The tolerance in L', low: 0, high: 100 });
  if (!litres.ok) return litres;
  const percent = figureBetween(tolerance.percent, {
    name: 'The tolerance in %',
    low: 0,
    high: 100,
  });
  if (!percent.ok) return percent;

  let out = 0;
  let into = 0;
  for (const entry of entries) {
    const volume = litresOf(entry.volume, `The volume ${NAMES[entry.what]}`);
    if (!volume.ok) return volume;
    if (entry.what === 'drained' || entry.what === 'spilled-draining') out += volume.value;
    else if (entry.what === 'spilled-filling') into -= volume.value;
    else into += volume.value;
  }
  if (out === 0) {
    return refused(`No ${fluid} is reported as drained.`, 'Report what was drained, in litres.');
  }
  if (into < 0) {
    return refused(
      `More ${fluid} is reported as spilled while filling than was poured.`,
      'Check the volumes filled and spilled.',
    );
  }
  const unaccounted = out - into;
  const allowed = Math.max(litres.value, (percent.value / 100) * out);
  const dust = 1e-9 * out;
  const verdict =
    unaccounted > allowed + dust
      ? 'too-little-in'
      : unaccounted < -allowed - dust
        ? 'too-much-in'
        : 'balanced';
  return found({
    out,
    in: into,
    unaccounted,
    tolerance: allowed,
    verdict,
    answer: say(fluid, { out, into, unaccounted, allowed, verdict }),
  });
}

const NAMES: Record<FluidEntry['what'], string> = {
  drained: 'drained',
  filled: 'filled in',
  'topped-up': 'topped up',
  'spilled-draining': 'spilled while draining',
  'spilled-filling': 'spilled while filling',
};

function say(
  fluid: string,
  b: {
    readonly out: number;
    readonly into: number;
    readonly unaccounted: number;
    readonly allowed: number;
    readonly verdict: FluidBalance['verdict'];
  },
): string {
  const basis = `(${formatQuantity(b.out, 'L')} of ${fluid} out, ${formatQuantity(b.into, 'L')} in; up to ${formatQuantity(b.allowed, 'L', 3)} either way is let pass)`;
  const difference = formatQuantity(Math.abs(b.unaccounted), 'L', 3);
  if (b.verdict === 'balanced') return `Accounted for, ${difference} apart ${basis}.`;
  if (b.verdict === 'too-much-in') {
    return `${difference} more in than came out ${basis}. Check where it goes before the engine runs: it may have been low, or be leaking inside.`;
  }
  return `${difference} less in than came out ${basis}. Bleed it and top it up before the engine runs under load.`;
}
