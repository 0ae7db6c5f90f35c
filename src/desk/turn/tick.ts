// What time alone brings: held-back flags, questions that lapse, stops nobody has acknowledged, follow-ups due.
import type { JobEvent } from '../../../shared/event.ts';
import { flagKey } from '../../../shared/flag.ts';
import { check } from '../../job/check.ts';
import type { Post } from '../card.ts';
import { flagCard } from '../cards/flag-card.ts';
import { onShiftWhoMay } from '../on-shift.ts';
import { conclude } from './conclude.ts';
import { announcedFlags, questionsOf } from './log.ts';
import type { JobState, Moment, Turn } from './turn.ts';

/** A stop nobody acknowledged goes to the next person after this many minutes. */
export const PASS_ON_MINUTES = 10;
/** A question nobody answered lapses after this many hours. */
export const LAPSE_HOURS = 24;

const MINUTE = 60_000;

const passOn = (
  state: JobState,
  moment: Moment,
  turn: string,
): { readonly events: JobEvent[]; readonly posts: Post[]; readonly again: number | undefined } => {
  const now = Date.parse(moment.now);
  const events: JobEvent[] = [];
  const posts: Post[] = [];
  let again: number | undefined;
  const who = onShiftWhoMay(moment.workshop.settings, state.view, moment.now);
  for (const flag of state.view.flags) {
    if (flag.level !== 'stop' || flag.clearedBy) continue;
    const key = flagKey(flag);
    const said = announcedFlags(state.events).get(key);
    if (!said?.standing) continue;
    const seen = state.events.some(
      (event) =>
        event.kind === 'flag-acknowledged' &&
        event.flag === key &&
        Date.parse(event.at) >= Date.parse(said.at),
    );
    if (seen) continue;
    const passed = state.events.filter(
      (event) =>
        event.kind === 'flag-passed-on' &&
        event.flag === key &&
        Date.parse(event.at) >= Date.parse(said.at),
    );
    const next = who[passed.length + 1];
    if (next === undefined) continue;
    const last = Math.max(Date.parse(said.at), ...passed.map((event) => Date.parse(event.at)));
    const due = last + PASS_ON_MINUTES * MINUTE;
    if (due > now) {
      again = Math.min(again ?? due, due);
      continue;
    }
    events.push({
      id: `${turn}:passed-on:${key}:${passed.length}`,
      at: moment.now,
      by: 'chargehand',
      kind: 'flag-passed-on',
      flag: key,
      to: next,
    });
    const card = flagCard(state.view, flag, [next]);
    posts.push({
      key: `flag:${key}:to:${passed.length}`,
      to: { where: 'channel' },
      card: {
        ...card,
        text: `Not acknowledged for ${PASS_ON_MINUTES} minutes, passed to ${next}. ${card.text}`,
        blocks: [
          {
            kind: 'text',
            text: `Not acknowledged for ${PASS_ON_MINUTES} minutes, passed to ${next}.`,
          },
          ...card.blocks,
        ],
      },
      edit: false,
      urgent: true,
    });
  }
  return { events, posts, again };
};

/** Looks at a job although nothing arrived. */
export const tick = (state: JobState, moment: Moment): Turn => {
  if (state.view.status !== 'open') return { state, events: [], posts: [] };
  const turn = `tick:${moment.now}`;
  const now = Date.parse(moment.now);
  const fresh: JobState = {
    events: state.events,
    view: check(state.view.plan, state.events, moment.now, moment.around),
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
