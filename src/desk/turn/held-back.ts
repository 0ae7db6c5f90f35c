// A flag about a step that has just been asked about says nothing new: it waits for the answer.
import type { JobEvent } from '../../../shared/event.ts';
import type { Flag } from '../../../shared/flag.ts';
import type { JobView } from '../../job/view.ts';
import { type LoggedQuestion, questionsOf } from './log.ts';

const MINUTE = 60_000;
/** How long a question may hold a flag back: ours, no source. A stop waits no longer than it takes to go to the next. */
const PATIENCE: Readonly<Record<Flag['level'], number>> = {
  stop: 10 * MINUTE,
  caution: 30 * MINUTE,
  advice: 30 * MINUTE,
};

/** Whether a question is about the step of a flag, at its position where both name one. */
const bearsOn = (question: LoggedQuestion, flag: Flag): boolean => {
  const own = `${question.message}:${question.about}:`;
  if (question.question.startsWith(own) && question.question.slice(own.length) === flag.step)
    return true;
  return question.choices.some((choice) =>
    (choice.acts ?? []).some(
      (act) =>
        act.step === flag.step &&
        (flag.position === null ||
          act.positions.length === 0 ||
          act.positions.includes(flag.position)),
    ),
  );
};

/**
 * Until when a flag is held back by an open question about its step; undefined where nothing holds it. What the state
 * of the vehicle forbids is never held back.
 * @param now milliseconds
 */
export const heldByQuestion = (
  events: readonly JobEvent[],
  view: JobView,
  flag: Flag,
  now: number,
): number | undefined => {
  if (flag.step === null || flag.rule === 'unsafe-state') return undefined;
  const open = new Set(
    view.questions.filter(({ state }) => state === 'open').map(({ question }) => question),
  );
  const until = questionsOf(events)
    .filter((question) => open.has(question.question) && question.state === 'open')
    .filter((question) => bearsOn(question, flag))
    .map((question) => Date.parse(question.at) + PATIENCE[flag.level]);
  const last = Math.max(...until);
  return last > now ? last : undefined;
};
