// What differs between two texts of a plan, in sentences for the controller who moves a job from one to the other.
import type { Step } from '../../../shared/plan.ts';
import type { Plan } from '../../job/plan.ts';

const MOST = 20;

/** Matters of a step as people call them, with the keys of the plan file that say them. */
const MATTERS: readonly (readonly [says: string, keys: readonly (keyof Step)[]])[] = [
  ['the title', ['title']],
  ['the phase', ['phase']],
  ['the weight', ['weight', 'raise']],
  ['the order', ['after', 'each', 'option']],
  ['what is reported', ['report', 'renew', 'paint-mark']],
  ['the hold point', ['hold']],
  ['the independent check', ['check']],
  ['vehicle states', ['opens', 'closes', 'not-while', 'is']],
  ['what it undoes', ['undoes']],
  ['waiting times', ['waits', 'within']],
  ['competences', ['competence']],
  ['the times', ['time']],
  ['words and notes', ['words', 'also', 'why', 'caution', 'source']],
];

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/** One sentence for each step that is new, gone or changed; empty where both say the same of every step. */
export const planChanges = (from: Plan, to: Plan): readonly string[] => {
  const changes = [
    ...to.steps
      .filter(({ id }) => !from.stepById.has(id))
      .map(({ title }) => `New step: ${title}.`),
    ...from.steps.filter(({ id }) => !to.stepById.has(id)).map(({ title }) => `Gone: ${title}.`),
    ...to.steps.flatMap((step) => {
      const old = from.stepById.get(step.id);
      if (!old) return [];
      const matters = MATTERS.filter(([, keys]) => keys.some((key) => !same(old[key], step[key])));
      return matters.length > 0
        ? [`Changed: ${old.title}: ${matters.map(([says]) => says).join(', ')}.`]
        : [];
    }),
    ...(same(from.states, to.states) ? [] : ['Changed: the vehicle states.']),
    ...(same(from.positions, to.positions) ? [] : ['Changed: the positions.']),
  ];
  const left = changes.length - MOST;
  return left > 0 ? [...changes.slice(0, MOST), `And ${left} more.`] : changes;
};
