// A stop is answered by somebody who may settle it: who was told, who has seen it and how, and who is told next.
import type { JobEvent, JobEventOf } from '../../../shared/event.ts';
import { type Flag, flagKey } from '../../../shared/flag.ts';
import type { Post } from '../card.ts';
import { flagsCard } from '../cards/flag-card.ts';
import { whoMaySettle } from '../on-shift.ts';
import { mayDo } from '../roles.ts';
import { isSaid, nextTold, PASS_ON_MINUTES } from './announce.ts';
import { announcedFlags } from './log.ts';
import { type Asker, asPerson } from './obeyed.ts';
import type { JobState, Moment } from './turn.ts';

const MINUTE = 60_000;

export type PassedOn = {
  readonly events: readonly JobEvent[];
  readonly posts: readonly Post[];
  /** Milliseconds. */
  readonly again: number | undefined;
};

/** Stops that were said and stand, with when they were said. */
const standingStops = (state: Pick<JobState, 'events' | 'view'>) => {
  const said = announcedFlags(state.events);
  return state.view.flags.flatMap((flag) => {
    const key = flagKey(flag);
    const known = said.get(key);
    return flag.level === 'stop' && isSaid(flag) && !flag.clearedBy && known?.standing
      ? [{ flag, key, since: Date.parse(known.at) }]
      : [];
  });
};

const isSeen = (events: readonly JobEvent[], key: string, since: number): boolean =>
  events.some(
    (event) =>
      event.kind === 'flag-acknowledged' && event.flag === key && Date.parse(event.at) >= since,
  );

/**
 * Whoever may acknowledge a stop and writes in the job after it was said has seen it; that is kept with who and when.
 * @param already keys that the same message acknowledges in words
 */
export const seenByWriting = (
  state: Pick<JobState, 'events' | 'view'>,
  asker: Asker & { readonly at: string },
  moment: Moment,
  already: ReadonlySet<string> = new Set(),
): readonly JobEvent[] => {
  if (!mayDo(asPerson(asker), 'acknowledge').ok) return [];
  return standingStops(state)
    .filter(
      ({ flag, key, since }) =>
        !already.has(key) &&
        Date.parse(asker.at) >= since &&
        !isSeen(state.events, key, since) &&
        !flag.raisedBy.includes(asker.message),
    )
    .map(({ key }) => ({
      id: `${asker.id}:seen:${key}`,
      at: moment.now,
      by: asker.by,
      kind: 'flag-acknowledged',
      flag: key,
      how: 'wrote',
    }));
};

type Told = { readonly to: string | undefined; readonly at: number };

/** Who was told of a flag since it was said, first to last. */
const toldOf = (events: readonly JobEvent[], key: string, since: number): readonly Told[] =>
  events
    .filter(
      (event): event is JobEventOf<'flag-announced'> | JobEventOf<'flag-passed-on'> =>
        (event.kind === 'flag-passed-on' || (event.kind === 'flag-announced' && !!event.to)) &&
        event.flag === key &&
        Date.parse(event.at) >= since,
    )
    .map(({ to, at }) => ({ to, at: Date.parse(at) }));

/** Stops nobody has seen for a while go to the next person on shift, those of one look on one card. */
export const passOn = (state: JobState, moment: Moment, turn: string): PassedOn => {
  const now = Date.parse(moment.now);
  const { settings, calendar } = moment.workshop;
  const may = whoMaySettle(settings, calendar, state.view, moment.now);
  const events: JobEvent[] = [];
  const late = new Map<string, Flag[]>();
  let again: number | undefined;
  for (const { flag, key, since } of standingStops(state)) {
    if (isSeen(state.events, key, since)) continue;
    const told = toldOf(state.events, key, since);
    // Stops said before it was kept whom they name went to the first.
    const names = new Set(told.length > 0 ? told.map(({ to }) => to) : may.names.slice(0, 1));
    const next = may.names.find((name) => !names.has(name));
    if (next === undefined) continue;
    const due = Math.max(since, ...told.map(({ at }) => at)) + PASS_ON_MINUTES * MINUTE;
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
    const rest = may.names.slice(may.names.indexOf(next));
    const card = flagsCard(
      state.view,
      flags,
      [next],
      nextTold({ names: rest, onShift: may.onShift }),
    );
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
