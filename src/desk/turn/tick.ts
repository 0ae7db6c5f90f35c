// What time alone brings: held-back flags, questions that lapse, stops nobody has acknowledged, what waits for long, the
// end of a shift, follow-ups due.
import type { JobEvent } from '../../../shared/event.ts';
import { followUpsOf } from '../office/follow-ups.ts';
import { checkJob } from './check-job.ts';
import { conclude } from './conclude.ts';
import { questionsOf } from './log.ts';
import { nudge } from './nudge.ts';
import { passOn } from './pass-on.ts';
import { shiftHandover } from './shift-handover.ts';
import type { JobState, Moment, Turn } from './turn.ts';

/** A question nobody answered lapses after this many hours. */
export const LAPSE_HOURS = 24;

const MINUTE = 60_000;

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
  const nudged = nudge(fresh, moment, turn);
  const handed = shiftHandover(fresh, moment);
  return conclude(
    fresh,
    [...lapsed, ...passed.events, ...nudged.events, ...handed.events],
    [],
    [...passed.posts, ...nudged.posts, ...handed.posts],
    { id: turn },
    moment,
  );
};
