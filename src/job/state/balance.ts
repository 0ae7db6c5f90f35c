// Whether what was filled accounts for what was drained, once all that is to be filled is filled.

import type { Raised } from '../checks/check.ts';
import type { Fact } from '../facts/fact.ts';
import { fluidAsks, litres, near } from '../facts/measure.ts';
import { figure, titled, where, why } from '../words.ts';
import type { Job } from './job.ts';

/** The larger of the two is allowed between drained and filled where the plan says nothing: our own value, no source. */
const USUAL = { litres: 1, percent: 5 };

type Group = { readonly drains: readonly number[]; readonly fills: readonly number[] };

/** One finding for each fluid that does not balance, at each place by itself where it is drained and filled there. */
export function balance(job: Job): readonly Raised[] {
  return Object.keys(job.plan.fluids ?? {}).flatMap((fluid) =>
    groupsOf(job, fluid).flatMap((group) => flagOf(job, fluid, group) ?? []),
  );
}

function groupsOf(job: Job, fluid: string): readonly Group[] {
  const nodesOf = (kind: 'drained' | 'filled') =>
    job.graph.nodes.filter(
      ({ step, onJob }) =>
        onJob &&
        fluidAsks(job.plan.stepById.get(step)).some(
          (ask) => ask.fluid === fluid && ask.kind === kind,
        ),
    );
  const drains = nodesOf('drained');
  const fills = nodesOf('filled');
  if (drains.length === 0 || fills.length === 0) return [];
  const sets = new Set([...drains, ...fills].map(({ step }) => job.plan.stepById.get(step)?.each));
  const ids = (nodes: typeof drains): readonly number[] => nodes.map(({ id }) => id);
  if (sets.size > 1 || sets.has(undefined)) return [{ drains: ids(drains), fills: ids(fills) }];
  const places = [...new Set(drains.map(({ position }) => position))];
  return places.map((place) => ({
    drains: ids(drains.filter(({ position }) => position === place)),
    fills: ids(fills.filter(({ position }) => position === place)),
  }));
}

function flagOf(job: Job, fluid: string, { drains, fills }: Group): Raised | undefined {
  if (fills.length === 0 || !fills.every((node) => job.done.isDone(node))) return undefined;
  const drained = volumesOf(job, drains);
  const filled = volumesOf(job, fills);
  const last = filled.facts.at(-1);
  if (drained.total === 0 || last === undefined) return undefined;
  const tolerance = job.plan.fluids?.[fluid]?.tolerance ?? USUAL;
  const allowed = Math.max(tolerance.litres, (tolerance.percent / 100) * drained.total);
  const apart = Math.abs(drained.total - filled.total);
  if (apart <= allowed || near(apart, allowed)) return undefined;
  const [only, ...others] = fills;
  const { act, when, message } = last.report;
  const step = act.step ?? '';
  const position = others.length === 0 ? (job.graph.nodes[only ?? -1]?.position ?? null) : null;
  const litresOf = (value: number): string => figure({ value, unit: 'L' });
  const remedy =
    filled.total < drained.total
      ? 'Top up and report it, or say where the rest is.'
      : 'Check the level, and correct the figure that is wrong.';
  return {
    step,
    position,
    part: fluidAsks(job.plan.stepById.get(step)).length > 1 ? fluid : null,
    says: `Volume ${filled.total < drained.total ? 'short' : 'over'}: ${titled(job, step)}. ${litresOf(drained.total)} drained, ${litresOf(filled.total)} filled; they may differ by ${litresOf(allowed)}.${why(job, step)} ${where(job, position, when)} ${remedy}`,
    raisedBy: [message],
    coveredFrom: last.posted,
  };
}

function volumesOf(
  job: Job,
  nodes: readonly number[],
): { readonly total: number; readonly facts: readonly Fact[] } {
  const facts = nodes
    .flatMap((node) => job.done.runs(node).flatMap(({ cycle }) => cycle.facts))
    .filter(({ report }) => litres(report.act.quantity) !== undefined)
    .sort((a, b) => a.order - b.order);
  const total = facts.reduce((sum, { report }) => sum + (litres(report.act.quantity) ?? 0), 0);
  return { total: Math.round(total * 1e6) / 1e6, facts };
}
