import type { Fact } from '../../facts/fact.ts';
import type { StepNode } from '../graph.ts';
import type { Job } from '../job.ts';
import type { CodeAsk } from './others.ts';

/** A component code on record at one place. */
export type CodeAt = {
  readonly ask: CodeAsk;
  readonly node: StepNode;
  readonly fact: Fact;
  readonly code: string;
  /** Whether it is the code that holds at its place: the last one that is not in dispute. */
  readonly newest: boolean;
};

/** Every component code of the latest run of each step, in the order of the plan. */
export function codesAt(job: Job): readonly CodeAt[] {
  return job.graph.nodes.flatMap((node) => {
    const step = job.plan.stepById.get(node.step);
    const ask = step?.report?.find((one): one is CodeAsk => one.kind === 'code');
    if (ask === undefined) return [];
    const coded = (job.done.latest(node.id)?.cycle.facts ?? []).filter(
      ({ report }) => report.act.code !== undefined,
    );
    const holds = coded.findLast(({ disputes }) => disputes === undefined);
    return coded.map((fact) => ({
      ask,
      node,
      fact,
      code: fact.report.act.code ?? '',
      newest: fact === holds,
    }));
  });
}
