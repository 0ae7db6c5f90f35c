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
  const known = new Map<number, boolean>();
  // Whether all that comes before a node is done and released, through those that are not on the job.
  const ready = (node: number): boolean => {
    const found = known.get(node);
    if (found !== undefined) return found;
    const over = graph.direct(node).every((other) => {
      const passed = done.isDone(other) && (!holds.isHold(other) || holds.releasedAt(other, now));
      return (passed || graph.nodes[other]?.onJob === false) && ready(other);
    });
    known.set(node, over);
    return over;
  };
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
      return ready(id) && waited(job, id);
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
