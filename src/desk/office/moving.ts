// A message under the wrong job: moved to the right one and read again there. A doubled job: all its messages moved.
import type { JobEvent, JobEventOf } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import type { JobView } from '../../job/view.ts';
import { ORDER } from '../cards/gather.ts';
import { mayDo, mayMove } from '../roles.ts';
import { questionsFor } from '../turn/ask.ts';
import { checkJob } from '../turn/check-job.ts';
import { conclude } from '../turn/conclude.ts';
import { type LoggedMessage, messagesOf } from '../turn/log.ts';
import { type Asker, asPerson, type Obeyed, only, says } from '../turn/obeyed.ts';
import { readAgain, readingOf } from '../turn/reading-of.ts';
import type { Elsewhere, JobState, Moment, Turn } from '../turn/turn.ts';

const MOST_NAMED = 3;

const isReport = ({ acts }: LoggedMessage): boolean =>
  acts.some(({ kind }) => kind !== 'command' && kind !== 'asks');

const target = (
  state: JobState,
  act: Act,
  moment: Moment,
): { readonly view: JobView } | { readonly says: string } => {
  const view = moment.openJobs?.find(({ job }) => job === act.job);
  if (act.job === state.view.job)
    return { says: `This is job ${act.job} already. Nothing was moved.` };
  return view
    ? { view }
    : {
        says: `${act.job ? `Job ${act.job} is not open` : 'The job is not named'}, so nothing was moved. Name an open one: "that was for ${moment.openJobs?.find(({ job }) => job !== state.view.job)?.job ?? '1043'}".`,
      };
};

const movedTo = (
  state: JobState,
  messages: readonly LoggedMessage[],
  to: string,
  asker: Asker,
  moment: Moment,
): Pick<Obeyed, 'elsewhere'> & { readonly events: readonly JobEvent[] } => ({
  events: messages.map(({ message }) => ({
    id: `${asker.id}:moved:${message}`,
    at: moment.now,
    by: asker.by,
    kind: 'message-moved' as const,
    message,
    from: state.view.job,
    to,
  })),
  elsewhere: [
    {
      job: to,
      from: state.view.job,
      by: asker.by,
      turn: asker.id,
      messages: messages.flatMap(({ message, text }) => {
        const posted = state.events.find(
          (event): event is JobEventOf<'message-posted'> =>
            event.kind === 'message-posted' && event.message === message,
        );
        return posted ? [{ ...posted, text }] : [];
      }),
    },
  ],
});

const quoted = (messages: readonly LoggedMessage[]): string => {
  const shown = messages
    .slice(0, MOST_NAMED)
    .map(({ text }) => `"${text.length > 60 ? `${text.slice(0, 57)}…` : text}"`);
  const left = messages.length - shown.length;
  return `${shown.join(', ')}${left > 0 ? ` and ${left} more` : ''}`;
};

/** "that was for 1043": the asker's last report, or the last few; a controller moves anybody's. */
export const moveMessages = (state: JobState, act: Act, asker: Asker, moment: Moment): Obeyed => {
  if (!moment.openJobs) return { events: [], pieces: [], needs: 'open-jobs' };
  const to = target(state, act, moment);
  if ('says' in to) return only(to.says);
  const reports = messagesOf(state.events).filter(
    (message) => !message.deleted && message.message !== asker.message && isReport(message),
  );
  const own = reports.filter(({ by }) => by === asker.by);
  const from = own.length > 0 ? own : reports;
  const messages = from.slice(-(act.count?.done ?? 1));
  if (messages.length === 0)
    return only(
      `No report stands on job ${state.view.job}, so nothing was moved to ${to.view.job}.`,
    );
  const may = mayMove(
    asPerson(asker),
    messages.map(({ by }) => by),
  );
  if (!may.ok) return only(may.says);
  const { events, elsewhere } = movedTo(state, messages, to.view.job, asker, moment);
  return {
    events,
    ...(elsewhere ? { elsewhere } : {}),
    pieces: [
      says(
        `Moved to job ${to.view.job}, ${to.view.opened.vehicle.name}: ${quoted(messages)}. It no longer counts here.`,
      ),
    ],
  };
};

/** "merge into 1043": two jobs for the same work on one vehicle become one. */
export const mergeJob = (state: JobState, act: Act, asker: Asker, moment: Moment): Obeyed => {
  const { view } = state;
  const may = mayDo(asPerson(asker), 'cancel-job');
  if (!may.ok) return only(may.says);
  if (view.status !== 'open') return only(`Job ${view.job} is ${view.status} already.`);
  if (!moment.openJobs) return { events: [], pieces: [], needs: 'open-jobs' };
  const to = target(state, act, moment);
  if ('says' in to) return only(to.says);
  const [here, there] = [view.opened.vehicle.name, to.view.opened.vehicle.name];
  if (here.toLowerCase() !== there.toLowerCase())
    return only(
      `Job ${view.job} is for ${here} and job ${to.view.job} for ${there}: they are not one job. Move single messages ("that was for ${to.view.job}"), or put the vehicle right first.`,
    );
  const messages = messagesOf(state.events).filter(
    (message) => !message.deleted && message.message !== asker.message && isReport(message),
  );
  const { events, elsewhere } = movedTo(state, messages, to.view.job, asker, moment);
  return {
    events: [
      ...events,
      {
        id: `${asker.id}:cancelled`,
        at: moment.now,
        by: asker.by,
        kind: 'job-cancelled',
        reason: `merged into job ${to.view.job}`,
      },
    ],
    ...(messages.length > 0 && elsewhere ? { elsewhere } : {}),
    pieces: [
      says(
        `Job ${view.job} is merged into job ${to.view.job}, by ${asker.by}: ${messages.length} ${messages.length === 1 ? 'report' : 'reports'} moved there and read again. This job is cancelled.`,
      ),
    ],
  };
};

/** The job that gets messages from another: each stands with its own writer and time, and is read by this job's plan. */
export const receiveMessages = (state: JobState, moved: Elsewhere, moment: Moment): Turn => {
  const here = new Map(messagesOf(state.events).map((message) => [message.message, message]));
  const coming = moved.messages.filter(({ message }) => here.get(message)?.deleted !== false);
  const [first] = coming;
  if (!first) return { state, events: [], posts: [] };
  const turn = `${moved.turn}:from:${moved.from}`;
  const events: JobEvent[] = [];
  for (const posted of coming) {
    const known = here.get(posted.message);
    if (!known) events.push({ ...posted, id: `${turn}:${posted.message}:posted` });
    events.push({
      id: `${turn}:${posted.message}:moved`,
      at: moment.now,
      by: moved.by,
      kind: 'message-moved',
      message: posted.message,
      from: moved.from,
      to: state.view.job,
    });
    const read = readingOf(
      [...state.events, ...events],
      state.view,
      { message: posted.message, at: posted.at, by: posted.by, text: posted.text ?? '' },
      moment.workshop,
      moment.jobNumbers,
    );
    events.push({
      id: `${turn}:${posted.message}:read`,
      at: moment.now,
      by: 'chargehand',
      kind: 'message-read',
      message: posted.message,
      revision: known?.revision ?? 0,
      pass: (known?.pass ?? -1) + 1,
      acts: [...read.acts],
      relied: [...read.relied],
    });
  }
  events.push(
    ...readAgain(
      [...state.events, ...events],
      state.view,
      first,
      { id: turn, now: moment.now },
      moment.workshop,
      moment.jobNumbers,
    ),
  );
  const current: JobState = {
    events: [...state.events, ...events],
    view: checkJob(state.view.plan, [...state.events, ...events], moment.now, moment.around),
  };
  const acts = messagesOf(current.events).find(({ message }) => message === first.message)?.acts;
  const asked = questionsFor(
    { id: turn, message: first.message, text: first.text ?? '' },
    acts ?? [],
    current,
    moment,
  );
  events.push(...asked.events);
  const note = says(
    `Moved here from job ${moved.from} by ${moved.by}: ${quoted(messagesOf(current.events).filter(({ message }) => coming.some((each) => each.message === message)))}.`,
    ORDER.remark,
  );
  return conclude(state, events, [...asked.pieces, note], [], { id: turn }, moment);
};
