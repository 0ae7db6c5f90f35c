// When a job must be looked at again although nothing arrives: the earliest of all that time alone brings.
import { PASS_ON_MINUTES } from './announce.ts';
import { questionsOf } from './log.ts';
import { nextNudge } from './nudge.ts';
import { passOn } from './pass-on.ts';
import { nextHandover } from './shift-handover.ts';
import type { JobState, Moment } from './turn.ts';

const MINUTE = 60_000;

/** ISO; undefined where only what arrives can change something. */
export const nextLook = (
  state: JobState,
  moment: Moment,
  announced: string | undefined,
): string | undefined => {
  const now = Date.parse(moment.now);
  const open = state.view.status === 'open';
  const passing = open ? passOn(state, moment, 'look') : undefined;
  const due = passing && passing.events.length > 0 ? now + 1000 : passing?.again;
  const stops = state.view.flags.some((flag) => flag.level === 'stop' && !flag.clearedBy);
  const questions = questionsOf(state.events).some((question) => question.state === 'open');
  const times = [
    announced === undefined ? undefined : Date.parse(announced),
    due,
    open && stops ? now + PASS_ON_MINUTES * MINUTE : undefined,
    open && questions ? now + 5 * MINUTE : undefined,
    nextNudge(state, moment),
    nextHandover(state, moment),
  ].filter((time) => time !== undefined);
  if (times.length === 0) return undefined;
  // What is overdue by now and was not done waits for something else: it is looked at again in a while.
  const soonest = Math.min(...times);
  return new Date(soonest > now ? soonest : now + 5 * MINUTE).toISOString();
};
