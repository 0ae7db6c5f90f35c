// A tick that somebody puts on a message: where a hold point waits behind it they are asked whether they mean to release it.
// The tick itself releases nothing: it is too easily put there by a thumb.
import type { Delivery } from '../../shared/delivery.ts';
import type { Person } from '../../shared/settings.ts';
import type { Card } from '../desk/card.ts';
import { releaseActions } from '../desk/cards/flag-card.ts';
import { mayRelease } from '../desk/roles.ts';
import { stepAt } from '../desk/say.ts';
import type { HoldState } from '../job/view.ts';
import type { Floor } from './floor.ts';
import type { ShelvedJob } from './job-shelf.ts';
import { messageId } from './message-id.ts';

type Reaction = Extract<Delivery, { kind: 'reaction' }>;

/** What platforms call a tick, as a name or as the character. */
const TICKS: ReadonlySet<string> = new Set([
  'white_check_mark',
  'heavy_check_mark',
  'ballot_box_with_check',
  '\u2705',
  '\u2714',
  '\u2714\ufe0f',
  '\u2611',
  '\u2611\ufe0f',
]);

export const isTick = (sign: string): boolean => TICKS.has(sign);

/** The turn that a post of ours belongs to, from its key. */
const turnOf = (key: string): string | undefined => /^(?:reply|stops):(.+)$/u.exec(key)?.[1];

/** Hold points that wait behind a message: one that reported them, a flag about them, or the job sheet. */
const holdsBehind = async (
  floor: Floor,
  found: ShelvedJob,
  delivery: Reaction,
): Promise<readonly HoldState[]> => {
  const { view, events } = found.state;
  const waiting = view.holds.filter(({ state }) => state === 'waits' || state === 'refused');
  if (waiting.length === 0) return [];
  const reported = (message: string): readonly HoldState[] =>
    waiting.filter((hold) =>
      view.reports.some(
        ({ message: of, act }) =>
          of === message &&
          act.step === hold.step &&
          (hold.position === null ||
            act.positions.length === 0 ||
            act.positions.includes(hold.position)),
      ),
    );
  const own = messageId(delivery);
  if (events.some((event) => event.kind === 'message-posted' && event.message === own))
    return reported(own);
  const posts = (await floor.store.load(view.job))?.posts ?? [];
  const post = posts.find(
    (ref) =>
      ref.channel === delivery.channel &&
      ref.place === delivery.place &&
      ref.message === delivery.message,
  );
  const root = found.threads.some(
    (ref) =>
      ref.channel === delivery.channel &&
      ref.place === delivery.place &&
      ref.thread === delivery.message,
  );
  if (root || post?.key === 'sheet') return waiting;
  const turn = post && turnOf(post.key);
  if (turn === undefined) return [];
  const flagged = events.flatMap((event) =>
    event.kind === 'flag-announced' && event.id.startsWith(`${turn}:announced:not-released|`)
      ? [event.flag.split('|')]
      : [],
  );
  const named = waiting.filter((hold) =>
    flagged.some(
      ([, step, position]) => step === hold.step && (position || null) === hold.position,
    ),
  );
  const message = events.find(
    (event) => event.kind === 'message-posted' && event.id === `${turn}:posted`,
  );
  return named.length > 0 || message?.kind !== 'message-posted' ? named : reported(message.message);
};

const confirmCard = (job: string, holds: readonly HoldState[], found: ShelvedJob): Card => {
  const { view } = found.state;
  const names = holds.map((hold) => stepAt(view, hold.step, hold.position));
  const text = `A tick releases nothing. To release ${names.map((name) => `"${name}"`).join(' and ')}, tap the button.`;
  return {
    text,
    blocks: [{ kind: 'text', text }],
    actions: holds.flatMap((hold, index) =>
      releaseActions(job, hold.step, hold.position).map((action) => ({
        ...action,
        ...(action.intent.do === 'release' || action.intent.do === 'refuse'
          ? {
              intent: { ...action.intent, ...(holds.length === 1 ? { asked: true as const } : {}) },
            }
          : {}),
        label: holds.length > 1 ? `${action.label}: ${names[index] ?? ''}` : action.label,
      })),
    ),
  };
};

/** Asks once for each tick; one that is taken off and put on again is asked about again. */
export const takeSign = async (floor: Floor, delivery: Reaction, person: Person): Promise<void> => {
  const { store } = floor;
  if (!isTick(delivery.sign)) return store.settle(delivery.id);
  const mark = `tick:${messageId(delivery)}:${delivery.person}`;
  const asked = (await store.mark(mark)) === 'asked';
  if (!delivery.on) {
    if (asked) await store.setMark(mark, '');
    return store.settle(delivery.id);
  }
  if (asked) return store.settle(delivery.id);
  for (const { job } of await floor.openJobs()) {
    const found = await floor.legible(job);
    const holds = found ? await holdsBehind(floor, found, delivery) : [];
    if (!found || holds.length === 0) continue;
    const rights = holds.map((hold) => mayRelease(found.state.view, person, hold));
    const free = holds.filter((_, index) => rights[index]?.ok);
    const refusal = rights.find((right) => !right.ok);
    // Whoever could never release it may tick as they like: colleagues do that to say "seen".
    if (free.length === 0 && !person.roles.includes('controller')) break;
    const thread = found.threads.find((ref) => ref.channel === delivery.channel)?.thread;
    const says = refusal && !refusal.ok ? refusal.says : '';
    await store.setMark(mark, 'asked');
    await floor.reply(
      { ...delivery, ...(thread ? { thread } : {}) },
      free.length > 0
        ? confirmCard(job, free, found)
        : { text: says, blocks: [{ kind: 'text', text: says }] },
    );
    break;
  }
  return store.settle(delivery.id);
};
