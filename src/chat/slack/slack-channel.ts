// Slack behind the channel contract: takes what people do there, posts what the desk says, decides nothing about jobs.
import type { WebClient } from '@slack/web-api';
import type { Delivery } from '../../../shared/delivery.ts';
import type { Form, Intent } from '../../desk/card.ts';
import type { Channel, Intake } from '../channel.ts';
import { catchUp, type Thread } from './catch-up.ts';
import { fetchFile } from './fetch-file.ts';
import { type GapWatch, gapWatch } from './gap-watch.ts';
import { slackHome } from './home.ts';
import { listen } from './listeners.ts';
import { outgoing } from './outgoing.ts';
import { errorName, failureOf, isSettingError, sentenceFor } from './post-failure.ts';
import { RequestReceiver } from './request-receiver.ts';
import { type Marks, type SeenMark, seenMark } from './seen-mark.ts';
import type { SharedReceiver, TeamReceiver } from './shared-receiver.ts';
import type { SlackLog } from './slack-log.ts';
import { SocketReceiver } from './socket-receiver.ts';
import type { SlackTokens } from './tokens.ts';
import type { Self, Surroundings } from './translate-event.ts';
import { uploader } from './upload.ts';
import { waitSeconds } from './waiting.ts';
import { type ClientOptions, webClient } from './web.ts';

type StoredThread = {
  readonly channel: Delivery['channel'];
  readonly place: string;
  readonly thread: string;
};

/** What the channel needs of the store; the job store fits it. */
export type SlackStore = Marks & {
  /** Jobs with their threads: after an outage the threads of open jobs are read again. */
  readonly list?: () => Promise<
    readonly { readonly status: string; readonly threads: readonly StoredThread[] }[]
  >;
};

export type SlackParts = {
  readonly tokens: SlackTokens;
  /** The time now, ISO 8601 with offset. */
  readonly clock: () => string;
  readonly store: SlackStore;
  /** Who is who, and the channel of the workshop; the workshop's settings fit it. */
  readonly settings: {
    readonly people: readonly { readonly name: string; readonly slack?: string | undefined }[];
    readonly slack?: { readonly channel?: string | undefined } | undefined;
  };
  readonly log: SlackLog;
  /** Where the Web API is, and what fetches; Slack's own when left out. */
  readonly clientOptions?: ClientOptions;
  readonly wait?: (seconds: number, signal?: AbortSignal) => Promise<void>;
  /** For one workspace of several: what their requests come in by. */
  readonly receiver?: SharedReceiver;
  /** The app was taken out of the workspace, or its token was. */
  readonly onGone?: () => void;
  /** Seconds between two posts in one channel; Slack takes about one a second. */
  readonly paceSeconds?: number;
};

/** Source: docs.slack.dev, rate limits: "one message per second per channel". */
const PACE_SECONDS = 1;
/** Slack waits 3 seconds for an acknowledgement. */
const BEHIND_MISSED_SECONDS = 2;

export type SlackChannel = Channel & {
  /** Where the HTTP receiver listens, such as http://127.0.0.1:3000; undefined in Socket Mode and before the start. */
  readonly address: () => string | undefined;
};

/** A wrong setting: what, and what to do. */
export class SlackTrouble extends Error {
  readonly what: string;
  readonly doThis: string;
  constructor(what: string, doThis: string) {
    super(`${what} ${doThis}`);
    this.what = what;
    this.doThis = doThis;
  }
}

/** Who the bot is. Throws SlackTrouble where the token is not taken; any other failure as it is. */
const whoAmI = async (web: WebClient): Promise<Self> => {
  try {
    const answer = await web.auth.test();
    return {
      team: answer.team_id ?? '',
      user: answer.user_id ?? '',
      ...(answer.bot_id ? { bot: answer.bot_id } : {}),
    };
  } catch (error) {
    if (!isSettingError(error)) throw error;
    throw new SlackTrouble(
      `Slack refused the bot token: ${sentenceFor(errorName(error) ?? '')}`,
      'Run "npx chargehand doctor" once it is set.',
    );
  }
};

/** Joins a workspace as soon as it is started; nothing is asked of Slack before. */
export const slackChannel = (parts: SlackParts): SlackChannel => {
  const { tokens, clock, store, settings, log } = parts;
  const clientOptions: ClientOptions =
    parts.clientOptions ?? (tokens.apiUrl ? { slackApiUrl: tokens.apiUrl } : {});
  const wait = parts.wait ?? waitSeconds;
  const web = webClient(tokens.bot, clientOptions, log);
  // Looked up each time: people are added while the workshop runs.
  const nameOf = (id: string): string | undefined =>
    settings.people.find((each) => each.slack === id)?.name;
  const idOf = (name: string): string | undefined =>
    settings.people.find((each) => each.name === name)?.slack;
  const fetching = (clientOptions.fetch as typeof globalThis.fetch | undefined) ?? globalThis.fetch;
  const stopping = new AbortController();
  let self: Self = { team: '', user: '' };
  let receiver: RequestReceiver | SocketReceiver | TeamReceiver | undefined;
  let listensAt: string | undefined;
  let seen: SeenMark | undefined;
  let missed = false;
  let reading: Promise<void> | undefined;
  /** Settled once missed messages are read, or have been waited for long enough. */
  let behind: Promise<void> | undefined;
  let joining: Promise<void> | undefined;

  const around = (): Surroundings => ({ self, nameOf, now: clock() });
  const team = (): string => self.team;
  const { formOf, conversationOf, ...out } = outgoing({ web, team, idOf, clock, log });
  let intakeNow: Intake | undefined;
  let unwatch: (() => void) | undefined;
  const home = slackHome({
    web,
    marks: store,
    team,
    idOf,
    homeFor: async (person) => intakeNow?.homeFor?.(person, 'slack'),
    log,
    wait: (seconds) => wait(seconds, stopping.signal),
    stopped: () => stopping.signal.aborted,
  });
  const upload = uploader({
    web,
    team,
    marks: store,
    apiUrl: clientOptions.slackApiUrl,
    fetch: fetching,
    bytesOf: async (file) => intakeNow?.fileOf?.(file),
    conversationOf,
    wait: (seconds) => wait(seconds, stopping.signal),
    say: (place, text, key) => out.post(place, { text, blocks: [{ kind: 'text', text }] }, key),
  });

  const deliverTo =
    (intake: Intake) =>
    async (delivery: Delivery): Promise<void> => {
      await intake.accept(delivery);
      seen?.note(delivery.place, delivery.kind === 'message' ? delivery.message : undefined);
    };

  /** What arrives while missed messages are read comes behind them: a release before its report would release nothing. */
  const deliverLive =
    (intake: Intake) =>
    async (delivery: Delivery): Promise<void> => {
      await behind;
      await deliverTo(intake)(delivery);
    };

  const openThreads = async (): Promise<readonly Thread[]> =>
    ((await store.list?.()) ?? [])
      .filter((entry) => entry.status === 'open')
      .flatMap((entry) => entry.threads.filter((thread) => thread.channel === 'slack'));

  /** Reads what was missed since the mark, again and again until all of it could be read. */
  const readMissed = async (intake: Intake): Promise<void> => {
    for (let attempt = 0; !stopping.signal.aborted; attempt += 1) {
      try {
        const last = await seen?.load();
        if (!last) return;
        const threads = await openThreads();
        const home = settings.slack?.channel;
        const { read, whole } = await catchUp({
          web,
          around: around(),
          since: last.ts,
          places: [
            ...last.places,
            ...threads.map((thread) => thread.place),
            ...(home && /^[CG]/u.test(home) ? [home] : []),
          ],
          threads,
          accept: deliverTo(intake),
          heard: async (place, from) =>
            (await intake.heardIn?.({
              channel: 'slack',
              place,
              since: new Date(from * 1000).toISOString(),
            })) ?? [],
          log,
          wait: (seconds) => wait(seconds, stopping.signal),
        });
        if (read > 0)
          log('info', 'What was posted in Slack meanwhile was read.', { messages: read });
        if (whole) return;
      } catch (error) {
        log('warn', 'What was missed in Slack could not be read; it is tried again.', {
          failure: failureOf(error),
        });
      }
      await wait(Math.min(300, 30 * 2 ** attempt), stopping.signal);
    }
  };

  /** One reading at a time; a connection that comes during one makes it begin once more. */
  const connected = (intake: Intake): void => {
    missed = true;
    if (reading) return;
    const patience = new AbortController();
    behind = new Promise((resolve) => {
      patience.signal.addEventListener('abort', () => resolve(), { once: true });
      void wait(BEHIND_MISSED_SECONDS, patience.signal).then(resolve);
    });
    reading = (async () => {
      while (missed && !stopping.signal.aborted) {
        missed = false;
        await readMissed(intake);
      }
      reading = undefined;
      patience.abort();
      if (stopping.signal.aborted) return;
      seen?.release();
      await seen?.flush();
    })();
  };

  const receiverFor = (intake: Intake): RequestReceiver | SocketReceiver | TeamReceiver => {
    if (parts.receiver) return parts.receiver.forTeam(self.team);
    if (tokens.mode === 'http')
      return new RequestReceiver({
        signingSecret: tokens.signingSecret ?? '',
        port: tokens.port,
        host: tokens.host,
        clock,
        log,
      });
    return new SocketReceiver({
      appToken: tokens.app ?? '',
      clientOptions,
      log,
      onConnected: () => connected(intake),
      onLost: () => seen?.hold(),
      wait: (seconds, signal) => wait(seconds, signal),
    });
  };

  /** Over the socket a lost connection tells of a gap; over HTTP it has to be guessed. */
  const gaps = (intake: Intake): GapWatch =>
    gapWatch({
      clock,
      wait: (seconds) => wait(seconds, stopping.signal),
      stopped: () => stopping.signal.aborted,
      hold: () => seen?.hold(),
      onGap: () => {
        seen?.hold();
        connected(intake);
      },
    });

  const join = async (intake: Intake): Promise<void> => {
    self = await whoAmI(web);
    seen = seenMark(`slack:${self.team}`, store, clock, log);
    // Before the first start nothing was missed: what people wrote then was not written for the bot.
    if (!(await seen.load())) seen.note('', (Date.parse(clock()) / 1000).toFixed(6));
    await seen.flush();
    seen.hold();
    if (stopping.signal.aborted) return;
    receiver = receiverFor(intake);
    listen({
      receiver: receiver instanceof SocketReceiver ? receiver : gaps(intake).over(receiver),
      token: tokens.bot,
      clientOptions,
      web,
      around,
      deliver: deliverLive(intake),
      formFor: async (intent: Intent, person: string): Promise<Form | undefined> =>
        (await intake.formFor(intent, person, 'slack')) ?? formOf(intent),
      setAside: async (delivery) => intake.setAside?.(delivery),
      gone: () => {
        log('error', 'The app was taken out of the Slack workspace: nothing is heard from there.');
        parts.onGone?.();
      },
      homeOpened: (person) => void home.opened(person),
      log,
    });
    if (receiver instanceof SocketReceiver) return receiver.start();
    try {
      const { address, port } = await receiver.start();
      listensAt = `http://${address.includes(':') ? `[${address}]` : address}:${port}`;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE') throw error;
      throw new SlackTrouble(
        `Port ${tokens.port} for Slack is in use by another program.`,
        'Stop that program, or set SLACK_PORT to another one.',
      );
    }
    connected(intake);
  };

  /** While Slack is not to be reached the workshop works on; joining is tried until it succeeds or cannot. */
  const joinLater = async (intake: Intake): Promise<void> => {
    for (let attempt = 0; !stopping.signal.aborted; attempt += 1) {
      await wait(Math.min(60, 2 ** attempt), stopping.signal);
      if (stopping.signal.aborted) return;
      try {
        return await join(intake);
      } catch (error) {
        if (error instanceof SlackTrouble) return log('error', error.message);
        log('warn', 'Slack was not reached; it is tried again.', { failure: failureOf(error) });
      }
    }
  };

  return {
    name: 'slack',
    showsRecorded: 'reaction',
    address: () => listensAt,
    start: async (intake) => {
      intakeNow = intake;
      unwatch = intake.onChange?.(home.changed);
      try {
        await join(intake);
      } catch (error) {
        if (error instanceof SlackTrouble) throw error;
        log('warn', 'Slack was not reached; it is tried again.', { failure: failureOf(error) });
        joining = joinLater(intake);
      }
    },
    stop: async () => {
      stopping.abort();
      unwatch?.();
      await joining;
      await receiver?.stop();
      await reading;
      await home.idle();
      await seen?.flush();
    },
    ...out,
    paceSeconds: parts.paceSeconds ?? PACE_SECONDS,
    upload,
    direct: (_, person) => ({ team: team(), place: person, person }),
    nameOf: async (person) => {
      const { user } = await web.users.info({ user: person });
      return (
        user?.profile?.display_name || user?.profile?.real_name || user?.real_name || user?.name
      );
    },
    fetch: (from, limit) =>
      fetchFile(from, limit, {
        web,
        token: tokens.bot,
        apiUrl: clientOptions.slackApiUrl,
        fetch: fetching,
        wait: (seconds) => wait(seconds, stopping.signal),
      }),
  };
};
