// Fluids drained against filled, valve clearances, and single-use parts that must be new.
import type { Ask } from '../../../shared/plan.ts';
import type { JobRecord, RecordClearance, RecordFluid } from '../../../shared/record.ts';
import { USUAL_BALANCE_TOLERANCE } from '../../trade/coolant/balance.ts';
import { reportsOn, type Sources, seenIn } from './sources.ts';

type ClearanceAsk = Extract<Ask, { kind: 'clearance' }>;

/** The larger of the plan's litres and per cent of what was drained is allowed between the two. */
export const recordFluids = ({ view }: Sources): readonly RecordFluid[] =>
  view.fluids
    .filter(({ drained, filled }) => drained > 0 || filled > 0)
    .map((total) => {
      const fluid = view.plan.fluids?.[total.fluid];
      const { litres, percent } = fluid?.tolerance ?? USUAL_BALANCE_TOLERANCE;
      const allowed = Math.max(litres, (percent * total.drained) / 100);
      const both = total.drained > 0 && total.filled > 0;
      return {
        ...total,
        title: fluid?.title ?? total.fluid,
        allowed,
        balanced: both ? Math.abs(total.unaccounted) <= allowed + 1e-9 : null,
      };
    });

export const recordClearances = (sources: Sources): readonly RecordClearance[] =>
  sources.view.steps.flatMap(({ step, position, figures }) => {
    const ask = sources.view.plan.stepById
      .get(step)
      ?.report?.find((one): one is ClearanceAsk => one.kind === 'clearance');
    if (!ask) return [];
    return ask.valves.flatMap(({ valve, target, min, max }) =>
      figures
        .filter(({ of }) => of === `${valve} clearance`)
        .map(({ quantity, limit, within, message }) => ({
          step,
          title: sources.titleOf(step),
          position,
          ...seenIn(sources, message, step, position),
          valve,
          measured: quantity,
          target,
          min,
          max,
          unit: ask.unit ?? 'mm',
          source: limit?.source ?? '',
          within: within ?? null,
          message,
        })),
    );
  });

/** Parts the plan wants new, at the steps that were touched. */
export const recordParts = (sources: Sources): JobRecord['parts'] =>
  sources.view.steps.flatMap((progress) => {
    const { step, position, state } = progress;
    const renew = sources.view.plan.stepById.get(step)?.renew ?? [];
    if (state === 'not-on-job' || progress.messages.length === 0) return [];
    const reports = reportsOn(sources, progress, progress.messages);
    return renew.map(({ part, count }) => {
      // "All new" without a part named says it of every part of the step.
      const said = reports.find(
        ({ act: { renewed } }) =>
          renewed !== undefined &&
          (renewed.length === 0 || renewed.some((one) => one.toLowerCase() === part.toLowerCase())),
      );
      return {
        step,
        title: sources.titleOf(step),
        position,
        part,
        count: count ?? null,
        saidNew: said ? { at: said.when, by: said.worker, message: said.message } : null,
      };
    });
  });
