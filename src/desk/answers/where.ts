// "Where are we": the job in one message, vehicle state first.
import type { Around, JobView } from '../../job/view.ts';
import type { Card } from '../card.ts';
import { freeNext, isOut, limitsOutWords, unsafeLimits } from '../out-of-limits.ts';
import {
  bareSentence,
  clockTime,
  duration,
  list,
  positionsTogether,
  rowsSaid,
  stepsGathered,
} from '../say.ts';
import { namesAround, waitsOf } from '../waits.ts';

const lowered = (sentence: string): string => {
  const bare = sentence.replace(/[.\s]+$/u, '');
  return /^[A-Z][a-z]/u.test(bare) ? `${bare.charAt(0).toLowerCase()}${bare.slice(1)}` : bare;
};

const stateWords = (state: JobView['vehicleState'][number], job?: string): string => {
  const at = state.positions.length > 0 ? ` (${positionsTogether(state.positions)})` : '';
  const from = job === undefined ? '' : ` (job ${job})`;
  const what = `${state.title}${at}${from}`;
  return state.means ? `${what}: ${lowered(state.means)}` : what;
};

/**
 * Vehicle states in words, with what follows for people: "Coolant out: do not start the engine". Those that other open
 * jobs on the vehicle opened are named with their job. A limit of making safe that stands out is one too: a hot engine.
 */
export const vehicleStateWords = (view: JobView, around: Around = {}): readonly string[] => [
  ...view.vehicleState.map((state) => stateWords(state)),
  ...(around.otherStates ?? []).map(({ job, state }) => stateWords(state, job)),
  ...unsafeLimits(view),
];

/** "Vehicle now: …", the line that stands first wherever somebody may put a hand to the vehicle. */
export const vehicleNow = (view: JobView, around: Around = {}): string => {
  const states = vehicleStateWords(view, around);
  return states.length > 0 ? states.join('; ') : 'nothing open, as far as reported';
};

/** Steps done of all on the job; one whose figure stands outside its limits is not done yet. */
export const progressOf = (view: JobView): { readonly done: number; readonly total: number } => {
  const counted = view.steps.filter((step) => step.state !== 'not-on-job');
  const done = counted.filter((step) => step.state === 'done' && !isOut(view, step));
  return { done: done.length, total: counted.length };
};

/** The phase in which work can go on now: that of the first step that is free to start; null when all are done. */
export const phaseOf = (view: JobView): JobView['plan']['steps'][number]['phase'] | null => {
  const isOpen = (id: string): boolean =>
    view.steps.some(({ step, state }) => step === id && state !== 'done' && state !== 'not-on-job');
  const free = new Set(view.next.map(({ step }) => step));
  const ahead =
    view.plan.steps.find(({ id }) => free.has(id)) ?? view.plan.steps.find(({ id }) => isOpen(id));
  return ahead?.phase ?? null;
};

/** Flags that stand; that a job was not closed yet was answered when it was tried, and is no flag of the work. */
export const flagsStanding = (view: JobView) =>
  view.flags.filter(
    (flag) => !flag.clearedBy && flag.level !== 'advice' && flag.rule !== 'early-close',
  );

/**
 * @param now ISO
 * @param zone of the workshop
 * @param around for the states of other jobs on the vehicle
 * @param hours whether the asker may see hours
 */
export const whereCard = (
  view: JobView,
  now: string,
  zone: string,
  around: Around = {},
  hours = false,
): Card => {
  const { done, total } = progressOf(view);
  const phase = phaseOf(view);
  const inHand = view.steps.filter((step) => step.state === 'started' || step.state === 'partial');
  const again = view.steps.filter((step) => step.state === 'due-again');
  const waits = waitsOf(view, now, zone, namesAround(around));
  const flags = flagsStanding(view);
  const rows: (readonly [string, string])[] = [
    ['Vehicle now', vehicleNow(view, around)],
    ['Progress', `${done} of ${total}${phase ? `, in "${phase}"` : ', all done'}`],
  ];
  if (inHand.length > 0) rows.push(['In hand', list(stepsGathered(view, inHand), 5)]);
  if (again.length > 0) rows.push(['To do again', list(stepsGathered(view, again), 5)]);
  if (flags.length > 0)
    rows.push([
      'Flags open',
      list(
        flags.map((flag) => bareSentence(flag.says)),
        4,
      ),
    ]);
  if (waits.length > 0) rows.push(['Waits for', list(waits, 4)]);
  const next = freeNext(view);
  const out = limitsOutWords(view);
  if (out.length > 0) rows.push(['Put right first', out.join('; ')]);
  if (next.length > 0) rows.push(['Next', list(stepsGathered(view, next), 3)]);
  if (hours && view.minutesBooked > 0) rows.push(['Booked', duration(view.minutesBooked)]);
  if (view.technician) rows.push(['With', view.technician]);
  if (view.promised) rows.push(['Promised', clockTime(view.promised, now, zone)]);
  const title = `Job ${view.job}, ${view.opened.vehicle.name}: ${view.plan.title}`;
  return {
    title,
    text: `${title}. ${rowsSaid(rows)}`,
    blocks: [{ kind: 'facts', rows }],
  };
};
