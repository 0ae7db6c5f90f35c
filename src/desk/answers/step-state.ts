// "Is the battery isolated", "can I start the engine": what is on record of a step, and what stands in its way.
import type { Act } from '../../../shared/reading.ts';
import type { Around, JobView, StepProgress } from '../../job/view.ts';
import type { Card } from '../card.ts';
import { freeNext, isOut, limitsOutWords } from '../out-of-limits.ts';
import { clockTime, ended, list, positionsTogether, stepTitle } from '../say.ts';
import { missingBefore } from '../turn/warn-ahead.ts';
import { vehicleNow } from './where.ts';

const STANDS =
  /^(?:so\s+|and\s+|ok\s+|hey\s+)?(?:is|are|was|were|has|have|had|did|does|do we have|who|ist|sind|wurde|wurden|hat|haben|wer)\b/iu;
const MAY =
  /^(?:so\s+|and\s+|ok\s+)?(?:can|may|could|shall|should|am i|are we|is it (?:ok|okay|safe|all right|alright|clear)|kann|darf|soll)\b/iu;

/** How a step is asked about: whether it is done, or whether it may be done; undefined for how, where and why. */
export const askedHow = (text: string): 'stands' | 'may' | undefined => {
  const plain = text.trim();
  if (MAY.test(plain)) return 'may';
  return STANDS.test(plain) ? 'stands' : undefined;
};

const CAREFUL = 'This is what was reported: look at the vehicle before you rely on it.';

const stateOf = (
  view: JobView,
  step: StepProgress,
  now: string,
  zone: string,
): readonly [words: string, order: number] => {
  const who = step.by ? ` by ${step.by}` : '';
  const when = step.at ? `, ${clockTime(step.at, now, zone)}` : '';
  if (step.state === 'done' && isOut(view, step))
    return [`reported${who}${when}, but outside its limits`, 1];
  switch (step.state) {
    case 'done':
      return [`done${who}${when}`, 4];
    case 'partial':
      return [
        `partly done${who}${when}${step.missing.length > 0 ? `, still to report: ${list(step.missing)}` : ''}`,
        2,
      ];
    case 'started':
      return [`started${who}${when}, not finished`, 3];
    case 'due-again':
      return ['to be done again: later work undid it', 1];
    default:
      return ['no record of it on this job', 0];
  }
};

/** The step's record in words; positions that stand alike are told together, what is missing first. */
const recordWords = (
  view: JobView,
  steps: readonly StepProgress[],
  now: string,
  zone: string,
): string => {
  const told = new Map<string, { order: number; at: string[] }>();
  for (const step of steps) {
    const [words, order] = stateOf(view, step, now, zone);
    const known = told.get(words) ?? { order, at: [] };
    if (step.position !== null) known.at.push(step.position);
    told.set(words, known);
  }
  return [...told]
    .sort(([, a], [, b]) => a.order - b.order)
    .map(([words, { at }]) => (at.length > 0 ? `${positionsTogether(at)}: ${words}` : words))
    .join('; ');
};

/** A state that the step opened and that is over by now: isolated in the morning, connected again since. */
const overWords = (view: JobView, step: string): string | undefined => {
  const opens = view.plan.stepById.get(step)?.opens ?? [];
  const over = opens.filter((state) => !view.vehicleState.some((open) => open.state === state));
  const titles = over.map((state) => view.plan.states?.[state]?.title ?? state);
  return titles.length > 0
    ? `"${titles.join('" and "')}" is over since: later work was reported that ends it.`
    : undefined;
};

const mayWords = (view: JobView, step: string, positions: readonly string[], around: Around) => {
  const own = view.plan.stepById.get(step) ?? view.plan.watchedById.get(step);
  const states = [
    ...view.vehicleState,
    ...(around.otherStates ?? []).map(({ state }) => state),
  ].filter(
    (state) =>
      own?.['not-while']?.includes(state.state) ||
      (own?.is !== undefined && state.forbids.includes(own.is)),
  );
  const missing = missingBefore(view, step, positions);
  const holds = view.holds.filter(
    (hold) => hold.state !== 'released' && view.plan.before.get(step)?.has(hold.step),
  );
  const waiting = holds.filter(({ state }) => state === 'waits' || state === 'refused');
  const out = limitsOutWords(view);
  const why = [
    ...states.map((state) => ended(`${state.title}${state.means ? `: ${state.means}` : ''}`)),
    ...(missing.length > 0
      ? [
          ended(
            `No record yet of ${list(
              missing.map((id) => `"${stepTitle(view, id)}"`),
              4,
            )}`,
          ),
        ]
      : []),
    ...(waiting.length > 0
      ? [ended(`Not released: ${list(waiting.map((hold) => `"${stepTitle(view, hold.step)}"`))}`)]
      : []),
    ...(out.length > 0 ? [ended(`Put right first: ${out.join('; ')}`)] : []),
  ];
  if (why.length > 0) return `Not now: "${stepTitle(view, step)}". ${why.join(' ')}`;
  const free = freeNext(view).some((next) => next.step === step);
  const watched = view.plan.watchedById.has(step);
  return free || watched
    ? `Nothing on record stands in the way of "${stepTitle(view, step)}".`
    : `"${stepTitle(view, step)}" is not next in the plan yet, though nothing on record forbids it. Ask "what's next".`;
};

/** @returns undefined where the step is none of this job, or the question is another one */
export const stepStateCard = (
  view: JobView,
  act: Pick<Act, 'step' | 'positions'>,
  text: string,
  now: string,
  zone: string,
  around: Around = {},
): Card | undefined => {
  const { step } = act;
  const how = askedHow(text);
  if (step === undefined || how === undefined) return undefined;
  const critical = view.plan.stepById.get(step)?.weight === 'safety-critical';
  const steps = view.steps.filter(
    (each) =>
      each.step === step &&
      each.state !== 'not-on-job' &&
      (act.positions.length === 0 ||
        each.position === null ||
        act.positions.includes(each.position)),
  );
  if (steps.length === 0 && !view.plan.watchedById.has(step)) return undefined;
  if (steps.length === 0 && how === 'stands') return undefined;
  const done = steps.some(({ state }) => state === 'done');
  const over = done ? overWords(view, step) : undefined;
  const first =
    how === 'may' && !(done && steps.every(({ state }) => state === 'done'))
      ? mayWords(view, step, act.positions, around)
      : ended(`"${stepTitle(view, step)}": ${recordWords(view, steps, now, zone)}`);
  const says = [
    first,
    ...(over ? [over] : []),
    ended(`Vehicle now: ${vehicleNow(view, around)}`),
    ...(critical || how === 'may' ? [CAREFUL] : []),
  ];
  return {
    text: says.join(' '),
    blocks: says.map((each) => ({ kind: 'text', text: each })),
  };
};
