// A disk that refuses, or a stored file that is damaged, is said in the common place of every channel. It goes past the
// outbox, since the disk that would keep it is the one in trouble; what a channel does not take is tried again.
import type { Channel, Place, PostResult } from '../chat/channel.ts';
import type { Card } from '../desk/card.ts';
import type { Schedule } from '../schedule/timers.ts';
import type { Log } from './trail.ts';

/** A trouble of the store fits it. */
export type Trouble = {
  readonly kind: string;
  readonly what: string;
  readonly where: string;
  readonly todo: string;
};

type Parts = {
  readonly channels: () => readonly Channel[];
  readonly homes: Readonly<Partial<Record<Channel['name'], Place>>>;
  readonly schedule: Schedule;
  readonly clock: () => string;
  readonly log: Log;
};

export type TroubleTeller = {
  readonly tell: (trouble: Trouble) => void;
  /** The channels are joined: what was met before is said as one. */
  readonly begin: () => void;
};

const AGAIN_SECONDS = 60;
/** Cards kept for a channel that does not take them; the oldest go first. */
const MOST_WAITING = 20;
/** While the program runs these are said where the job they concern is looked at, each once. */
const SAID_ELSEWHERE: ReadonlySet<string> = new Set(['damaged', 'missing', 'closed']);

const sentence = ({ what, where, todo }: Trouble): string => `${what} ${where}. ${todo}`;

const cardOf = (lines: readonly string[]): Card => {
  const title = 'The program needs somebody to look at its data folder';
  const text = `${title}: ${lines.join(' ')}`;
  return {
    text,
    level: 'stop',
    title,
    blocks: lines.map((line) => ({ kind: 'text' as const, text: line })),
  };
};

/** A channel that is not started, or stopped already, throws at once. */
const tried = async (post: () => Promise<PostResult>) => {
  try {
    return await post();
  } catch (error) {
    return { ok: false as const, failure: { why: (error as Error).message } };
  }
};

type Waiting = { readonly key: string; readonly card: Card };

export const troubleTeller = ({ channels, homes, schedule, clock, log }: Parts): TroubleTeller => {
  const early: string[] = [];
  const waiting = new Map<Channel['name'], readonly Waiting[]>();
  let begun = false;
  let number = 0;

  const post = async (channel: Channel): Promise<void> => {
    const home = homes[channel.name];
    const cards = waiting.get(channel.name) ?? [];
    waiting.delete(channel.name);
    if (home === undefined) return;
    const left: Waiting[] = [];
    for (const each of cards) {
      const result = await tried(() => channel.post(home, each.card, each.key));
      if (result.ok) continue;
      left.push(each);
      log('warn', 'a trouble could not be told and is told later', {
        channel: channel.name,
        failure: result.failure,
      });
    }
    if (left.length === 0) return;
    waiting.set(channel.name, [...left, ...(waiting.get(channel.name) ?? [])].slice(-MOST_WAITING));
    const again = new Date(Date.parse(clock()) + AGAIN_SECONDS * 1000).toISOString();
    schedule.at(`tell-trouble:${channel.name}`, again, () => void post(channel));
  };

  const say = (lines: readonly string[]): void => {
    number += 1;
    const each = { key: `trouble|${clock()}|${number}`, card: cardOf(lines) };
    for (const channel of channels()) {
      waiting.set(channel.name, [...(waiting.get(channel.name) ?? []), each].slice(-MOST_WAITING));
      void post(channel);
    }
  };

  return {
    tell: (trouble) => {
      if (!begun) early.push(sentence(trouble));
      else if (!SAID_ELSEWHERE.has(trouble.kind)) say([sentence(trouble)]);
    },
    begin: () => {
      begun = true;
      if (early.length > 0) say(early.splice(0));
    },
  };
};
