// What the platform tells the app: signed requests or envelopes over the socket, repeated without an acknowledgement, and
// with knobs for what really happens: twice, late, in another order, and answers that get lost.
import { createHmac } from 'node:crypto';
import type { Schedule } from '../../../../src/schedule/timers.ts';
import type { Socket } from './web-socket.ts';

export type Json = Record<string, unknown>;
export type Kind = 'events_api' | 'interactive' | 'slash_commands';

/** One attempt of a delivery; `ok` where the platform saw the acknowledgement. */
export type Attempt = {
  readonly kind: Kind;
  readonly ok: boolean;
  readonly attempt: number;
  readonly body: Json;
};

type Needs = {
  /** The time now, milliseconds since 1970. */
  readonly now: () => number;
  readonly nextId: (letter: string) => string;
  readonly secret: string;
  /** Milliseconds until an acknowledgement counts as missing. */
  readonly patience: number;
  readonly schedule: Pick<Schedule, 'at'> | undefined;
  readonly sockets: readonly Socket[];
  /** Nothing gets through to the app. */
  readonly isAway: () => boolean;
};

const PATH: Readonly<Record<Kind, string>> = {
  events_api: '/slack/events',
  interactive: '/slack/actions',
  slash_commands: '/slack/commands',
};
/** Seconds before each attempt. Source: docs.slack.dev, apis/events-api: at once, after 1 and after 5 minutes. */
const ATTEMPT_AFTER = [0, 0, 60, 300] as const;
/** Seconds after which a message that was to change places with the next one comes anyway. */
const SWAPPED_FOR = 60;

const inside = (body: Json): Json => (body.event ?? {}) as Json;

/** Where a message of a person stands; undefined for anything else. */
const threadOf = (body: Json): string | undefined => {
  const event = inside(body);
  const isMessage = event.type === 'message' && event.subtype === undefined && !event.bot_id;
  return isMessage ? `${event.channel}:${event.thread_ts ?? ''}` : undefined;
};

export const makeDeliveries = (needs: Needs) => {
  const { now, nextId, secret, patience, schedule, sockets, isAway } = needs;
  const attempted: Attempt[] = [];
  /** Events that were given up after the last attempt. */
  const givenUp: Json[] = [];
  const background = new Set<Promise<unknown>>();
  const waitingForAck = new Map<string, (payload: unknown) => void>();
  const swapped = new Map<string, () => Promise<unknown>>();
  let line = new AbortController();
  let target: string | undefined;
  let closed = false;
  let held: (() => Promise<unknown>)[] | undefined;
  let doubles = { left: 0, anew: false };
  let late = { left: 0, seconds: 0 };
  let swaps = 0;
  let lostAcks = 0;
  let heard: ((body: Json) => void) | undefined;

  const track = <T>(work: Promise<T>): Promise<T> => {
    background.add(work);
    void work.catch(() => undefined).finally(() => background.delete(work));
    return work;
  };
  const after = (seconds: number, run: () => Promise<unknown>): void => {
    if (!schedule) throw new Error('Give the stand-in a schedule for what comes later.');
    const when = new Date(now() + seconds * 1000).toISOString();
    schedule.at(`stand-in:${nextId('L')}`, when, () => void track(run()));
  };

  const overHttp = async (kind: Kind, body: Json, retry: number): Promise<unknown> => {
    const text =
      kind === 'events_api'
        ? JSON.stringify(body)
        : kind === 'interactive'
          ? new URLSearchParams({ payload: JSON.stringify(body) }).toString()
          : new URLSearchParams(body as Record<string, string>).toString();
    const timestamp = String(Math.floor(now() / 1000));
    const signature = createHmac('sha256', secret).update(`v0:${timestamp}:${text}`).digest('hex');
    const response = await fetch(`${target}${PATH[kind]}`, {
      method: 'POST',
      body: text,
      signal: AbortSignal.any([AbortSignal.timeout(patience), line.signal]),
      headers: {
        'content-type':
          kind === 'events_api' ? 'application/json' : 'application/x-www-form-urlencoded',
        'x-slack-request-timestamp': timestamp,
        'x-slack-signature': `v0=${signature}`,
        ...(retry > 0
          ? { 'x-slack-retry-num': String(retry), 'x-slack-retry-reason': 'http_error' }
          : {}),
      },
    });
    const answer = await response.text();
    if (!response.ok) throw new Error(`answered ${response.status}`);
    return answer === '' ? {} : JSON.parse(answer);
  };

  const overSocket = (kind: Kind, body: Json, retry: number): Promise<unknown> => {
    const socket = sockets.find((each) => each.open());
    if (!socket) return Promise.reject(new Error('no socket'));
    const envelope = nextId('E');
    const { signal } = line;
    return new Promise((resolve, reject) => {
      const end = (): void => {
        clearTimeout(timer);
        signal.removeEventListener('abort', lost);
        waitingForAck.delete(envelope);
      };
      const lost = (): void => {
        end();
        reject(new Error('no acknowledgement'));
      };
      const timer = setTimeout(lost, patience);
      signal.addEventListener('abort', lost);
      waitingForAck.set(envelope, (payload) => {
        end();
        resolve(payload);
      });
      socket.send(
        JSON.stringify({
          envelope_id: envelope,
          type: kind,
          payload: body,
          accepts_response_payload: kind !== 'events_api',
          ...(retry > 0 ? { retry_attempt: retry, retry_reason: 'timeout' } : {}),
        }),
      );
    });
  };

  const attempts = async (kind: Kind, body: Json, attempt = 0): Promise<unknown> => {
    try {
      if (isAway()) throw new Error('the app is not reached');
      const answer = await (target ? overHttp : overSocket)(kind, body, attempt);
      heard?.(body);
      if (lostAcks > 0) {
        lostAcks -= 1;
        throw new Error('the acknowledgement was lost');
      }
      attempted.push({ kind, ok: true, attempt, body });
      return answer;
    } catch {
      attempted.push({ kind, ok: false, attempt, body });
      // What people tap or command is not sent again: they are told that it did not work.
      if (kind !== 'events_api' || closed) return undefined;
      const seconds = ATTEMPT_AFTER[attempt + 1];
      if (seconds === undefined) return void givenUp.push(body);
      if (seconds === 0 || !schedule) return attempts(kind, body, attempt + 1);
      return after(seconds, () => attempts(kind, body, attempt + 1));
    }
  };

  /** Resolves to what the app answered; undefined where nothing was taken, or is only sent later. */
  const send = (kind: Kind, body: Json): Promise<unknown> => {
    const once = async (): Promise<unknown> => {
      const work = [attempts(kind, body)];
      if (kind === 'events_api' && doubles.left > 0) {
        doubles.left -= 1;
        work.push(attempts(kind, doubles.anew ? { ...body, event_id: nextId('Ev') } : body));
      }
      return (await Promise.all(work))[0];
    };
    if (kind !== 'events_api') return track(once());
    if (held) {
      held.push(once);
      return Promise.resolve(undefined);
    }
    const thread = threadOf(body);
    if (thread !== undefined && late.left > 0) {
      late.left -= 1;
      after(late.seconds, once);
      return Promise.resolve(undefined);
    }
    if (thread === undefined) return track(once());
    const behind = swapped.get(thread);
    // One that waits already comes behind this one, and is not forgotten for another that is to wait.
    if (!behind && swaps > 0) {
      swaps -= 1;
      const come = (): Promise<unknown> => {
        if (swapped.get(thread) !== come) return Promise.resolve();
        swapped.delete(thread);
        return once();
      };
      swapped.set(thread, come);
      if (schedule) after(SWAPPED_FOR, come);
      return Promise.resolve(undefined);
    }
    if (!behind) return track(once());
    return track(
      once().then(async (answer) => {
        await behind();
        return answer;
      }),
    );
  };

  return {
    send,
    attempted,
    givenUp,
    /** An acknowledgement came over the socket. */
    acknowledge: (envelope: string, payload: unknown): void =>
      waitingForAck.get(envelope)?.(payload),
    deliverTo: (url: string | undefined): void => {
      target = url;
    },
    /** Told of everything the app acknowledges, in the moment in which the platform sees it. */
    onHeard: (listener: (body: Json) => void): void => {
      heard = listener;
    },
    isBusy: (): boolean => background.size > 0,
    settled: async (): Promise<void> => {
      while (background.size > 0) await Promise.allSettled([...background]);
    },
    close: (): void => {
      closed = true;
      line.abort();
    },
    knobs: {
      /** The next deliveries arrive twice: with the same event_id, or with another one. */
      double: (times: number, anew = false): void => {
        doubles = { left: times, anew };
      },
      /** The next messages arrive so many seconds later. */
      late: (times: number, seconds: number): void => {
        late = { left: times, seconds };
      },
      /** The next messages each change places with the one behind them in the same thread. */
      swap: (times: number): void => {
        swaps += times;
      },
      /** Events wait until `release`. */
      hold: (): void => {
        held ??= [];
      },
      release: async (order: 'as posted' | 'reversed' = 'as posted'): Promise<void> => {
        const waiting = held ?? [];
        held = undefined;
        for (const run of order === 'reversed' ? waiting.reverse() : waiting) await track(run());
      },
      /** Acknowledgements that never reach the platform: it sends again. */
      loseAck: (times: number): void => {
        lostAcks = times;
      },
      /** Whatever is under way is not acknowledged any more: the app was killed in the middle of it. */
      hangUp: (): void => {
        line.abort();
        line = new AbortController();
      },
    },
  };
};
