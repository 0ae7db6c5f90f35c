// Closing, cancelling and opening again, with the odometer at closing and what is still to come.
import type { JobEvent } from '../../../shared/event.ts';
import type { JobView } from '../../job/view.ts';
import type { Form } from '../card.ts';
import { ORDER } from '../cards/gather.ts';
import { type DistanceSaid, distanceWords } from '../orders/distance-said.ts';
import { mayDo } from '../roles.ts';
import { ended, list } from '../say.ts';
import { messagesOf, questionsOf } from '../turn/log.ts';
import { type Asker, asPerson, type Obeyed, only, says, shows } from '../turn/obeyed.ts';
import type { JobState, Moment } from '../turn/turn.ts';
import { followUpsOf } from './follow-ups.ts';

const CLOSING = ':closing';
const MOST_NEEDS = 12;

/** Whether the bot has asked for the odometer at closing and nobody has answered. */
export const closingAsked = (events: readonly JobEvent[]): string | undefined =>
  questionsOf(events).findLast((each) => each.state === 'open' && each.question.endsWith(CLOSING))
    ?.question;

/** A job opened with a reading, or with a follow-up by distance, is closed with one. */
export const wantsReading = (view: JobView): boolean =>
  view.opened.reading !== undefined ||
  view.plan.steps.some(
    (step) =>
      step.within?.km !== undefined &&
      view.steps.some((each) => each.step === step.id && each.state !== 'not-on-job'),
  );

/** The odometer last said in a message of the job. */
const readingSaid = (events: readonly JobEvent[]): DistanceSaid | undefined => {
  const acts = messagesOf(events)
    .filter((message) => !message.deleted)
    .flatMap((message) => message.acts);
  const said = acts.findLast((act) => act.command === 'odometer')?.quantity;
  return said ? { value: said.value, unit: said.unit as DistanceSaid['unit'] } : undefined;
};

export const closeForm = (view: JobView): Form | undefined =>
  wantsReading(view)
    ? {
        title: 'Close the job',
        submit: 'Close the job',
        fields: [
          {
            name: 'reading',
            label: 'Odometer or hours now',
            kind: 'text',
            required: false,
            hint: view.opened.reading
              ? `At opening ${distanceWords(view.opened.reading)}. Leave empty if it has none.`
              : '412350 km, 9120 h. Leave empty if it has none.',
          },
        ],
      }
    : undefined;

const refused = (view: JobView): Obeyed => {
  const items = view.closeNeeds.slice(0, MOST_NEEDS);
  const left = view.closeNeeds.length - items.length;
  const lines = left > 0 ? [...items, `and ${left} more`] : [...items];
  const text = `Job ${view.job} cannot be closed yet.`;
  return shows({
    text: ended(
      `${text} Still open: ${lines.map((line) => line.replace(/[.\s]+$/u, '')).join('; ')}`,
    ),
    blocks: [
      { kind: 'text', text: `${text} Still open:` },
      { kind: 'list', items: lines },
    ],
  });
};

const askReading = (view: JobView, asker: Asker, moment: Moment): Obeyed => {
  const asks = `What does the odometer or hour meter of ${view.opened.vehicle.name} say? Job ${view.job} is closed once it is typed, such as "${view.opened.reading?.unit === 'h' ? '9120 h' : '412350 km'}".`;
  return {
    events: [
      {
        id: `${asker.id}:asked:${asker.message}${CLOSING}`,
        at: moment.now,
        by: 'chargehand',
        kind: 'question-asked',
        question: `${asker.message}${CLOSING}`,
        message: asker.message,
        asks,
        about: 'other',
        choices: [],
      },
    ],
    pieces: [
      {
        order: ORDER.question,
        card: {
          text: asks,
          blocks: [{ kind: 'text', text: asks }],
          actions: [
            {
              label: 'Close without a reading',
              weight: 'plain',
              intent: { do: 'say', job: view.job, text: 'close job without reading' },
            },
          ],
        },
      },
    ],
  };
};

/** Closes the job, or says what is open, or asks for the odometer once. */
export const closeJob = (
  state: JobState,
  asker: Asker,
  moment: Moment,
  said: { readonly reading?: DistanceSaid | undefined; readonly without?: boolean } = {},
): Obeyed => {
  const { view } = state;
  if (view.status !== 'open') return only(`Job ${view.job} is ${view.status} already.`);
  const may = mayDo(asPerson(asker), 'close-job');
  if (!may.ok) return only(may.says);
  if (view.closeNeeds.length > 0) return refused(view);
  const reading = said.reading ?? readingSaid(state.events);
  const before = view.opened.reading;
  if (reading && before && reading.unit === before.unit && reading.value < before.value)
    return only(
      `${distanceWords(reading)} is less than the ${distanceWords(before)} at opening. Look again and type "close job at … ${before.unit}".`,
    );
  const asked = closingAsked(state.events);
  if (!reading && !said.without && wantsReading(view))
    return asked
      ? only(
          `Job ${view.job} still waits for the odometer. Type "close job at 412350 km", or "close job without reading".`,
        )
      : askReading(view, asker, moment);
  const later = followUpsOf(view);
  return {
    events: [
      ...(asked
        ? [
            {
              id: `${asker.id}:answer:${asked}`,
              at: moment.now,
              by: asker.by,
              kind: 'question-answered' as const,
              question: asked,
              choice: null,
              message: asker.message,
            },
          ]
        : []),
      {
        id: `${asker.id}:closed`,
        at: moment.now,
        by: asker.by,
        kind: 'job-closed',
        ...(reading ? { reading } : {}),
      },
    ],
    pieces: [
      says(
        `Job ${view.job} closed by ${asker.by}${reading ? ` at ${distanceWords(reading)}` : ''}. The record is complete.${
          later.length > 0
            ? ` Still to come: ${list(later.map((each) => each.says))}. It is remembered here; report it in this thread.`
            : ''
        }`,
      ),
    ],
  };
};

export const cancelJob = (
  view: JobView,
  reason: string | undefined,
  asker: Asker,
  moment: Moment,
): Obeyed => {
  const may = mayDo(asPerson(asker), 'cancel-job');
  if (!may.ok) return only(may.says);
  if (view.status !== 'open') return only(`Job ${view.job} is ${view.status} already.`);
  if (view.vehicleState.length > 0)
    return only(
      `Job ${view.job} cannot be cancelled while the vehicle is not safe: ${list(view.vehicleState.map((each) => each.title))}. Close the state first.`,
    );
  if (!reason) return only('Cancelling needs a reason. Type "cancel job because …".');
  return {
    events: [
      {
        id: `${asker.id}:cancelled`,
        at: moment.now,
        by: asker.by,
        kind: 'job-cancelled',
        reason,
      },
    ],
    pieces: [says(`Job ${view.job} cancelled by ${asker.by}: ${reason}.`)],
  };
};

export const reopenJob = (
  view: JobView,
  reason: string | undefined,
  asker: Asker,
  moment: Moment,
): Obeyed => {
  const may = mayDo(asPerson(asker), 'reopen-job');
  if (!may.ok) return only(may.says);
  if (view.status === 'open') return only(`Job ${view.job} is open.`);
  if (!reason) return only('Opening a job again needs a reason. Type "reopen job because …".');
  return {
    events: [
      { id: `${asker.id}:reopened`, at: moment.now, by: asker.by, kind: 'job-reopened', reason },
    ],
    pieces: [says(`Job ${view.job} is open again, by ${asker.by}: ${reason}.`)],
  };
};
