// What is said in the open about flags: each once, again when it changes, and once more when it no longer stands.
import type { JobEvent } from '../../../shared/event.ts';
import { type Flag, flagKey } from '../../../shared/flag.ts';
import { LEVELS } from '../../../shared/plan.ts';
import type { JobView } from '../../job/view.ts';
import type { Post } from '../card.ts';
import { flagsCard, goneCard } from '../cards/flag-card.ts';
import { ORDER } from '../cards/gather.ts';
import { grouped } from '../flag-groups.ts';
import { type MaySettle, whoMaySettle } from '../on-shift.ts';
import { firstSentence } from '../say.ts';
import { heldByQuestion } from './held-back.ts';
import { announcedFlags, messagesOf } from './log.ts';
import type { Moment, Piece } from './turn.ts';

export type Announced = {
  readonly events: readonly JobEvent[];
  /** For the one reply in the thread. */
  readonly pieces: readonly Piece[];
  /** Cards in the channel: the stops of a turn share one. */
  readonly posts: readonly Post[];
  /** Turns whose reply says something else now: a flag of it changed, or stands no longer. */
  readonly touched: readonly string[];
  readonly again?: string;
};

/** Whoever asks to close a job is answered with all that is open: the flag then says nothing more to anybody. */
export const isSaid = ({ rule }: Pick<Flag, 'rule'>): boolean => rule !== 'early-close';

const ruleOf = (key: string): Flag['rule'] => key.slice(0, key.indexOf('|')) as Flag['rule'];

const byLevel = (a: Flag, b: Flag): number => LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level);

/** When a held-back `skipped` may be said: some seconds after the message that raised it. */
const dueAt = (events: readonly JobEvent[], flag: Flag, seconds: number): number => {
  const raisers = new Set(flag.raisedBy);
  const raised = messagesOf(events)
    .filter((message) => raisers.has(message.message))
    .map((message) => Date.parse(message.at));
  return raised.length === 0 ? 0 : Math.min(...raised) + seconds * 1000;
};

/** A stop nobody acknowledged goes to the next person after this many minutes. */
export const PASS_ON_MINUTES = 10;

/** Open questions are called to mind at most so often, all of them together. */
const REMIND_MINUTES = 30;

const remindedAt = (said: ReturnType<typeof announcedFlags>): number =>
  Math.max(
    Number.NEGATIVE_INFINITY,
    ...[...said].flatMap(([key, { at }]) => (ruleOf(key) === 'unanswered' ? [Date.parse(at)] : [])),
  );

/** Whom a stop goes to if the first does not acknowledge it, or that nobody who may settle it is at work. */
export const nextTold = ({ names, onShift }: MaySettle): string => {
  const next = names[1];
  const then =
    next === undefined
      ? ''
      : `Then ${next}, if nobody acknowledges it in ${PASS_ON_MINUTES} minutes.`;
  return onShift ? then : `Nobody who may settle it is on shift now. ${then}`.trim();
};

const stopsKey = (turn: string): string => `stops:${turn}`;

/** The channel's card for the stops that were first said in one turn, as they stand now. */
const stopsPost = (
  events: readonly JobEvent[],
  view: JobView,
  turn: string,
  tells: readonly string[],
  beside: string,
  urgent: boolean,
): Post => {
  const said = announcedFlags(events);
  const own = view.flags.filter(
    (flag) =>
      isSaid(flag) &&
      said.get(flagKey(flag))?.turn === turn &&
      said.get(flagKey(flag))?.level === 'stop',
  );
  const card =
    flagsCard(
      view,
      own.filter((flag) => said.get(flagKey(flag))?.standing),
      tells,
      beside,
    ) ??
    goneCard(
      view,
      [...said]
        .filter(([, each]) => each.turn === turn && each.level === 'stop')
        .map(([key, each]) => `${firstSentence(each.says)} ${whyGone(view, key, events)}`),
    );
  return { key: stopsKey(turn), to: { where: 'channel' }, card, edit: true, urgent };
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
  const fresh: Flag[] = [];
  const changed: Flag[] = [];
  let again: number | undefined;
  const waitsUntil = remindedAt(said) + REMIND_MINUTES * 60_000;
  for (const flag of view.flags) {
    if (flag.clearedBy || flag.level === 'advice') continue;
    const known = said.get(flagKey(flag));
    if (known?.standing && known.says === flag.says && known.level === flag.level) continue;
    if (flag.rule === 'skipped' && !known?.standing && moment.holdBack > 0) {
      const due = dueAt(events, flag, moment.holdBack);
      if (due > now) {
        again = Math.min(again ?? due, due);
        continue;
      }
    }
    const held = known?.standing ? undefined : heldByQuestion(events, view, flag, now);
    if (held !== undefined) {
      again = Math.min(again ?? held, held);
      continue;
    }
    if (flag.rule === 'unanswered' && !known?.standing && waitsUntil > now) {
      again = Math.min(again ?? waitsUntil, waitsUntil);
      continue;
    }
    if (known?.standing && known.level === flag.level) changed.push(flag);
    else fresh.push(flag);
  }
  const standing = new Set(view.flags.filter((flag) => !flag.clearedBy).map(flagKey));
  const gone = [...said].filter(([key, known]) => known.standing && !standing.has(key));
  const may = whoMaySettle(moment.workshop.settings, moment.workshop.calendar, view, moment.now);
  const tells = may.names.slice(0, 1);
  const made: JobEvent[] = [
    ...[...fresh, ...changed].map(
      (flag): JobEvent => ({
        id: `${turn}:announced:${flagKey(flag)}`,
        at: moment.now,
        by: 'chargehand',
        kind: 'flag-announced',
        flag: flagKey(flag),
        level: flag.level,
        says: flag.says,
        ...(flag.level === 'stop' && isSaid(flag) && tells[0] !== undefined && fresh.includes(flag)
          ? { to: tells[0] }
          : {}),
      }),
    ),
    ...gone.map(
      ([key]): JobEvent => ({
        id: `${turn}:withdrawn:${key}`,
        at: moment.now,
        by: 'chargehand',
        kind: 'flag-withdrawn',
        flag: key,
        says: whyGone(view, key, events),
      }),
    ),
  ];
  const after = [...events, ...made];
  const stops = fresh.some((flag) => flag.level === 'stop' && isSaid(flag));
  const pieces: Piece[] = [];
  const reply = flagsCard(
    view,
    fresh.filter(isSaid).sort(byLevel),
    stops ? tells : [],
    stops ? nextTold(may) : '',
  );
  if (reply) pieces.push({ order: ORDER[reply.level ?? 'caution'], card: reply });
  const over = gone.filter(([key]) => isSaid({ rule: ruleOf(key) }));
  if (over.length > 0)
    pieces.push({
      order: ORDER.withdrawn,
      card: goneCard(view, goneSentences(view, over, events)),
    });
  const turns = new Set<string>(stops ? [turn] : []);
  for (const flag of changed)
    if (flag.level === 'stop' && isSaid(flag)) turns.add(said.get(flagKey(flag))?.turn ?? turn);
  for (const [, known] of over) if (known.level === 'stop') turns.add(known.turn);
  return {
    events: made,
    pieces,
    touched: [
      ...changed.filter(isSaid).map((flag) => said.get(flagKey(flag))?.turn ?? turn),
      ...over.map(([, known]) => known.turn),
    ],
    posts: [...turns].map((each) =>
      stopsPost(after, view, each, tells, nextTold(may), each === turn && stops),
    ),
    ...(again === undefined ? {} : { again: new Date(again).toISOString() }),
  };
};

/** One sentence for each flag that is gone; six positions of one step are one sentence. */
const goneSentences = (
  view: JobView,
  gone: readonly (readonly [string, { readonly says: string }])[],
  events: readonly JobEvent[],
): readonly string[] => {
  const flags = gone.map(([key, known]): Flag => {
    const [rule = '', step = '', position = '', part = ''] = key.split('|');
    return {
      rule: rule as Flag['rule'],
      level: 'stop',
      step: step || null,
      position: position || null,
      part: part || null,
      says: `${firstSentence(known.says)} ${whyGone(view, key, events)}`,
      raisedBy: [],
    };
  });
  return grouped(flags).map((group) => group.says);
};

/** What made a flag stand no longer, and by whom. */
const whyGone = (view: JobView, key: string, events: readonly JobEvent[]): string => {
  const flag = view.flags.find((other) => flagKey(other) === key);
  if (!flag) return 'The report that raised it was withdrawn or put right.';
  const event = events.findLast(
    (other) =>
      other.kind === 'flag-overridden' &&
      other.flag === key &&
      (flag.how === 'overridden' || flag.clearedBy?.includes(other.id)),
  );
  if (event?.kind === 'flag-overridden')
    return `Overridden by ${event.by}: ${event.reason.replace(/[.\s]+$/u, '')}.`;
  const messages = new Set(flag.clearedBy ?? []);
  const report =
    view.reports.find((other) => messages.has(other.message) && other.act.step === flag.step) ??
    view.reports.find((other) => messages.has(other.message));
  if (!report) return 'Settled.';
  const time = report.when.slice(11, 16);
  return report.timeSaid
    ? `Done before, at ${time}, as ${report.reporter} reported.`
    : `Settled by the report of ${report.reporter}, ${time}.`;
};
