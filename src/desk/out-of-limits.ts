// Limits that stand out: what they rest on is not right yet, so nothing that needs it is offered as the next step.
import type { JobView } from '../job/view.ts';
import { stepAt } from './say.ts';

type Place = { readonly step: string; readonly position: string | null };

/** Flags of figures outside their limits that still stand. */
export const limitsOut = (view: JobView) =>
  view.flags.filter(
    (flag) => flag.rule === 'out-of-limits' && !flag.clearedBy && flag.step !== null,
  );

/** Whether a figure of the step stands outside its limits. */
export const isOut = (view: JobView, { step, position }: Place): boolean =>
  limitsOut(view).some(
    (flag) =>
      flag.step === step &&
      (flag.position === null || position === null || flag.position === position),
  );

/** Steps that are free to start and rest on no figure that stands outside its limits. */
export const freeNext = (view: JobView): JobView['next'] => {
  const out = limitsOut(view);
  if (out.length === 0) return view.next;
  return view.next.filter(({ step, position }) => {
    const before = view.plan.before.get(step);
    const set = view.plan.stepById.get(step)?.each;
    return !out.some(
      (flag) =>
        flag.step !== null &&
        before?.has(flag.step) &&
        (flag.position === null ||
          position === null ||
          flag.position === position ||
          view.plan.stepById.get(flag.step)?.each !== set),
    );
  });
};

/** "60 °C reported, at most 45 °C expected", of a flag's text. */
const figureOf = (says: string): string | undefined =>
  /\.\s+([^.]*(?:\.\d[^.]*)*? reported.*? expected)/su.exec(says)?.[1];

/** What is to be put right, one phrase each: `"Let the engine cool down": 60 °C reported, at most 45 °C expected`. */
export const limitsOutWords = (view: JobView): readonly string[] =>
  limitsOut(view).map((flag) => {
    const name = `"${stepAt(view, flag.step ?? '', flag.position)}"`;
    const figure = figureOf(flag.says);
    return figure ? `${name}: ${figure}` : `${name}: outside its limits`;
  });

/** Of these, what keeps the vehicle from being safe to work on: limits of the first phase. */
export const unsafeLimits = (view: JobView): readonly string[] => {
  const safe = new Set(
    view.plan.steps.filter(({ phase }) => phase === 'make safe').map(({ id }) => id),
  );
  const flags = limitsOut(view);
  return limitsOutWords(view)
    .filter((_, index) => safe.has(flags[index]?.step ?? ''))
    .map((words) => `not safe yet, ${words}`);
};
