// Release to the road: by a named, authorised person, apart from closing; work that is reported after it ends it.
import type { JobEvent } from '../../../shared/event.ts';
import type { JobView } from '../../job/view.ts';
import { mayReleaseToRoad } from '../roles.ts';
import { list } from '../say.ts';
import { type Asker, asPerson, type Obeyed, only, says } from '../turn/obeyed.ts';
import type { JobState, Moment } from '../turn/turn.ts';
import { followUpsOf } from './follow-ups.ts';

export type RoadRelease = { readonly by: string; readonly at: string; readonly stands: boolean };

const WORK = new Set(['done', 'started', 'partial', 'not-done']);

/** The last release to the road; undefined where there was none. */
export const roadReleaseOf = (
  events: readonly JobEvent[],
  view: JobView,
): RoadRelease | undefined => {
  const last = events.findLast((event) => event.kind === 'road-released');
  if (!last) return undefined;
  const later = new Set(view.plan.steps.filter(({ within }) => within).map(({ id }) => id));
  const worked = view.reports.some(
    ({ act, posted }) =>
      WORK.has(act.kind) && !later.has(act.step ?? '') && Date.parse(posted) > Date.parse(last.at),
  );
  return { by: last.by, at: last.at, stands: !worked && view.vehicleState.length === 0 };
};

export const releaseToRoad = (state: JobState, asker: Asker, moment: Moment): Obeyed => {
  const { view } = state;
  const may = mayReleaseToRoad(moment.workshop.settings, asPerson(asker));
  if (!may.ok) return only(may.says);
  if (view.status === 'cancelled')
    return only(`Job ${view.job} is cancelled; there is nothing to release.`);
  const known = roadReleaseOf(state.events, view);
  if (known?.stands)
    return only(`${view.opened.vehicle.name} is released to the road already, by ${known.by}.`);
  const others = moment.around.otherStates ?? [];
  const open = [
    ...others.map(({ job, state: each }) => `Vehicle state open: ${each.title} (job ${job}).`),
    ...view.closeNeeds,
  ];
  if (open.length > 0)
    return only(
      `${view.opened.vehicle.name} is not released to the road. Still open on job ${view.job}: ${list(
        open.map((need) => need.replace(/\.$/u, '')),
        8,
      )}. See to these, then release it.`,
    );
  const later = followUpsOf(view);
  return {
    events: [
      {
        id: `${asker.id}:road`,
        at: moment.now,
        by: asker.by,
        kind: 'road-released',
        ...(asker.roles[0] ? { role: asker.roles[0] } : {}),
      },
    ],
    pieces: [
      says(
        `${view.opened.vehicle.name} released to the road by ${asker.by}.${later.length > 0 ? ` To come: ${list(later.map((each) => each.says))}.` : ''}`,
      ),
    ],
  };
};
