// Means: too little was drained before the system was opened, or what was filled does not account for what was drained.
// Why it matters: what is left in runs where it wrecks something; what is not put back runs something dry.
// What to do: drain the rest before going on; after filling, top up or say where the difference went.
// When it may be left: when the controller overrides it with a reason, such as a spill that was measured.
import type { Fact } from '../facts/fact.ts';
import { type FluidAsk, fluidAsks, inUnit, litres } from '../facts/measure.ts';
import { balance } from '../state/balance.ts';
import type { Job } from '../state/job.ts';
import type { Progress } from '../state/progress.ts';
import { figure, titled, where, why } from '../words.ts';
import type { Check, Raised } from './check.ts';
import { eachUse, type Use } from './order.ts';

export const volumeShort: Check = {
  rule: 'volume-short',
  run: (job) => [...tooLittleOut(job), ...balance(job)],
};

const leastOut = (job: Job, node: number): FluidAsk | undefined =>
  fluidAsks(job.plan.stepById.get(job.graph.nodes[node]?.step ?? '')).find(
    (ask) => ask.kind === 'drained' && ask.min !== undefined,
  );

function tooLittleOut(job: Job): readonly Raised[] {
  const least = new Map<number, FluidAsk>();
  for (const { id, onJob } of job.graph.nodes) {
    const ask = leastOut(job, id);
    if (onJob && ask !== undefined) least.set(id, ask);
  }
  if (least.size === 0) return [];
  const raises = new Map<number, Use>();
  eachUse(job, (use) => {
    let fine = true;
    for (const node of job.graph.ancestors(use.node)) {
      const ask = least.get(node);
      const run = ask && job.done.doneAt(node, use.fact.when);
      if (ask === undefined) continue;
      if (run === undefined) {
        // Not drained yet by then: a later report of the same step has to be looked at again.
        fine = false;
        continue;
      }
      const { known } = drainedBefore(run, use.fact);
      if (total(known, ask) >= (ask.min ?? 0)) continue;
      fine = false;
      if (!raises.has(node)) raises.set(node, use);
    }
    return fine;
  });
  return [...raises].flatMap(([node, use]) => {
    const ask = least.get(node);
    return ask === undefined ? [] : flagOf(job, node, ask, use);
  });
}

/**
 * The volumes drained before a report, and those of them that were known when it was posted. A figure told later for
 * what had been said to be drained belongs to that: without any figure the step itself is what is missing.
 */
function drainedBefore(
  run: Progress,
  fact: Fact,
): { readonly known: readonly Fact[]; readonly inTime: readonly Fact[] } {
  const volumes = run.cycle.facts.filter(({ report }) => litres(report.act.quantity) !== undefined);
  const inTime = volumes.filter(({ when }) => when <= fact.when);
  const known = inTime.filter(({ order }) => order < fact.order);
  const [first] = [...volumes].sort((a, b) => a.order - b.order);
  if (known.length > 0 || first === undefined) return { known, inTime };
  return { known: [first], inTime: [...new Set([first, ...inTime])] };
}

const total = (facts: readonly Fact[], ask: FluidAsk): number =>
  facts.reduce((sum, { report: { act } }) => {
    const volume = act.quantity && inUnit(act.quantity.value, act.quantity.unit, ask.unit ?? 'L');
    return sum + (volume ?? 0);
  }, 0);

function flagOf(job: Job, node: number, ask: FluidAsk, { fact }: Use): readonly Raised[] {
  const { step = '', position = null } = job.graph.nodes[node] ?? {};
  const run = job.done.doneAt(node, fact.when);
  if (run === undefined) return [];
  const unit = ask.unit ?? 'L';
  const { known, inTime } = drainedBefore(run, fact);
  const later = run.cycle.facts
    .filter(({ report }) => litres(report.act.quantity) !== undefined)
    .at(-1);
  const enough = (facts: readonly Fact[]): boolean => total(facts, ask) >= (ask.min ?? 0);
  const out = figure({ value: total(known, ask), unit });
  const source = ask.source ?? job.plan.stepById.get(step)?.source ?? job.plan.source ?? 'the plan';
  const part = fluidAsks(job.plan.stepById.get(step)).length > 1 ? ask.fluid : null;
  return [
    {
      step,
      position,
      part,
      says: `Volume short: ${titled(job, step)}. ${out} drained before ${titled(job, fact.report.act.step ?? '')}, at least ${figure({ value: ask.min ?? 0, unit })} expected (${source}).${why(job, step)} ${where(job, position, fact.report.when)} Stop, drain the rest and report it, or correct the figure.`,
      raisedBy: [fact.report.message],
      coveredFrom: fact.posted,
      ...(enough(run.cycle.facts) &&
        later !== undefined && {
          cleared: {
            by: [later.report.message],
            how: enough(inTime) ? ('withdrawn' as const) : ('settled' as const),
          },
        }),
    },
  ];
}
