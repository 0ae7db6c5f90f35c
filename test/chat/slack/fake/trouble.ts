// What goes wrong with calls of the app: a call may fail before or after it took effect, a method or a channel may be
// called too often, and the whole platform may be away.
import type { Args } from './methods.ts';

export type How = '429' | '500' | 'reset' | 'hang' | { readonly error: string };

export type Failure = {
  readonly how: How;
  /** Done all the same: the answer is lost, not the call. */
  readonly after: boolean;
  /** Seconds in the Retry-After of a 429. */
  readonly seconds: number;
};

export type Limits = {
  /** Seconds between two messages in one channel, threads included; 0 for no such limit. */
  readonly channelSeconds?: number;
  /** Calls in any 60 seconds, by method. */
  readonly perMinute?: Readonly<Record<string, number>>;
};

/** Source: docs.slack.dev, apis/web-api/rate-limits: tier 2 takes 20, tier 3 takes 50 and more calls a minute. */
export const TIERS: Limits = {
  channelSeconds: 1,
  perMinute: {
    'chat.update': 50,
    'reactions.add': 50,
    'reactions.remove': 20,
    'pins.add': 20,
    'conversations.history': 50,
    'conversations.replies': 50,
    'conversations.open': 50,
    'files.completeUploadExternal': 50,
  },
};

export type Hurried = { readonly method: string; readonly channel: string; readonly at: number };

export type Trouble = {
  readonly fail: (method: string, how: How, times: number, after: boolean, seconds: number) => void;
  readonly limit: (limits: Limits) => void;
  readonly away: (is: boolean) => void;
  readonly isAway: () => boolean;
  /** What becomes of a call that has just come in; undefined where it is carried out and answered as usual. */
  readonly of: (method: string, args: Args) => Failure | undefined;
  /** Calls that came faster than the limits allow; each was answered with 429. */
  readonly hurried: readonly Hurried[];
  /** How often each kind of trouble met a call. */
  readonly met: ReadonlyMap<string, number>;
};

const RESET: Failure = { how: 'reset', after: false, seconds: 0 };

/** @param now milliseconds since 1970 */
export const makeTrouble = (now: () => number): Trouble => {
  const failing = new Map<string, (Failure & { left: number })[]>();
  const hurried: Hurried[] = [];
  const met = new Map<string, number>();
  /** Times of the last accepted calls: by channel for messages, by method for the rest. */
  const lastPost = new Map<string, number>();
  const lately = new Map<string, number[]>();
  let limits: Limits = {};
  let isAway = false;

  const count = (what: string): void => void met.set(what, (met.get(what) ?? 0) + 1);

  const planned = (method: string): Failure | undefined => {
    const name = failing.has(method) ? method : '*';
    const [first, ...rest] = failing.get(name) ?? [];
    if (!first) return undefined;
    first.left -= 1;
    if (first.left === 0) {
      if (rest.length > 0) failing.set(name, rest);
      else failing.delete(name);
    }
    return first;
  };

  /** Seconds to wait, where the call comes too soon. */
  const tooSoon = (method: string, args: Args): number | undefined => {
    const channel = args.channel ?? args.channel_id ?? '';
    const gap = (limits.channelSeconds ?? 0) * 1000;
    if (gap > 0 && method === 'chat.postMessage') {
      const left = (lastPost.get(channel) ?? Number.NEGATIVE_INFINITY) + gap - now();
      if (left > 0) return Math.ceil(left / 1000);
    }
    const most = limits.perMinute?.[method];
    if (most !== undefined) {
      const recent = (lately.get(method) ?? []).filter((at) => at > now() - 60_000);
      const [oldest] = recent;
      if (recent.length >= most && oldest !== undefined)
        return Math.max(1, Math.ceil((oldest + 60_000 - now()) / 1000));
      lately.set(method, [...recent, now()]);
    }
    if (method === 'chat.postMessage') lastPost.set(channel, now());
    return undefined;
  };

  return {
    hurried,
    met,
    fail: (method, how, times, after, seconds) => {
      if (times > 0)
        failing.set(method, [...(failing.get(method) ?? []), { how, after, seconds, left: times }]);
    },
    limit: (given) => {
      limits = given;
    },
    away: (is) => {
      isAway = is;
    },
    isAway: () => isAway,
    of: (method, args) => {
      if (isAway) {
        count('away');
        return RESET;
      }
      const failure = planned(method);
      if (failure) {
        const { how, after } = failure;
        count(`${typeof how === 'string' ? how : 'error'} ${after ? 'after' : 'before'}`);
        return failure;
      }
      const seconds = tooSoon(method, args);
      if (seconds === undefined) return undefined;
      count('too soon');
      hurried.push({ method, channel: args.channel ?? '', at: now() });
      return { how: '429', after: false, seconds };
    },
  };
};
