// Releases and refusals of hold points: which ones are meant, and whether this person may.
import type { JobEvent } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import type { HoldState, JobView } from '../../job/view.ts';
import { mayRelease } from '../roles.ts';
import { list, stepAt, stepTitle } from '../say.ts';
import { type Asker, asPerson, decidedAt, type Obeyed, only, says } from './obeyed.ts';
import type { Moment } from './turn.ts';

/** Hold points an act means: the one named, else the only one that waits. */
export const holdsMeant = (view: JobView, act: Act): readonly HoldState[] | string => {
  const waiting = view.holds.filter((hold) => hold.state === 'waits' || hold.state === 'refused');
  const named = view.holds.filter(
    (hold) =>
      hold.step === act.step &&
      (act.positions.length === 0 ||
        hold.position === null ||
        act.positions.includes(hold.position)),
  );
  if (act.step !== undefined) {
    if (named.length === 0)
      return `"${stepTitle(view, act.step)}" is no hold point. ${waiting.length > 0 ? `Waiting: ${list(waiting.map((hold) => stepAt(view, hold.step, hold.position)))}.` : 'None waits for a release.'}`;
    const due = named.filter((hold) => hold.state === 'waits' || hold.state === 'refused');
    if (due.length > 0) return due;
    const [first] = named;
    if (first?.state === 'released')
      return `"${stepTitle(view, act.step)}" is released already${first.by ? ` by ${first.by}` : ''}. Nothing more to do.`;
    return `"${stepTitle(view, act.step)}" has not been reported as done yet, so there is nothing to release. Report it first.`;
  }
  if (waiting.length === 0)
    return 'No hold point waits for a release. Ask "where are we" for what the job waits for.';
  if (new Set(waiting.map((hold) => hold.step)).size > 1)
    return `Several hold points wait: ${list(waiting.map((hold) => stepAt(view, hold.step, hold.position)))}. Say which one.`;
  return waiting;
};

/** Releases or refuses hold points, if this person may. */
export const settleHolds = (
  view: JobView,
  holds: readonly HoldState[],
  asker: Asker,
  moment: Moment,
  settle: 'hold-released' | 'hold-refused',
  reason: string | undefined,
): Obeyed => {
  const events: JobEvent[] = [];
  for (const hold of holds) {
    const may = mayRelease(view, asPerson(asker), hold);
    if (!may.ok) return only(may.says);
    events.push({
      id: `${asker.id}:${settle}:${hold.step}:${hold.position ?? ''}`,
      at: decidedAt(asker, moment),
      by: asker.by,
      kind: settle,
      step: hold.step,
      position: hold.position,
      ...(reason ? { reason } : {}),
      ...(asker.roles[0] ? { role: asker.roles[0] } : {}),
    });
  }
  const names = list(holds.map((hold) => `"${stepAt(view, hold.step, hold.position)}"`));
  return {
    events,
    pieces: [
      says(
        settle === 'hold-released'
          ? `Released by ${asker.by}: ${names}. The work may go on.`
          : `Refused by ${asker.by}: ${names}${reason ? `: ${reason}` : ''}. Put it right, report it again, then ask for the release.`,
      ),
    ],
  };
};
