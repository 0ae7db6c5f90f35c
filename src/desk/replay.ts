// A transcript of one job, said again from the first line: the same turns as in a channel, with the clock of the transcript.
import type { JobOpened } from '../../shared/event.ts';
import { type Flag, flagKey } from '../../shared/flag.ts';
import type { Role } from '../../shared/plan.ts';
import type { QuestionState, ReplayResult, Totals, TranscriptLine } from '../../shared/replay.ts';
import type { Settings } from '../../shared/settings.ts';
import type { Plan } from '../job/plan.ts';
import type { JobView } from '../job/view.ts';
import type { Post } from './card.ts';
import { takeDelete, takeEdit } from './turn/amend.ts';
import { checkJob } from './turn/check-job.ts';
import { hear } from './turn/hear.ts';
import { messagesOf, questionsOf } from './turn/log.ts';
import { tick } from './turn/tick.ts';
import type { JobState, Moment, Turn } from './turn/turn.ts';
import { workshopOf } from './workshop.ts';

export type ReplayOptions = {
  readonly job?: string;
  readonly vehicle?: string;
  readonly positions?: readonly string[];
  readonly options?: readonly string[];
  /** ISO; the last `at` when left out. */
  readonly now?: string;
  /** Flags as announced on arrival, lines taken in the order given. */
  readonly live?: boolean;
  /** Settings to take people, shifts and zone from; people of the transcript are added. */
  readonly settings?: Settings;
  readonly complaint?: string;
  readonly promised?: string;
  readonly reading?: JobOpened['reading'];
};

/** What happened at one line, or between lines by the clock alone (`line` undefined). */
export type ReplayMoment = {
  readonly at: string;
  readonly line?: TranscriptLine;
  readonly posts: readonly Post[];
};

export type Replayed = {
  readonly result: ReplayResult;
  readonly view: JobView;
  readonly moments: readonly ReplayMoment[];
};

const HOLD_BACK = 20;

/** People of the transcript with every role they post with; known people keep what the settings say. */
const settingsFor = (lines: readonly TranscriptLine[], given: Settings | undefined): Settings => {
  const people = new Map<string, Set<Role>>();
  for (const line of lines)
    people.set(line.by, (people.get(line.by) ?? new Set<Role>()).add(line.role ?? 'technician'));
  const known = given?.people ?? [];
  const strangers = [...people]
    .filter(([name]) => !known.some((person) => person.name === name))
    .map(([name, roles]) => ({ name, roles: [...roles] }));
  return {
    ...(given ?? { workshop: 'Transcript', zone: zoneOf(lines[0]?.at) }),
    people: [...known, ...strangers],
  };
};

/** The fixed offset of the first line as a zone, so that times are shown as they were written. */
const zoneOf = (at: string | undefined): string => {
  const offset = /([+-]\d\d):(\d\d)$/u.exec(at ?? '');
  return offset ? `UTC${offset[1]}:${offset[2]}` : 'UTC';
};

const postingOrder = (lines: readonly TranscriptLine[]): readonly TranscriptLine[] =>
  lines
    .map((line, index) => ({ line, index }))
    .sort((a, b) => Date.parse(a.line.at) - Date.parse(b.line.at) || a.index - b.index)
    .map(({ line }) => line);

const openedBy = (
  plan: Plan,
  lines: readonly TranscriptLine[],
  options: ReplayOptions,
): JobOpened => {
  const technician = lines.find((line) => (line.role ?? 'technician') === 'technician')?.by;
  const controller =
    lines.find((line) => line.role === 'controller')?.by ??
    options.settings?.people.find((person) => person.roles.includes('controller'))?.name;
  return {
    id: 'opened',
    at: postingOrder(lines)[0]?.at ?? '1970-01-01T00:00:00+00:00',
    by: controller ?? technician ?? 'chargehand',
    kind: 'job-opened',
    job: options.job ?? 'replay',
    vehicle: { name: options.vehicle ?? 'vehicle' },
    plan: { id: plan.plan, title: plan.title, hash: plan.hash, text: plan.text },
    positions: [...(options.positions ?? [])],
    options: [...(options.options ?? [])],
    ...(technician ? { technician } : {}),
    ...(controller ? { controller } : {}),
    ...(options.complaint ? { complaint: options.complaint } : {}),
    ...(options.promised ? { promised: options.promised } : {}),
    ...(options.reading ? { reading: options.reading } : {}),
  };
};

/** Replays a transcript; an empty one gives the plan as it stands at opening. */
export const replay = (
  plan: Plan,
  lines: readonly TranscriptLine[],
  options: ReplayOptions = {},
): Replayed => {
  const settings = settingsFor(lines, options.settings);
  const workshop = workshopOf(settings, [plan]);
  const around = {
    people: settings.people.map(({ name, roles, competences }) => ({
      name,
      roles,
      ...(competences ? { competences } : {}),
    })),
  };
  const opened = openedBy(plan, lines, options);
  const ordered = options.live ? lines : postingOrder(lines);
  const live = new Map<string, Flag>();
  const moments: ReplayMoment[] = [];
  let state: JobState = { events: [opened], view: checkJob(plan, [opened], opened.at, around) };
  let again: string | undefined;

  const momentAt = (now: string): Moment => ({
    workshop,
    now,
    around,
    openJobs: [state.view],
    jobNumbers: [opened.job],
    holdBack: HOLD_BACK,
  });
  const take = (turn: Turn, at: string, line?: TranscriptLine): void => {
    for (const event of turn.events) {
      if (event.kind === 'flag-announced') {
        const flag = turn.state.view.flags.find((each) => flagKey(each) === event.flag);
        if (flag) live.set(event.flag, withoutClearing(flag));
      }
      if (event.kind === 'flag-withdrawn') {
        const said = live.get(event.flag);
        const now = turn.state.view.flags.find((each) => flagKey(each) === event.flag);
        if (said)
          live.set(event.flag, {
            ...said,
            clearedBy: now?.clearedBy ?? (line ? [line.id] : []),
            how: now?.how ?? 'withdrawn',
          });
      }
    }
    state = turn.state;
    again = turn.again ?? (line ? again : undefined);
    if (turn.posts.length > 0 || line)
      moments.push({ at, posts: turn.posts, ...(line ? { line } : {}) });
  };
  const clockTo = (at: string): void => {
    for (
      let looks = 0;
      looks < 1000 && again !== undefined && Date.parse(again) <= Date.parse(at);
      looks += 1
    ) {
      const now = again;
      again = undefined;
      take(tick(state, momentAt(now)), now);
    }
  };

  let now = opened.at;
  for (const line of ordered) {
    if (Date.parse(line.at) > Date.parse(now)) now = line.at;
    clockTo(now);
    take(turnOf(state, line, momentAt(now)), now, line);
  }
  const end = options.now ?? now;
  // What the last message raised is said once the time for which it is held back is over.
  const last = new Date(Date.parse(end) + HOLD_BACK * 1000).toISOString();
  clockTo(last);
  take(tick(state, momentAt(last)), last);
  const view = checkJob(plan, state.events, end, around);
  return {
    result: resultOf(view, state, options.live ? [...live.values()] : view.flags),
    view,
    moments,
  };
};

const withoutClearing = ({ clearedBy: _c, how: _h, ...flag }: Flag): Flag => flag;

const turnOf = (state: JobState, line: TranscriptLine, moment: Moment): Turn => {
  const roles = [line.role ?? 'technician'];
  if (line.deletes !== undefined)
    return takeDelete(
      state,
      { id: line.id, message: line.deletes, at: line.at, by: line.by },
      moment,
    );
  if (line.edits !== undefined)
    return takeEdit(
      state,
      { id: line.id, message: line.edits, at: line.at, by: line.by, text: line.text ?? '' },
      moment,
    );
  return hear(
    state,
    {
      id: line.id,
      message: line.id,
      channel: 'replay',
      at: line.at,
      by: line.by,
      roles,
      text: line.text ?? '',
    },
    moment,
  );
};

/** The fixed JSON form of a job's state. */
export const resultOf = (
  view: JobView,
  state: Pick<JobState, 'events'>,
  flags: readonly Flag[],
): ReplayResult => ({
  events: [...state.events],
  steps: view.steps.map(({ step, position, state: at, at: when, by }) => ({
    id: step,
    position,
    state: at,
    at: when,
    by,
  })),
  vehicleState: view.vehicleState.map((open) => open.state),
  flags: flags.map((flag) => ({ ...flag, raisedBy: [...flag.raisedBy] })),
  questions: questionsOf(state.events).map(
    (question): QuestionState => ({
      at: question.message,
      asks: question.asks,
      ...(question.settled
        ? {
            settledBy:
              ('message' in question.settled ? question.settled.message : undefined) ??
              question.settled.id,
          }
        : {}),
    }),
  ),
  closed: view.status === 'closed',
  totals: totalsOf(view, state, flags),
});

const totalsOf = (
  view: JobView,
  state: Pick<JobState, 'events'>,
  flags: readonly Flag[],
): Totals => {
  const messages = messagesOf(state.events);
  const onJob = view.steps.filter((step) => step.state !== 'not-on-job');
  const standing = flags.filter((flag) => !flag.clearedBy);
  const count = (level: Flag['level']): number =>
    standing.filter((flag) => flag.level === level).length;
  return {
    messages: messages.length,
    acts: messages.reduce((sum, message) => sum + message.acts.length, 0),
    stepsDone: onJob.filter((step) => step.state === 'done').length,
    stepsTotal: onJob.length,
    minutesBooked: view.minutesBooked,
    fluids: [...view.fluids],
    flags: { stop: count('stop'), caution: count('caution'), advice: count('advice') },
  };
};
