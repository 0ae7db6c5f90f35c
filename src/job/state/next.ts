import type { Weight } from '../../../shared/plan.ts';
import type { JobView } from '../view.ts';
import type { Job } from './job.ts';

const GRAVITY: Readonly<Record<Weight, number>> = {
  'safety-critical': 0,
  'damage-critical': 1,
  routine: 2,
};
const MINUTE = 60_000;

/** Steps that may be done now: what they need is done and released, waited for, and no vehicle state forbids them. */
export function nextSteps(job: Job): JobView['next'] {
  const { plan, graph, done, holds, now } = job;
  const open = new Set(
    job.states.all.filter(({ until }) => until === undefined).map(({ state }) => state),
  );
  const others = (job.around.otherStates ?? []).map(({ state }) => state);
  const place = new Map(plan.steps.map((step, index) => [step.id, index]));
  return graph.nodes
    .filter(({ id, step: stepId, onJob }) => {
      const step = plan.stepById.get(stepId);
      if (!onJob || step === undefined || done.isDone(id)) return false;
      const forbidden =
        step['not-while']?.some(
          (state) => open.has(state) || others.some((other) => other.state === state),
        ) ||
        (step.is !== undefined &&
          ([...open].some((state) => plan.states?.[state]?.forbids?.includes(step.is ?? '')) ||
            others.some((other) => other.forbids.includes(step.is ?? ''))));
      if (forbidden) return false;
      const ready = graph
        .ancestors(id)
        .every(
          (other) => done.isDone(other) && (!holds.isHold(other) || holds.releasedAt(other, now)),
        );
      return ready && waited(job, id);
    })
    .map(({ step, position }) => ({ step, position }))
    .sort(
      (a, b) => gravity(job, a.step) - gravity(job, b.step) || index(place, a) - index(place, b),
    );
}

const gravity = (job: Job, step: string): number =>
  GRAVITY[job.plan.stepById.get(step)?.weight ?? 'routine'];

const index = (place: ReadonlyMap<string, number>, { step }: { readonly step: string }): number =>
  place.get(step) ?? 0;

function waited(job: Job, node: number): boolean {
  const step = job.plan.stepById.get(job.graph.nodes[node]?.step ?? '');
  return (step?.waits ?? []).every(({ after, minutes }) =>
    job.graph.beside(node, after).every((other) => {
      const since = job.done.latest(other)?.doneAt;
      return since === undefined || job.now - since >= minutes * MINUTE;
    }),
  );
}
