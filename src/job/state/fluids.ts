import type { FluidTotal } from '../../../shared/replay.ts';
import { fluidAsks, litres } from '../facts/measure.ts';
import type { Job } from './job.ts';

/** What was drained from and filled into each fluid of the plan over the whole job, in litres. */
export function fluidTotals(job: Job): readonly FluidTotal[] {
  const totals = new Map(
    Object.keys(job.plan.fluids ?? {}).map((fluid) => [fluid, { drained: 0, filled: 0 }]),
  );
  for (const fact of job.posting) {
    const step = job.plan.stepById.get(fact.report.act.step ?? '');
    const volume = litres(fact.report.act.quantity);
    const [ask] = fluidAsks(step);
    if (volume === undefined || ask === undefined) continue;
    const total = totals.get(ask.fluid) ?? { drained: 0, filled: 0 };
    // A volume said for several positions is said of each of them.
    total[ask.kind] += volume * fact.nodes.length;
    totals.set(ask.fluid, total);
  }
  return [...totals].map(([fluid, { drained, filled }]) => ({
    fluid,
    drained: tidy(drained),
    filled: tidy(filled),
    unaccounted: tidy(drained - filled),
    unit: 'L',
  }));
}

/** Adding tenths leaves dust: 0.1 + 0.2 is shown as 0.3. */
const tidy = (value: number): number => Math.round(value * 1e6) / 1e6;
