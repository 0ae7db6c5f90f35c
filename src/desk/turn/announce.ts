// What is said in the open about flags: each once, again when it changes, and once more when it no longer stands.

import type { JobEvent } from '../../../shared/event.ts';
import type { Flag } from '../../../shared/flag.ts';
import { flagKey } from '../../../shared/flag.ts';
import type { JobView } from '../../job/view.ts';
import type { Post } from '../card.ts';
import { flagCard, withdrawnCard } from '../cards/flag-card.ts';
import { ORDER } from '../cards/gather.ts';
import { onShiftWhoMay } from '../on-shift.ts';
import { announcedFlags, messagesOf } from './log.ts';
import type { Moment, Piece } from './turn.ts';

export type Announced = {
  readonly events: readonly JobEvent[];
  /** For the one reply in the thread. */
  readonly pieces: readonly Piece[];
  /** Cards of their own in the channel: stop flags. */
  readonly posts: readonly Post[];
  readonly again?: string;
};

const channelKey = (flag: Flag): string => `flag:${flagKey(flag)}`;

/** When a held-back `skipped` may be said: some seconds after the message that raised it. */
const dueAt = (events: readonly JobEvent[], flag: Flag, seconds: number): number => {
  const raisers = new Set(flag.raisedBy);
  const last = messagesOf(events)
    .filter((message) => raisers.has(message.message))
    .map((message) => Date.parse(message.at));
  return last.length === 0 ? 0 : Math.min(...last) + seconds * 1000;
};

/**
 * Compares the flags that stand with what was said about them.
 * @param turn prefix of event ids, unique for the turn
 */
export const announce = (
  events: readonly JobEvent[],
  view: JobView,
  turn: string,
  moment: Moment,
): Announced => {
  const said = announcedFlags(events);
  const now = Date.parse(moment.now);
  const made: JobEvent[] = [];
  const pieces: Piece[] = [];
  const posts: Post[] = [];
  let again: number | undefined;
  const base = (kind: string, flag: Flag) => ({
    id: `${turn}:${kind}:${flagKey(flag)}`,
    at: moment.now,
    by: 'chargehand',
    flag: flagKey(flag),
  });
  const standing = view.flags.filter((flag) => !flag.clearedBy);
  for (const flag of standing) {
    if (flag.level === 'advice') continue;
    const known = said.get(flagKey(flag));
    if (known?.standing && known.says === flag.says && known.level === flag.level) continue;
    if (flag.rule === 'skipped' && !known?.standing && moment.holdBack > 0) {
      const due = dueAt(events, flag, moment.holdBack);
      if (due > now) {
        again = Math.min(again ?? due, due);
        continue;
      }
    }
    const tells =
      flag.level === 'stop'
        ? onShiftWhoMay(moment.workshop.settings, view, moment.now).slice(0, 1)
        : [];
    const card = flagCard(view, flag, tells);
    made.push({
      ...base('announced', flag),
      kind: 'flag-announced',
      level: flag.level,
      says: flag.says,
    });
    const changed = known?.standing === true && known.level === flag.level;
    if (!changed) pieces.push({ order: ORDER[flag.level], card });
    if (flag.level === 'stop')
      posts.push({
        key: channelKey(flag),
        to: { where: 'channel' },
        card,
        edit: true,
        urgent: true,
      });
  }
  for (const [key, known] of said) {
    if (!known.standing || standing.some((flag) => flagKey(flag) === key)) continue;
    const flag = view.flags.find((other) => flagKey(other) === key);
    const says = flag ? whyGone(view, flag, events) : 'The report that raised it was withdrawn.';
    const gone: Flag = flag ?? {
      rule: key.split('|')[0] as Flag['rule'],
      level: known.level as Flag['level'],
      step: null,
      position: null,
      part: null,
      says: known.says,
      raisedBy: [],
    };
    const sentence = `${firstSentence(known.says)} ${says}`;
    made.push({
      id: `${turn}:withdrawn:${key}`,
      at: moment.now,
      by: 'chargehand',
      kind: 'flag-withdrawn',
      flag: key,
      says,
    });
    const card = withdrawnCard(view, { ...gone, says: known.says }, sentence);
    pieces.push({ order: ORDER.withdrawn, card });
    if (known.level === 'stop')
      posts.push({ key: `flag:${key}`, to: { where: 'channel' }, card, edit: true, urgent: false });
  }
  return {
    events: made,
    pieces,
    posts,
    ...(again === undefined ? {} : { again: new Date(again).toISOString() }),
  };
};

const firstSentence = (says: string): string => /^[^.]*\./.exec(says)?.[0] ?? says;

/** One sentence: what made a flag stand no longer, and by whom. */
const whyGone = (view: JobView, flag: Flag, events: readonly JobEvent[]): string => {
  if (flag.how === 'overridden') {
    const event = events.find(
      (other) => other.kind === 'flag-overridden' && other.flag === flagKey(flag),
    );
    return event?.kind === 'flag-overridden'
      ? `Overridden by ${event.by}: ${event.reason}`
      : 'Overridden.';
  }
  const messages = new Set(flag.clearedBy ?? []);
  const report = view.reports.find((other) => messages.has(other.message));
  if (!report) return 'Settled.';
  return `Settled by the report of ${report.reporter}, ${report.when.slice(11, 16)}.`;
};
