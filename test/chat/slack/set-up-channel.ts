// A Slack channel joined to the stand-in, with a floor that only keeps what it is given.
import type { Delivery } from '../../../shared/delivery.ts';
import type { Intake } from '../../../src/chat/channel.ts';
import { type SlackParts, slackChannel } from '../../../src/chat/slack/slack-channel.ts';
import type { SlackTokens } from '../../../src/chat/slack/tokens.ts';
import type { Form, Intent } from '../../../src/desk/card.ts';
import { APP_TOKEN, BOT_TOKEN, type FakeSlack, fakeSlack, SIGNING_SECRET } from './fake-slack.ts';

export const START = '2026-03-02T09:00:00.000Z';
export const ADA = 'U0ADA001';
export const ROBIN = 'U0ROBIN1';
export const PEOPLE = [
  { name: 'Ada', slack: ADA },
  { name: 'Robin', slack: ROBIN },
  { name: 'Mo' },
];

/** A time that stands still until it is moved on. */
export const stillClock = (at = START) => {
  let now = Date.parse(at);
  return {
    now: () => new Date(now).toISOString(),
    forward: (seconds: number): void => {
      now += seconds * 1000;
    },
  };
};

export const tokensFor = (mode: SlackTokens['mode']): SlackTokens => ({
  mode,
  bot: BOT_TOKEN,
  port: 0,
  host: '127.0.0.1',
  app: APP_TOKEN,
  signingSecret: SIGNING_SECRET,
});

/** Keeps deliveries as a store does: an id or a key that was kept before is seen. */
export const keeper = (
  formFor: (intent: Intent) => Form | undefined = () => undefined,
  more: Partial<Intake> = {},
) => {
  const kept: Delivery[] = [];
  const aside: Delivery[] = [];
  const known = new Set<string>();
  let failures = 0;
  const intake: Intake = {
    accept: async (delivery) => {
      if (failures > 0) {
        failures -= 1;
        throw new Error('the disk is full');
      }
      const ids = [delivery.id, ...delivery.keys];
      const seen = ids.some((id) => known.has(id));
      for (const id of ids) known.add(id);
      if (!seen) kept.push(delivery);
      return seen ? 'seen' : 'new';
    },
    formFor: async (intent) => formFor(intent),
    setAside: async (delivery) => void aside.push(delivery),
    ...more,
  };
  return {
    intake,
    kept,
    /** Messages that wait for a form to be filled. */
    aside,
    texts: () => kept.flatMap((each) => ('text' in each ? [each.text] : [])),
    /** The next deliveries cannot be kept. */
    fail: (times: number): void => {
      failures = times;
    },
  };
};

export const memoryStore = (threads: readonly { place: string; thread: string }[] = []) => {
  const marks = new Map<string, string>();
  return {
    marks,
    mark: async (name: string) => marks.get(name),
    setMark: async (name: string, value: string) => {
      marks.set(name, value);
    },
    list: async () => [
      {
        status: 'open',
        threads: threads.map((each) => ({ channel: 'slack' as const, ...each })),
      },
    ],
  };
};

export type LogLine = readonly [level: string, what: string, more?: object | undefined];

/** The channel for a stand-in, not started. Waits are as short as can be, so that nothing hangs on the clock. */
export const channelFor = (
  fake: FakeSlack,
  mode: SlackTokens['mode'],
  clock: () => string,
  parts: Partial<SlackParts> = {},
) => {
  const log: LogLine[] = [];
  const channel = slackChannel({
    tokens: tokensFor(mode),
    clock,
    store: memoryStore(),
    settings: { people: PEOPLE, slack: { channel: fake.channel } },
    log: (...line) => log.push(line),
    clientOptions: { slackApiUrl: fake.url, timeout: 1_000 },
    ...parts,
  });
  return { channel, log };
};

const pause = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 10));

/** Everything joined and started. */
export const joined = async (
  mode: SlackTokens['mode'],
  more: {
    readonly formFor?: (intent: Intent) => Form | undefined;
    readonly parts?: Partial<SlackParts>;
    readonly patience?: number;
    /** What the floor hands out of the store. */
    readonly files?: NonNullable<Intake['fileOf']>;
    /** What else the floor offers. */
    readonly intake?: Partial<Intake>;
    /** A stand-in that is there already. */
    readonly fake?: FakeSlack;
  } = {},
) => {
  const time = stillClock();
  const fake =
    more.fake ??
    (await fakeSlack({
      clock: time.now,
      ...(more.patience === undefined ? {} : { patience: more.patience }),
    }));
  const floor = keeper(more.formFor, {
    ...(more.files ? { fileOf: more.files } : {}),
    ...more.intake,
  });
  const { channel, log } = channelFor(fake, mode, time.now, more.parts);
  await channel.start(floor.intake);
  const address = channel.address();
  if (address) fake.deliverTo(address);
  // What was missed before the start is read first; a test begins behind that.
  const isRead = (): boolean => fake.calls.some((call) => call.method === 'conversations.history');
  for (let looks = 0; looks < 50 && !isRead(); looks += 1) await pause();
  await pause();
  return {
    time,
    fake,
    floor,
    channel,
    log,
    end: async () => {
      await channel.stop();
      await fake.close();
    },
  };
};

/** Resolves once something is so; fails after a number of looks, not by the clock's word. */
export const until = async (so: () => boolean, what = 'it came true'): Promise<void> => {
  for (let look = 0; look < 600; look += 1) {
    if (so()) return;
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  throw new Error(`Waited in vain until ${what}.`);
};

/** Waits are cut short, but for the 20 s in which a connection has to say hello. */
export const quick = (seconds: number, signal?: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    const timer = setTimeout(resolve, seconds === 20 ? 4_000 : 5);
    signal?.addEventListener('abort', () => {
      clearTimeout(timer);
      resolve();
    });
  });
