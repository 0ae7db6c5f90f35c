// What time alone brings: held-back flags, questions that lapse, stops nobody has acknowledged, follow-ups due.
import type { JobEvent } from '../../../shared/event.ts';
import { type Flag, flagKey } from '../../../shared/flag.ts';
import type { Post } from '../card.ts';
import { flagsCard } from '../cards/flag-card.ts';
import { followUpsOf } from '../office/follow-ups.ts';
import { onShiftWhoMay } from '../on-shift.ts';
import { isSaid } from './announce.ts';
import { checkJob } from './check-job.ts';
import { conclude } from './conclude.ts';
import { announcedFlags, questionsOf } from './log.ts';
import type { JobState, Moment, Turn } from './turn.ts';

/** A stop nobody acknowledged goes to the next person after this many minutes. */
export const PASS_ON_MINUTES = 10;
/** A question nobody answered lapses after this many hours. */
export const LAPSE_HOURS = 24;

const MINUTE = 60_000;

type PassedOn = {
  readonly events: readonly JobEvent[];
  readonly posts: readonly Post[];
  readonly again: number | undefined;
};

/** A stop counts as seen once somebody who may acknowledge it did so, or wrote in the job after it was said. */
const isSeen = (state: JobState, key: string, since: string, may: readonly string[]): boolean =>
  state.events.some(
    (event) =>
      Date.parse(event.at) >= Date.parse(since) &&
      ((event.kind === 'flag-acknowledged' && event.flag === key) ||
        (event.kind === 'message-posted' && may.includes(event.by))),
  );

/** Stops nobody has seen for a while go to the next person, those of one turn on one card. */
const passOn = (state: JobState, moment: Moment, turn: string): PassedOn => {
  const now = Date.parse(moment.now);
  const events: JobEvent[] = [];
  const late = new Map<string, Flag[]>();
  let again: number | undefined;
  const who = onShiftWhoMay(moment.workshop.settings, state.view, moment.now);
  const said = announcedFlags(state.events);
  for (const flag of state.view.flags) {
    const key = flagKey(flag);
    const known = said.get(key);
    if (
      flag.level !== 'stop' ||
      !isSaid(flag) ||
      flag.clearedBy ||
      !known?.standing ||
      isSeen(state, key, known.at, who)
    )
      continue;
    const passed = state.events.filter(
      (event) =>
        event.kind === 'flag-passed-on' &&
        event.flag === key &&
        Date.parse(event.at) >= Date.parse(known.at),
    );
    const next = who[passed.length + 1];
    if (next === undefined) continue;
    const last = Math.max(Date.parse(known.at), ...passed.map((event) => Date.parse(event.at)));
    const due = last + PASS_ON_MINUTES * MINUTE;
    if (due > now) {
      again = Math.min(again ?? due, due);
      continue;
    }
    events.push({
      id: `${turn}:passed-on:${key}`,
      at: moment.now,
      by: 'chargehand',
      kind: 'flag-passed-on',
      flag: key,
      to: next,
    });
    late.set(next, [...(late.get(next) ?? []), flag]);
  }
  const posts = [...late].flatMap(([next, flags]): readonly Post[] => {
    const card = flagsCard(state.view, flags, [next]);
    if (!card) return [];
    const says = `Not acknowledged for ${PASS_ON_MINUTES} minutes, passed to ${next}.`;
    return [
      {
        key: `passed:${turn}:${next}`,
        to: { where: 'channel' },
        card: {
          ...card,
          text: `${says} ${card.text}`,
          blocks: [{ kind: 'text', text: says }, ...card.blocks],
        },
        edit: false,
        urgent: true,
      },
    ];
  });
  return { events, posts, again };
};

/** Looks at a job although nothing arrived. */
export const tick = (state: JobState, moment: Moment): Turn => {
  const closed = state.view.status === 'closed' && followUpsOf(state.view).length > 0;
  if (state.view.status !== 'open' && !closed) return { state, events: [], posts: [] };
  const turn = `tick:${moment.now}`;
  const now = Date.parse(moment.now);
  const fresh: JobState = {
    ...state,
    view: checkJob(state.view.plan, state.events, moment.now, moment.around),
  };
  const lapsed: JobEvent[] = questionsOf(state.events)
    .filter(
      (question) =>
        question.state === 'open' && Date.parse(question.at) + LAPSE_HOURS * 60 * MINUTE <= now,
    )
    .map((question) => ({
      id: `${question.question}:lapsed`,
      at: moment.now,
      by: 'chargehand',
      kind: 'question-lapsed',
      question: question.question,
    }));
  const passed = passOn(fresh, moment, turn);
  const done = conclude(
    fresh,
    [...lapsed, ...passed.events],
    [],
    passed.posts,
    { id: turn },
    moment,
  );
  const openQuestions = questionsOf(done.state.events).filter(
    (question) => question.state === 'open',
  );
  const stops = done.state.view.flags.some((flag) => flag.level === 'stop' && !flag.clearedBy);
  const times = [
    ...(done.again ? [Date.parse(done.again)] : []),
    ...(passed.again === undefined ? [] : [passed.again]),
    ...(stops ? [now + PASS_ON_MINUTES * MINUTE] : []),
    ...(openQuestions.length > 0 ? [now + 5 * MINUTE] : []),
  ];
  return {
    ...done,
    ...(times.length > 0 ? { again: new Date(Math.min(...times)).toISOString() } : {}),
  };
};
