// The day in Slack: the stand-in on loopback, over signed requests or over the socket, as strict about pace as the platform.

import { slackChannel } from '../../../../src/chat/slack/slack-channel.ts';
import type { SlackTokens } from '../../../../src/chat/slack/tokens.ts';
import type { ClientOptions } from '../../../../src/chat/slack/web.ts';
import type { Intent } from '../../../../src/desk/card.ts';
import { type Hurried, TIERS } from '../fake/trouble.ts';
import type { FakeMessage } from '../fake/workspace.ts';
import { fakeSlack, keyOf } from '../fake-slack.ts';
import { tokensFor } from '../set-up-channel.ts';
import type { Button, Life, MakeDayPlatform, Standing } from './day-platform.ts';

/** Milliseconds; only what hangs waits for it. */
const TIME_LIMIT = 250;
const SPOILT = [
  'chat.postMessage',
  'chat.update',
  'reactions.add',
  'conversations.replies',
] as const;
const HOWS = ['429', '500', 'reset', '500', 'reset', 'hang'] as const;

/** Seconds for which the channel makes a delivery wait for what was missed before it. */
const HELD_UP = 2;

const never = <T>(): Promise<T> => new Promise(() => undefined);

/** Waits for the day's clock, not for the real one. */
const waitOn = (life: Life) => {
  let count = 0;
  return (seconds: number, signal?: AbortSignal): Promise<void> =>
    new Promise((resolve) => {
      if (signal?.aborted) return resolve();
      // For so long a delivery or a farewell is kept waiting while the clock stands: the platform's patience is real.
      if (seconds === HELD_UP) return void setTimeout(resolve, 20);
      count += 1;
      const key = `wait:${count}`;
      const end = (): void => {
        life.schedule.cancel(key);
        signal?.removeEventListener('abort', end);
        resolve();
      };
      signal?.addEventListener('abort', end);
      life.schedule.at(key, new Date(Date.parse(life.clock()) + seconds * 1000).toISOString(), end);
    });
};

const buttonsOf = (message: FakeMessage): readonly Button[] =>
  message.blocks
    .filter((block) => block.type === 'actions')
    .flatMap((block) => block.elements as readonly Record<string, unknown>[])
    .filter((element) => element.type === 'button' && typeof element.value === 'string')
    .map((element) => ({
      label: (element.text as { readonly text: string }).text,
      intent: JSON.parse(element.value as string) as Intent,
      hasForm: String(element.action_id).startsWith('form.'),
    }));

/** Ids under which the channel keeps what arrives: workspace, channel and the message's own ts. */
const deliveryIdOf = (team: string, body: Record<string, unknown>): string | undefined => {
  const event = (body.event ?? {}) as Record<string, unknown>;
  if (event.type !== 'message') return undefined;
  const inner = (event.message ?? event.previous_message ?? event) as Record<string, unknown>;
  if (inner.bot_id !== undefined) return undefined;
  const id = `slack:${team}:${event.channel}:${inner.ts}`;
  if (event.subtype === 'message_deleted') return `${id}:deleted`;
  if (event.subtype !== 'message_changed') return id;
  return `${id}:edited:${(inner.edited as { readonly ts: string }).ts}`;
};

/** Calls that came too soon, by method. */
const hurriedBy = (hurried: readonly Hurried[]): Readonly<Record<string, number>> => {
  const by: Record<string, number> = {};
  for (const { method } of hurried)
    by[`too soon: ${method}`] = (by[`too soon: ${method}`] ?? 0) + 1;
  return by;
};

/** What stands before several processes and hands requests on. */
export type Front = {
  readonly address: string;
  readonly add: (target: string) => void;
  readonly remove: (target: string) => void;
};

/** @param front where several processes live at once, over HTTP: what is before them */
export const daySlack =
  (mode: SlackTokens['mode'], front?: () => Front): MakeDayPlatform =>
  async ({ clock, schedule, settings }) => {
    const fake = await fakeSlack({ clock, schedule, patience: 5_000 });
    fake.knobs.limit(TIERS);
    const thrown: Record<string, number> = {};
    const count = (what: string): void => {
      thrown[what] = (thrown[what] ?? 0) + 1;
    };
    let calls = 0;
    /** Connections that were promised an address and are still to come, of the process that lives. */
    let coming = 0;
    let opened = fake.opened();
    const idOf = (name: string): string =>
      settings.people.find((person) => person.name === name)?.slack ?? '';
    return {
      name: 'slack',
      how: mode === 'http' ? 'Slack over HTTP' : 'Slack over the socket',
      home: { team: fake.team, place: fake.channel },
      recorded: 'memo',
      busy: () => {
        const now = fake.opened();
        coming = Math.max(0, coming - (now - opened));
        opened = now;
        return calls + coming + (fake.isBusy() ? 1 : 0);
      },
      join: (life) => {
        let dead = false;
        let own = '';
        const comes = (address: string): void => {
          own = address;
          front?.().add(address);
          fake.deliverTo(front?.().address ?? address);
        };
        const goes = (): void => {
          if (front === undefined) fake.deliverTo(undefined);
          else if (own !== '') front().remove(own);
          own = '';
        };
        /** A call that was under way when the process died comes back to nobody, and nothing waits for it. */
        const counted = async (...given: Parameters<typeof fetch>): Promise<Response> => {
          if (dead) return never();
          calls += 1;
          const done = await fetch(...given)
            .then(async (answer) => {
              const bytes = await answer.arrayBuffer();
              return new Response(bytes, { status: answer.status, headers: answer.headers });
            })
            .catch((error: unknown) => ({ error }));
          calls -= 1;
          if (dead) return never();
          if ('error' in done) throw done.error;
          if (String(given[0]).endsWith('apps.connections.open') && done.ok) coming += 1;
          return done;
        };
        const channel = slackChannel({
          tokens: tokensFor(mode),
          clock: life.clock,
          store: life.store,
          settings: { people: settings.people, slack: { channel: fake.channel } },
          log: () => undefined,
          clientOptions: {
            slackApiUrl: fake.url,
            timeout: TIME_LIMIT,
            fetch: counted as NonNullable<ClientOptions['fetch']>,
          },
          wait: waitOn(life),
        });
        return {
          channel: {
            ...channel,
            start: async (intake) => {
              await channel.start(intake);
              const address = channel.address();
              if (address && !dead) comes(address);
            },
            stop: async () => {
              await channel.stop();
              coming = 0;
              goes();
            },
          },
          kill: () => {
            dead = true;
            coming = 0;
            goes();
            fake.knobs.hangUp();
            fake.knobs.cut();
            void channel.stop();
          },
        };
      },
      post: (by, text, thread) => fake.post(idOf(by), fake.channel, text, thread ? { thread } : {}),
      edit: (_by, message, text) => fake.edit(fake.channel, message, text),
      remove: (_by, message) => fake.delete(fake.channel, message),
      react: (by, message, sign) => fake.react(idOf(by), fake.channel, message, sign),
      tap: async (by, message, button, fields) => {
        const taken = await fake.tap(idOf(by), fake.channel, message, button.label);
        if (!taken || Object.keys(fields).length === 0) return taken;
        return fake.submitForm(idOf(by), fields);
      },
      standing: () =>
        fake.everything().map(
          (each): Standing => ({
            message: each.ts,
            thread: each.thread_ts,
            byBot: each.bot_id !== undefined,
            key: keyOf(each),
            text: each.text,
            deleted: each.deleted === true,
            signs: [...each.reactions].flatMap(([name, who]) =>
              who.has(fake.bot.user) ? [name] : [],
            ),
            buttons: buttonsOf(each),
          }),
        ),
      double: (anew) => {
        count(anew ? 'doubles under another id' : 'doubles under the same id');
        fake.knobs.double(1, anew);
      },
      swap: () => {
        count('swapped');
        fake.knobs.swap(1);
      },
      loseAck: () => {
        count('lost acknowledgements');
        fake.knobs.loseAck(1);
      },
      spoilCall: (random) => {
        const method = SPOILT[Math.floor(random() * SPOILT.length)] ?? '*';
        const how = HOWS[Math.floor(random() * HOWS.length)] ?? '500';
        // A call that is told to wait was never carried out.
        const after = how !== '429' && random() < 0.5;
        fake.knobs.fail(method, how, 1, after, 1 + Math.floor(random() * 30));
      },
      outage: (is) => {
        if (is) count('outages');
        coming = 0;
        fake.knobs.outage(is);
      },
      onAcknowledged: (listener) =>
        fake.onHeard((body) => {
          const id = deliveryIdOf(fake.team, body);
          if (id) listener(id);
        }),
      untold: () =>
        fake.givenUp.flatMap((body) => {
          const event = (body.event ?? {}) as Record<string, unknown>;
          return event.subtype === 'message_deleted' ? [String(event.deleted_ts)] : [];
        }),
      complaints: () => [
        ...fake.refused.map((what) => `refused: ${what}`),
        ...fake.twice().map((key) => `posted twice: ${key}`),
      ],
      thrown: () => ({
        ...thrown,
        ...Object.fromEntries([...fake.met].map(([what, times]) => [`calls: ${what}`, times])),
        ...hurriedBy(fake.hurried),
        'deliveries given up': fake.givenUp.length,
        'deliveries not acknowledged': fake.acknowledged.filter(({ ok }) => !ok).length,
      }),
      end: fake.close,
    };
  };
