// A stand-in for Slack on loopback, for whole conversations: a Web API with state, deliveries over HTTP (signed) or over a
// socket, and knobs for what goes wrong in real life. Everything the app sends is looked at strictly.
// It follows the platform's pages: echoes of the app's own posts, repeats without an acknowledgement, one thread per root.
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Duplex } from 'node:stream';
import type { Schedule } from '../../../src/schedule/timers.ts';
import { type Json, makeDeliveries } from './fake/deliveries.ts';
import { type Args, methodsOf } from './fake/methods.ts';
import { type How, type Limits, makeTrouble } from './fake/trouble.ts';
import { acceptSocket, type Socket } from './fake/web-socket.ts';
import { type FakeFile, type FakeMessage, makeWorkspace, shown } from './fake/workspace.ts';

export const BOT_TOKEN = 'xoxb-fake-bot';
export const APP_TOKEN = 'xapp-fake-app';
export const SIGNING_SECRET = 'fake-signing-secret';
export const CHANNEL = 'C0SHOP01';
export const CLIENT_ID = '1000000000001.2000000000002';
export const CLIENT_SECRET = 'fake-client-secret';

export type FakeOptions = {
  /** The time now, ISO; shared with the app so that signatures are fresh. */
  readonly clock: () => string;
  /** Milliseconds the platform waits for an acknowledgement before it sends again. */
  readonly patience?: number;
  /** Runs what comes late; with it repeats come at once, a minute and five minutes later, without it all at once. */
  readonly schedule?: Pick<Schedule, 'at'>;
  /** Another workspace than the usual one, with a bot token of its own. */
  readonly team?: string;
  readonly token?: string;
};

export type PostOptions = {
  readonly thread?: string;
  readonly broadcast?: boolean;
  /** As Slack stores it: with its own markup, not escaped. */
  readonly raw?: boolean;
  readonly files?: readonly {
    readonly name: string;
    readonly mimetype: string;
    readonly bytes: Uint8Array;
  }[];
};

/** The app's own key of a post, as it stands in the metadata. */
export const keyOf = (message: Pick<FakeMessage, 'metadata'>): string | undefined =>
  (message.metadata as { event_payload?: { key?: string } } | undefined)?.event_payload?.key;

const escaped = (text: string): string =>
  text.replace(/&/gu, '&amp;').replace(/</gu, '&lt;').replace(/>/gu, '&gt;');

const bodyOf = async (request: IncomingMessage): Promise<string> => {
  const parts: Buffer[] = [];
  for await (const part of request as AsyncIterable<Buffer>) parts.push(part);
  return Buffer.concat(parts).toString('utf8');
};

export type FakeSlack = Awaited<ReturnType<typeof fakeSlack>>;

export const fakeSlack = async ({
  clock,
  patience = 3_000,
  schedule,
  team,
  token: botToken = BOT_TOKEN,
}: FakeOptions) => {
  const now = (): number => Date.parse(clock());
  const space = makeWorkspace(now, team);
  const calls: { readonly method: string; readonly args: Args }[] = [];
  const refused: string[] = [];
  const sockets: Socket[] = [];
  const trouble = makeTrouble(now);
  const deliveries = makeDeliveries({
    now,
    nextId: space.nextId,
    secret: SIGNING_SECRET,
    patience,
    schedule,
    sockets,
    isAway: trouble.isAway,
  });
  const { send } = deliveries;
  let base = '';
  let mute = 0;
  let opened = 0;
  let failFiles = 0;
  let unfinished: (() => void)[] | undefined;

  // ---- deliveries -------------------------------------------------------------------------------------------------

  const event = (inner: Json): Promise<unknown> =>
    send('events_api', {
      token: 'gone',
      team_id: space.team,
      api_app_id: 'A0FAKE01',
      type: 'event_callback',
      event_id: space.nextId('Ev'),
      event_time: Math.floor(now() / 1000),
      authorizations: [{ team_id: space.team, user_id: space.bot.user, is_bot: true }],
      event: inner,
    });

  const interaction = (user: string, more: Json): { trigger: string; done: Promise<unknown> } => {
    const trigger = space.nextId('TR');
    space.triggers.set(trigger, user);
    return {
      trigger,
      done: send('interactive', {
        team: { id: space.team, domain: 'depot' },
        user: { id: user, username: user.toLowerCase(), team_id: space.team },
        api_app_id: 'A0FAKE01',
        token: 'gone',
        trigger_id: trigger,
        ...more,
      }),
    };
  };

  // ---- the Web API ------------------------------------------------------------------------------------------------

  const methods = methodsOf({
    space,
    base: () => base,
    socketUrl: () => `${base.replace('http', 'ws')}/socket`,
    refuse: (method, complaints) =>
      refused.push(...complaints.map((complaint) => `${method}: ${complaint}`)),
    echo: (inner) => void event({ event_ts: space.nextTs(), ...inner }),
    finishLater: (work) => {
      if (unfinished) unfinished.push(work);
      else setImmediate(work);
    },
  });

  /** A code is good once, and only with the secret of the app. */
  const installed = (args: Args): Json => {
    if (args.client_id !== CLIENT_ID || args.client_secret !== CLIENT_SECRET)
      return { ok: false, error: 'bad_client_secret' };
    const by = space.codes.get(args.code ?? '');
    if (!by) return { ok: false, error: 'invalid_code' };
    space.codes.delete(args.code ?? '');
    return {
      ok: true,
      access_token: botToken,
      token_type: 'bot',
      scope: scopes,
      bot_user_id: space.bot.user,
      app_id: 'A0FAKE01',
      team: { id: space.team, name: `Depot ${space.team}` },
      enterprise: null,
      is_enterprise_install: false,
      authed_user: { id: by },
    };
  };

  const answerOf = (method: string, args: Args, token: string | undefined): Json => {
    if (method === 'oauth.v2.access') return installed(args);
    const wanted = method === 'apps.connections.open' ? APP_TOKEN : botToken;
    if (!token) return { ok: false, error: 'not_authed' };
    if (token !== wanted) return { ok: false, error: 'invalid_auth' };
    const call = methods[method];
    return call ? call(args) : { ok: false, error: 'unknown_method' };
  };

  const api = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const method = (request.url ?? '').replace(/^\/api\//u, '');
    const args = Object.fromEntries(new URLSearchParams(await bodyOf(request)));
    const token = request.headers.authorization?.replace(/^Bearer /u, '') ?? args.token;
    calls.push({ method, args });
    const fails = trouble.of(method, args);
    if (fails) {
      if (fails.after) answerOf(method, args, token);
      if (fails.how === 'reset') return void request.socket.destroy();
      if (fails.how === 'hang') return;
      if (fails.how === '429')
        return void response
          .writeHead(429, {
            'retry-after': String(fails.seconds),
            'content-type': 'application/json',
          })
          .end('{"ok":false,"error":"ratelimited"}');
      if (fails.how === '500') return void response.writeHead(500).end('Server Error');
      return void response
        .writeHead(200, { 'content-type': 'application/json' })
        .end(JSON.stringify({ ok: false, ...fails.how }));
    }
    const answer = answerOf(method, args, token);
    response.writeHead(200, {
      'content-type': 'application/json; charset=utf-8',
      'x-oauth-scopes': scopes,
      date: new Date(now()).toUTCString(),
    });
    response.end(JSON.stringify(answer));
  };
  let scopes =
    'app_mentions:read,channels:history,channels:read,chat:write,commands,files:read,files:write,groups:history,groups:read,im:history,im:write,pins:write,reactions:read,reactions:write,users:read';

  const upload = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const [, id = '', length = ''] = /^\/upload\/([^/]+)\/(\d+)$/u.exec(request.url ?? '') ?? [];
    const parts: Buffer[] = [];
    for await (const part of request as AsyncIterable<Buffer>) parts.push(part);
    const bytes = Buffer.concat(parts);
    const file = space.files.get(id);
    calls.push({ method: 'upload', args: { id, type: request.headers['content-type'] ?? '' } });
    const fails = trouble.of('upload', {});
    if (fails?.how === 'reset') return void request.socket.destroy();
    if (fails) return void response.writeHead(500).end('Server Error');
    if (!file || bytes.length !== Number(length)) return void response.writeHead(400).end();
    file.bytes = bytes;
    file.mimetype = request.headers['content-type'] ?? '';
    response.writeHead(200).end(`OK - ${bytes.length}`);
  };

  const server = createServer((request, response) => {
    if (request.url?.startsWith('/upload/'))
      return void upload(request, response).catch(() => request.socket.destroy());
    if (request.url?.startsWith('/files/')) {
      if (failFiles > 0) {
        failFiles -= 1;
        return void response.writeHead(503).end('Service Unavailable');
      }
      const file = space.files.get(request.url.slice('/files/'.length));
      if (request.headers.authorization !== `Bearer ${botToken}`)
        return void response
          .writeHead(200, { 'content-type': 'text/html' })
          .end('<html>Sign in</html>');
      if (!file) return void response.writeHead(404).end();
      return void response.writeHead(200, { 'content-type': file.mimetype }).end(file.bytes);
    }
    void api(request, response).catch(() => request.socket.destroy());
  });
  server.on('upgrade', (request: IncomingMessage, stream: Duplex) => {
    const socket = acceptSocket(request, stream, {
      onText: (text) => {
        const ack = JSON.parse(text) as { envelope_id?: string; payload?: unknown };
        deliveries.acknowledge(ack.envelope_id ?? '', ack.payload ?? {});
      },
      onClose: () => void sockets.splice(sockets.indexOf(socket), 1),
    });
    sockets.push(socket);
    opened += 1;
    if (trouble.isAway()) socket.cut();
    else if (mute > 0) mute -= 1;
    else socket.send(JSON.stringify({ type: 'hello', num_connections: sockets.length }));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;

  // ---- what people do ---------------------------------------------------------------------------------------------

  const known = (channel: string, ts: string): FakeMessage => {
    const message = space.find(channel, ts);
    if (!message) throw new Error(`The fake knows no message ${ts} in ${channel}.`);
    return message;
  };
  const channelType = (channel: string): string =>
    channel.startsWith('D') ? 'im' : channel.startsWith('G') ? 'group' : 'channel';

  const post = async (
    user: string,
    channel: string,
    text: string,
    more: string | PostOptions = {},
  ): Promise<string> => {
    const options: PostOptions = typeof more === 'string' ? { thread: more } : more;
    const files: FakeFile[] = (options.files ?? []).map((file) => ({
      id: space.nextId('F'),
      ...file,
    }));
    for (const file of files) space.files.set(file.id, file);
    if (channel.startsWith('D')) space.channels.add(channel);
    const subtype = options.broadcast
      ? 'thread_broadcast'
      : files.length > 0
        ? 'file_share'
        : undefined;
    const message: FakeMessage = {
      ts: space.nextTs(),
      channel,
      user,
      text: options.raw ? text : escaped(text),
      blocks: [],
      ...(options.thread ? { thread_ts: options.thread } : {}),
      ...(subtype ? { subtype } : {}),
      ...(files.length > 0 ? { files } : {}),
      reactions: new Map(),
      pinned: false,
    };
    space.messages.push(message);
    const inner = {
      ...shown(message, base),
      channel,
      channel_type: channelType(channel),
      event_ts: message.ts,
    };
    const sent: Promise<unknown>[] = [];
    if (space.channels.has(channel)) sent.push(event(inner));
    if (message.text.includes(`<@${space.bot.user}>`))
      sent.push(event({ ...inner, type: 'app_mention' }));
    await Promise.all(sent);
    return message.ts;
  };

  const changed = (message: FakeMessage, before: Json): Promise<unknown> =>
    event({
      type: 'message',
      subtype: 'message_changed',
      channel: message.channel,
      channel_type: channelType(message.channel),
      hidden: true,
      ts: space.nextTs(),
      event_ts: space.nextTs(),
      message: shown(message, base),
      previous_message: before,
    });

  const buttonsOf = (message: FakeMessage) =>
    message.blocks
      .filter((block) => block.type === 'actions')
      .flatMap((block) =>
        (block.elements as Json[]).map((element) => ({
          ...element,
          block_id: block.block_id ?? 'b',
        })),
      ) as unknown as (Json & { readonly text: { readonly text: string } })[];

  const viewFor = (user: string) => space.views.findLast((each) => each.user === user);

  return {
    url: `${base}/api/`,
    channel: CHANNEL,
    bot: space.bot,
    team: space.team,
    calls,
    /** What the strict look found in what the app sent. */
    refused,
    /** Every attempt of a delivery and whether it was acknowledged. */
    acknowledged: deliveries.attempted,
    /** Events that the platform gave up after its last attempt. */
    givenUp: deliveries.givenUp,
    onHeard: deliveries.onHeard,
    /** Calls that came faster than the limits set by `limit`. */
    hurried: trouble.hurried,
    /** How often each kind of trouble met a call. */
    met: trouble.met,
    /** Keys that stand on more than one message of the app: something was posted twice. */
    twice: (): readonly string[] => {
      const keys = space.messages.flatMap((each) => keyOf(each) ?? []);
      return [...new Set(keys.filter((key, index) => keys.indexOf(key) !== index))];
    },
    post,

    edit: async (channel: string, ts: string, text: string): Promise<void> => {
      const message = known(channel, ts);
      const before = shown(message, base);
      message.text = escaped(text);
      message.edited = { user: message.user, ts: space.nextTs() };
      await changed(message, before);
    },

    /** A link preview: the message is said to be changed, its text is not. */
    unfurl: async (channel: string, ts: string): Promise<void> => {
      const message = known(channel, ts);
      await changed(message, shown(message, base));
    },

    delete: async (channel: string, ts: string): Promise<void> => {
      const message = known(channel, ts);
      message.deleted = true;
      await event({
        type: 'message',
        subtype: 'message_deleted',
        hidden: true,
        channel,
        channel_type: channelType(channel),
        deleted_ts: ts,
        ts: space.nextTs(),
        event_ts: space.nextTs(),
        previous_message: shown(message, base),
      });
    },

    react: async (
      user: string,
      channel: string,
      ts: string,
      name: string,
      on = true,
    ): Promise<void> => {
      const message = known(channel, ts);
      const who = message.reactions.get(name) ?? new Set();
      if (on) who.add(user);
      else who.delete(user);
      message.reactions.set(name, who);
      await event({
        type: on ? 'reaction_added' : 'reaction_removed',
        user,
        reaction: name,
        item: { type: 'message', channel, ts },
        item_user: message.user,
        event_ts: space.nextTs(),
      });
    },

    /** Taps the button with this label; throws when the message has none. False where the person is told it did not work. */
    tap: async (user: string, channel: string, ts: string, label: string): Promise<boolean> => {
      const message = known(channel, ts);
      const button = buttonsOf(message).find((each) => each.text.text === label);
      if (!button)
        throw new Error(
          `No button "${label}"; there are: ${buttonsOf(message)
            .map((each) => each.text.text)
            .join(', ')}.`,
        );
      const { done } = interaction(user, {
        type: 'block_actions',
        container: {
          type: 'message',
          message_ts: ts,
          channel_id: channel,
          is_ephemeral: message.onlyFor !== undefined,
          ...(message.thread_ts ? { thread_ts: message.thread_ts } : {}),
        },
        channel: { id: channel, name: 'shop' },
        ...(message.onlyFor ? {} : { message: shown(message, base) }),
        actions: [{ ...button, type: 'button', action_ts: space.nextTs() }],
      });
      return (await done) !== undefined;
    },

    /** A tap on a button that nobody posted. */
    forge: async (user: string, channel: string, intent: object): Promise<void> => {
      await interaction(user, {
        type: 'block_actions',
        container: { type: 'message', message_ts: space.nextTs(), channel_id: channel },
        channel: { id: channel, name: 'shop' },
        actions: [
          {
            type: 'button',
            block_id: 'b',
            action_id: 'tap.0',
            value: JSON.stringify(intent),
            action_ts: space.nextTs(),
          },
        ],
      }).done;
    },

    command: async (user: string, channel: string, text: string): Promise<void> => {
      const trigger = space.nextId('TR');
      space.triggers.set(trigger, user);
      await send('slash_commands', {
        token: 'gone',
        team_id: space.team,
        team_domain: 'depot',
        channel_id: channel,
        channel_name: 'shop',
        user_id: user,
        user_name: user.toLowerCase(),
        command: '/chargehand',
        text: escaped(text),
        api_app_id: 'A0FAKE01',
        is_enterprise_install: 'false',
        response_url: `${base}/response`,
        trigger_id: trigger,
      });
    },

    /** A shortcut on a message, or without one. */
    shortcut: async (
      user: string,
      callback: string,
      channel?: string,
      ts?: string,
    ): Promise<void> => {
      await interaction(user, {
        type: ts ? 'message_action' : 'shortcut',
        callback_id: callback,
        action_ts: space.nextTs(),
        ...(channel && ts
          ? {
              channel: { id: channel, name: 'shop' },
              message_ts: ts,
              message: shown(known(channel, ts), base),
              response_url: `${base}/response`,
            }
          : {}),
      }).done;
    },

    view: (user: string) => viewFor(user)?.view,

    /** Somebody agrees in the browser that the app is installed: the code that the browser is sent back with. */
    agree: (user: string, mark = ''): string => {
      const code = space.nextId(`CODE${mark}`);
      space.codes.set(code, user);
      return code;
    },

    /** The app is taken out of the workspace. */
    uninstall: (): Promise<unknown> => event({ type: 'app_uninstalled' }),

    openHome: async (user: string): Promise<void> => {
      await event({
        type: 'app_home_opened',
        user,
        channel: space.directWith(user),
        tab: 'home',
        event_ts: space.nextTs(),
      });
    },
    /** What the Home tab of somebody shows. */
    home: (user: string): Json | undefined => space.homes.get(user),
    /** Taps a button on the Home tab, by the beginning of its label. */
    tapHome: async (user: string, label: string): Promise<void> => {
      const view = space.homes.get(user);
      const found = ((view?.blocks ?? []) as Json[])
        .filter((block) => block.type === 'actions')
        .flatMap((block) => block.elements as (Json & { text: { text: string } })[])
        .find((each) => each.text.text.startsWith(label));
      if (!found) throw new Error(`No button "${label}" on the Home tab.`);
      await interaction(user, {
        type: 'block_actions',
        container: { type: 'view', view_id: 'V0HOME' },
        view: { id: 'V0HOME', type: 'home', team_id: space.team },
        actions: [{ ...found, block_id: 'b', type: 'button', action_ts: space.nextTs() }],
      }).done;
    },

    /** The bot is taken into a channel, or out of one; the platform tells it. */
    invite: async (channel: string): Promise<void> => {
      space.channels.add(channel);
      await event({
        type: 'member_joined_channel',
        user: space.bot.user,
        channel,
        channel_type: channel.slice(0, 1),
        team: space.team,
        event_ts: space.nextTs(),
      });
    },
    expel: async (channel: string): Promise<void> => {
      space.channels.delete(channel);
      await event({
        type: channel.startsWith('G') ? 'group_left' : 'channel_left',
        channel,
        event_ts: space.nextTs(),
      });
    },
    /** Somebody has another name, or the account was removed. */
    userChange: async (
      user: string,
      change: { readonly name?: string; readonly deleted?: boolean },
    ): Promise<void> => {
      if (change.name) space.names.set(user, change.name);
      await event({
        type: 'user_change',
        user: {
          id: user,
          team_id: space.team,
          deleted: change.deleted ?? false,
          profile: { display_name: space.names.get(user) ?? '', real_name: '' },
        },
        event_ts: space.nextTs(),
      });
    },
    /** What the workspace calls somebody. */
    named: (user: string, name: string): void => {
      space.names.set(user, name);
    },

    /** Fills the form last shown to this person and sends it. */
    submitForm: async (
      user: string,
      fields: Readonly<Record<string, string>>,
    ): Promise<boolean> => {
      const open = viewFor(user);
      if (!open) throw new Error(`No form is open for ${user}.`);
      const values: Record<string, Json> = {};
      for (const block of open.view.blocks as Json[]) {
        const element = block.element as Json;
        const value = fields[String(block.block_id)];
        const chosen =
          value === undefined ? null : { text: { type: 'plain_text', text: value }, value };
        values[String(block.block_id)] = {
          [String(element.action_id)]:
            element.type === 'static_select'
              ? { type: element.type, selected_option: chosen }
              : element.type === 'multi_static_select'
                ? { type: element.type, selected_options: chosen ? [chosen] : [] }
                : element.type === 'datetimepicker'
                  ? {
                      type: element.type,
                      selected_date_time: value === undefined ? null : Date.parse(value) / 1000,
                    }
                  : { type: element.type, value: value ?? null },
        };
      }
      const { done } = interaction(user, {
        type: 'view_submission',
        view: { id: open.id, team_id: space.team, ...open.view, state: { values } },
      });
      return (await done) !== undefined;
    },

    /** Every message there ever was, the deleted ones too, in the order of their posting. */
    everything: (): readonly FakeMessage[] => space.messages,
    /** Roots of a channel that everybody sees. */
    messages: (channel: string): readonly FakeMessage[] =>
      space.messages.filter(
        (each) => each.channel === channel && !each.thread_ts && !each.deleted && !each.onlyFor,
      ),
    /** What one person was shown alone. */
    whispers: (user: string): readonly FakeMessage[] =>
      space.messages.filter((each) => each.onlyFor === user),
    thread: (ts: string): readonly FakeMessage[] =>
      space.messages.filter((each) => each.thread_ts === ts && !each.deleted),
    reactions: (ts: string): readonly string[] =>
      [
        ...(space.messages.find((each) => each.ts === ts)?.reactions ??
          new Map<string, Set<string>>()),
      ].flatMap(([name, who]) => (who.size > 0 ? [name] : [])),
    pins: (channel: string): readonly string[] =>
      space.messages
        .filter((each) => each.channel === channel && each.pinned)
        .map((each) => each.ts),
    file: (id: string) => space.files.get(id),
    /** Connections that were ever opened, those that were cut at once too. */
    opened: (): number => opened,
    connections: (): number => sockets.filter((each) => each.open()).length,

    /** Deliveries go to this address, signed; without it they go over the socket. */
    deliverTo: deliveries.deliverTo,

    knobs: {
      ...deliveries.knobs,
      /** The next calls of a method ("*" for any) fail; with `after` they are carried out all the same. */
      fail: (method: string, how: How, times = 1, after = false, seconds = 7): void =>
        trouble.fail(method, how, times, after, seconds),
      /** Calls that come faster are answered with 429. */
      limit: (limits: Limits): void => trouble.limit(limits),
      /** Nothing gets through in either direction: no call, no delivery, no socket. */
      outage: (is: boolean): void => {
        trouble.away(is);
        if (!is) return;
        deliveries.knobs.hangUp();
        for (const socket of [...sockets]) socket.cut();
      },
      /** The platform says goodbye to the socket, as it does every few hours. */
      renew: (): void => {
        for (const socket of [...sockets])
          socket.send(JSON.stringify({ type: 'disconnect', reason: 'refresh_requested' }));
      },
      /** The next connections say no hello. */
      mute: (times: number): void => {
        mute = times;
      },
      cut: (): void => {
        for (const socket of [...sockets]) socket.cut();
      },
      scopes: (text: string): void => {
        scopes = text;
      },
      /** The next fetches of files that people shared fail. */
      failFile: (times: number): void => {
        failFiles = times;
      },
      /** Uploads are completed but not shared until `finish`. */
      unfinished: (): void => {
        unfinished ??= [];
      },
      finish: (): void => {
        for (const work of unfinished ?? []) work();
        unfinished = undefined;
      },
      /** The bot is a member of a channel, or no longer. */
      member: (channel: string, is: boolean): void => {
        if (is) space.channels.add(channel);
        else space.channels.delete(channel);
      },
    },

    /** Resolves when no delivery is under way. */
    settled: deliveries.settled,
    isBusy: deliveries.isBusy,

    close: async (): Promise<void> => {
      deliveries.close();
      for (const socket of [...sockets]) socket.cut();
      server.closeAllConnections();
      await new Promise<void>((resolve) => server.close(() => resolve()));
      await deliveries.settled();
    },
  };
};
