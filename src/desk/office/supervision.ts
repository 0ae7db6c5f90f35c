// An apprentice works under somebody: recorded with the message, shown wherever a safety-critical step is theirs.
import type { JobEvent } from '../../../shared/event.ts';
import type { JobView } from '../../job/view.ts';
import { stepsGathered } from '../say.ts';

/** Who each message's writer worked under when it was posted. */
const underOf = (events: readonly JobEvent[]): ReadonlyMap<string, string> =>
  new Map(
    events.flatMap((event): [string, string][] =>
      event.kind === 'message-posted' && event.under ? [[event.message, event.under]] : [],
    ),
  );

/** "Chock the wheels: Kit, under Nell", one for each apprentice and supervisor. */
export const supervised = (events: readonly JobEvent[], view: JobView): readonly string[] => {
  const under = underOf(events);
  if (under.size === 0) return [];
  const steps = new Map<string, { step: string; position: string | null }[]>();
  for (const { step, position, by, messages, state } of view.steps) {
    if (state === 'open' || state === 'not-on-job' || by === null) continue;
    if (view.plan.stepById.get(step)?.weight !== 'safety-critical') continue;
    const over = messages.map((message) => under.get(message)).find((name) => name !== undefined);
    if (over === undefined) continue;
    const key = `${by}, under ${over}`;
    steps.set(key, [...(steps.get(key) ?? []), { step, position }]);
  }
  return [...steps].map(([who, done]) => `${stepsGathered(view, done).join(', ')}: ${who}`);
};
