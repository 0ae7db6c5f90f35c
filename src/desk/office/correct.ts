// A job opened with the wrong plan, an older text of it, or the wrong vehicle: a controller puts it right in the open.
import type { JobEvent } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import type { Plan } from '../../job/plan.ts';
import { parseOpening, planMeant } from '../opening/parse-opening.ts';
import { mayDo } from '../roles.ts';
import { list } from '../say.ts';
import { checkJob } from '../turn/check-job.ts';
import { messagesOf } from '../turn/log.ts';
import { type Asker, asPerson, type Obeyed, only, says } from '../turn/obeyed.ts';
import { readingOf } from '../turn/reading-of.ts';
import type { JobState, Moment } from '../turn/turn.ts';
import { planChanges } from './plan-changes.ts';

/** Messages read anew by another plan; of the same plan only those that name a step it no longer has. */
const readByPlan = (
  state: JobState,
  moved: JobEvent,
  plan: Plan,
  asker: Asker,
  moment: Moment,
): readonly JobEvent[] => {
  const events = [...state.events, moved];
  const view = checkJob(plan, events, moment.now, moment.around);
  const other = plan.plan !== state.view.plan.plan;
  const fresh: JobEvent[] = [];
  for (const message of messagesOf(events)) {
    const gone = message.acts.some(
      ({ step }) => step !== undefined && !plan.stepById.has(step) && !plan.watchedById.has(step),
    );
    if (message.deleted || message.message === asker.message || !(other || gone)) continue;
    const read = readingOf(
      [...events, ...fresh],
      view,
      message,
      moment.workshop,
      moment.jobNumbers,
    );
    if (JSON.stringify(read.acts) === JSON.stringify(message.acts)) continue;
    fresh.push({
      id: `${asker.id}:plan:${message.message}`,
      at: moment.now,
      by: 'chargehand',
      kind: 'message-read',
      message: message.message,
      revision: message.revision,
      pass: message.pass + 1,
      acts: [...read.acts],
      relied: [...read.relied],
    });
  }
  return fresh;
};

const movePlan = (state: JobState, plan: Plan, asker: Asker, moment: Moment): Obeyed => {
  const { view } = state;
  const other = plan.plan !== view.plan.plan;
  const changes = other
    ? [`Another plan: ${plan.title}, before ${view.plan.title}.`]
    : planChanges(view.plan, plan);
  const listed = changes.length > 0 ? changes : ['No step changed, only the wording of the plan.'];
  const moved: JobEvent = {
    id: `${asker.id}:plan-moved`,
    at: moment.now,
    by: asker.by,
    kind: 'plan-moved',
    plan: { id: plan.plan, title: plan.title, hash: plan.hash, text: plan.text },
    changes: [...listed],
  };
  const again = readByPlan(state, moved, plan, asker, moment);
  return {
    events: [moved, ...again],
    plan,
    pieces: [
      says(
        `Job ${view.job} goes by ${other ? `the plan "${plan.title}"` : 'the current text of its plan'} now, by ${asker.by}. ${listed.join(' ')}${
          again.length > 0
            ? ` Read again by it: ${again.length} ${again.length === 1 ? 'message' : 'messages'}.`
            : ''
        }`,
      ),
    ],
  };
};

/** "move to the new plan": the plan of the same name as it stands now. */
export const toNewPlan = (state: JobState, asker: Asker, moment: Moment): Obeyed => {
  const { view } = state;
  const may = mayDo(asPerson(asker), 'correct-job');
  if (!may.ok) return only(may.says);
  const plan = moment.workshop.plans.get(view.plan.plan);
  if (!plan)
    return only(
      `There is no plan "${view.plan.plan}" any more. The job keeps the text it was opened with.`,
    );
  if (plan.hash === view.plan.hash)
    return only(`Job ${view.job} goes by the current text of "${plan.title}" already.`);
  return movePlan(state, plan, asker, moment);
};

/** "wrong plan, should be hub bearing" */
export const toOtherPlan = (state: JobState, act: Act, asker: Asker, moment: Moment): Obeyed => {
  const { view } = state;
  const may = mayDo(asPerson(asker), 'correct-job');
  if (!may.ok) return only(may.says);
  const plan = planMeant(act.note ?? '', moment.workshop.plans.values());
  if (!plan)
    return only(
      `Say which plan it is: ${list([...moment.workshop.plans.values()].map((each) => each.title))}.`,
    );
  if (plan.plan === view.plan.plan) return only(`Job ${view.job} goes by "${plan.title}" already.`);
  if (view.vehicleState.length > 0)
    return only(
      `Another plan would lose sight of the vehicle: ${list(view.vehicleState.map((each) => each.title))}. Close that first, or cancel this job and open another.`,
    );
  return movePlan(state, plan, asker, moment);
};

/** "wrong vehicle, it is bus 18" */
export const toOtherVehicle = (state: JobState, act: Act, asker: Asker, moment: Moment): Obeyed => {
  const { view } = state;
  const may = mayDo(asPerson(asker), 'correct-job');
  if (!may.ok) return only(may.says);
  const { vehicle, vin } = parseOpening(act.note ?? '', moment.workshop, moment.now);
  if (!vehicle) return only('Say which vehicle it is: "wrong vehicle, it is bus 18".');
  const before = view.opened.vehicle.name;
  if (vehicle === before) return only(`Job ${view.job} is for ${vehicle} already.`);
  return {
    events: [
      {
        id: `${asker.id}:corrected`,
        at: moment.now,
        by: asker.by,
        kind: 'job-corrected',
        vehicle: { name: vehicle, ...(vin ? { vin } : {}) },
        reason: asker.text.slice(0, 500),
      },
    ],
    pieces: [
      says(
        `Job ${view.job} is for ${vehicle}, not ${before}, by ${asker.by}. Look whether what is on record was done to ${vehicle}.`,
      ),
    ],
  };
};
