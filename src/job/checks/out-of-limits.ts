// Means: a figure was reported that lies outside the range the plan gives for it. The ends of a range are allowed.
// Why it matters: a figure out of range is either a wrong reading or a fault that goes back on the road.
// What to do: measure again; correct the report if it was misread, else put the cause right and report it again.
// When it may be left: when the controller accepts the figure with a reason, against the maker's current data.
import type { FigureRecord } from '../state/asks/ask-state.ts';
import type { Job } from '../state/job.ts';
import type { Progress } from '../state/progress.ts';
import { expected, figure, titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

type Outside = { readonly figure: FigureRecord; readonly run: Progress };

export const outOfLimits: Check = {
  rule: 'out-of-limits',
  run: (job) =>
    job.graph.nodes.flatMap(({ id }) => {
      const runs = job.done.runs(id);
      const outside = new Map<string | null, Outside[]>();
      for (const run of runs) {
        for (const record of [...run.figures, ...beyondLast(job, id, run)]) {
          if (record.within !== false) continue;
          const list = outside.get(record.part) ?? [];
          outside.set(record.part, [...list, { figure: record, run }]);
        }
      }
      return [...outside].flatMap(([part, list]) => flagOf(job, id, part, list) ?? []);
    }),
};

/** A stage that the plan does not have was reported. */
function beyondLast(job: Job, node: number, run: Progress): readonly FigureRecord[] {
  const step = job.plan.stepById.get(job.graph.nodes[node]?.step ?? '');
  const ask = step?.report?.find((one) => one.kind === 'tightening' || one.kind === 'loosening');
  if (ask === undefined || !('stages' in ask)) return [];
  return (run.stages?.records ?? [])
    .filter(({ stage }) => stage > ask.stages.length)
    .map(({ stage, fact }) => ({
      of: 'stage',
      part: String(stage),
      quantity: { value: stage, unit: 'count' },
      facts: [fact],
      limit: {
        min: 1,
        max: ask.stages.length,
        unit: 'count',
        source: ask.source ?? step?.source ?? job.plan.source ?? 'the plan',
      },
      within: false,
      assumed: false,
    }));
}

function flagOf(
  job: Job,
  node: number,
  part: string | null,
  outside: readonly Outside[],
): Raised | undefined {
  const { step = '', position = null } = job.graph.nodes[node] ?? {};
  const runs = job.done.runs(node);
  const redoneBy = ({ run }: Outside) => runs[runs.indexOf(run) + 1]?.cycle.begunBy;
  const standing = outside.filter((one) => redoneBy(one) === undefined);
  const shown = standing.at(-1) ?? outside[0];
  const fact = shown?.figure.facts.at(-1);
  const limit = shown?.figure.limit;
  if (shown === undefined || fact === undefined || limit === undefined) return undefined;
  const { of, quantity, facts } = shown.figure;
  const sum = facts.length > 1 ? ' in all' : '';
  const again = redoneBy(shown);
  return {
    step,
    position,
    part,
    says: `Out of limits: ${titled(job, step)}, ${of}. ${figure(quantity)} reported${sum}, ${expected(limit)} expected (${limit.source}). ${where(job, position, fact.report.when)} Measure it again and correct the report, or put it right and report it again.`,
    raisedBy: [fact.report.message],
    coveredFrom: fact.posted,
    ...(standing.length === 0 &&
      again !== undefined && { cleared: { by: [again.report.message], how: 'settled' as const } }),
  };
}
