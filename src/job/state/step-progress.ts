import type { Figure, StepProgress } from '../view.ts';
import type { Job } from './job.ts';
import type { Progress } from './progress.ts';

/** How far each step is at each of its positions, in the order of the plan. */
export function stepProgress(job: Job): readonly StepProgress[] {
  return job.graph.nodes.map(({ id, step, position, onJob }) => {
    const runs = job.done.runs(id);
    const run = runs.at(-1);
    const since = run?.cycle.facts[0] ?? run?.cycle.begunBy;
    const state =
      run?.state === 'open' ? (run.cycle.dueAgain ? 'due-again' : 'open') : (run?.state ?? 'open');
    const by = state === 'done' ? run?.claim : since;
    return {
      step,
      position,
      state: onJob ? state : 'not-on-job',
      at: atOf(run, by?.report.when ?? null),
      by: run?.state === 'open' ? null : (by?.report.worker ?? null),
      messages: [...new Set(run?.cycle.facts.map(({ report }) => report.message) ?? [])],
      stages: run?.stages?.done ?? [],
      figures: run?.figures.map(figureOf) ?? [],
      missing: run === undefined || !onJob ? [] : [...run.missing, ...run.alsoMissing],
      assumed: run?.assumed ?? [],
    };
  });
}

/** The time, as it was written, of the report that made a step done. */
function atOf(run: Progress | undefined, otherwise: string | null): string | null {
  if (run?.doneAt === undefined) return otherwise;
  const last = run.cycle.facts.find(({ when }) => when === run.doneAt);
  return last?.report.when ?? otherwise;
}

const figureOf = ({
  of,
  quantity,
  facts,
  limit,
  within,
  assumed,
}: Progress['figures'][number]): Figure => ({
  of,
  quantity,
  message: facts.at(-1)?.report.message ?? '',
  ...(limit && { limit }),
  ...(within !== undefined && { within }),
  assumed,
});
