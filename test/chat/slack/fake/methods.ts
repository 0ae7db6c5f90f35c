// The methods of the Web API that the app calls, over the workspace's state.
import { complaintsAboutHome, complaintsAboutMessage, complaintsAboutView } from './strict.ts';
import { type FakeMessage, shown, type Workspace } from './workspace.ts';

export type Args = Readonly<Record<string, string>>;
export type Answer = Record<string, unknown> & { readonly ok: boolean };

export type Surroundings = {
  readonly space: Workspace;
  readonly base: () => string;
  readonly socketUrl: () => string;
  readonly refuse: (method: string, complaints: readonly string[]) => void;
  /** The app changed something: the platform tells it so, as it tells of everybody's changes. */
  readonly echo: (event: Record<string, unknown>) => void;
  /** Work that the platform does after it has answered. */
  readonly finishLater: (work: () => void) => void;
};

const no = (error: string, more: object = {}): Answer => ({ ok: false, error, ...more });

const parse = (text: string | undefined): unknown => {
  if (text === undefined || text === '') return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
};

export const methodsOf = ({ space, base, socketUrl, refuse, echo, finishLater }: Surroundings) => {
  const reach = (channel: string | undefined): Answer | undefined => {
    if (!channel || !/^[CGD][A-Z0-9]+$/u.test(channel)) return no('channel_not_found');
    return space.channels.has(channel) ? undefined : no('not_in_channel');
  };

  const checkedMessage = (method: string, args: Args): Answer | undefined => {
    const complaints = complaintsAboutMessage({ text: args.text, blocks: parse(args.blocks) });
    if (complaints.length === 0) return undefined;
    refuse(method, complaints);
    return no('invalid_blocks', { response_metadata: { messages: complaints } });
  };

  const spot = (args: Args): FakeMessage | Answer => {
    const refused = reach(args.channel);
    if (refused) return refused;
    return space.find(args.channel ?? '', args.timestamp ?? '') ?? no('message_not_found');
  };

  const page = (messages: readonly FakeMessage[], args: Args): Answer => {
    const limit = Number(args.limit ?? 100);
    const from = Number(args.cursor || 0);
    const some = messages.slice(from, from + limit);
    const more = from + limit < messages.length;
    return {
      ok: true,
      messages: some.map((message) => {
        const replies = space.messages.filter(
          (other) =>
            other.thread_ts === message.ts && other.channel === message.channel && !other.deleted,
        );
        return {
          ...shown(message, base()),
          ...(replies.length > 0
            ? {
                thread_ts: message.ts,
                reply_count: replies.length,
                latest_reply: replies.at(-1)?.ts,
              }
            : {}),
          ...(args.include_all_metadata === 'true' && message.metadata
            ? { metadata: message.metadata }
            : {}),
        };
      }),
      has_more: more,
      response_metadata: { next_cursor: more ? String(from + limit) : '' },
    };
  };

  const visible = (channel: string, args: Args) =>
    space.messages.filter(
      (each) =>
        each.channel === channel &&
        !each.deleted &&
        !each.onlyFor &&
        Number(each.ts) >= Number(args.oldest ?? 0),
    );

  const post = (args: Args, onlyFor?: string): Answer => {
    const channel = /^[UW]/u.test(args.channel ?? '')
      ? space.directWith(args.channel ?? '')
      : (args.channel ?? '');
    const refused =
      reach(channel) ?? checkedMessage(onlyFor ? 'chat.postEphemeral' : 'chat.postMessage', args);
    if (refused) return refused;
    if (args.thread_ts && !space.find(channel, args.thread_ts)) return no('thread_not_found');
    const message: FakeMessage = {
      ts: space.nextTs(),
      channel,
      user: space.bot.user,
      bot_id: space.bot.bot,
      text: args.text ?? '',
      blocks: (parse(args.blocks) as FakeMessage['blocks'] | undefined) ?? [],
      ...(args.thread_ts ? { thread_ts: args.thread_ts } : {}),
      ...(args.metadata ? { metadata: parse(args.metadata) } : {}),
      ...(onlyFor ? { onlyFor } : {}),
      reactions: new Map(),
      pinned: false,
    };
    space.messages.push(message);
    if (onlyFor) return { ok: true, message_ts: message.ts };
    echo({ ...shown(message, base()), channel });
    return { ok: true, channel, ts: message.ts, message: shown(message, base()) };
  };

  const methods: Readonly<Record<string, (args: Args) => Answer>> = {
    'auth.test': () => ({
      ok: true,
      team: 'Depot',
      team_id: space.team,
      user: 'chargehand',
      user_id: space.bot.user,
      bot_id: space.bot.bot,
    }),
    'apps.connections.open': () => ({ ok: true, url: socketUrl() }),
    'chat.postMessage': (args) => post(args),
    'chat.postEphemeral': (args) => (args.user ? post(args, args.user) : no('user_not_in_channel')),
    'chat.update': (args) => {
      const refused = reach(args.channel) ?? checkedMessage('chat.update', args);
      if (refused) return refused;
      const message = space.find(args.channel ?? '', args.ts ?? '');
      if (!message || message.deleted || message.onlyFor) return no('message_not_found');
      if (message.user !== space.bot.user) return no('cant_update_message');
      const before = shown(message, base());
      message.text = args.text ?? '';
      message.blocks = (parse(args.blocks) as FakeMessage['blocks'] | undefined) ?? [];
      echo({
        type: 'message',
        subtype: 'message_changed',
        channel: message.channel,
        ts: space.nextTs(),
        message: {
          ...shown(message, base()),
          edited: { user: space.bot.user, ts: space.nextTs() },
        },
        previous_message: before,
      });
      return { ok: true, channel: message.channel, ts: message.ts, text: message.text };
    },
    'reactions.add': (args) => {
      const message = spot(args);
      if ('ok' in message) return message;
      const name = args.name ?? '';
      if (!/^[a-z0-9_+-]+$/u.test(name)) return no('invalid_name');
      const who = message.reactions.get(name) ?? new Set();
      if (who.has(space.bot.user)) return no('already_reacted');
      message.reactions.set(name, who.add(space.bot.user));
      echo({
        type: 'reaction_added',
        user: space.bot.user,
        reaction: name,
        item: { type: 'message', channel: message.channel, ts: message.ts },
        event_ts: space.nextTs(),
      });
      return { ok: true };
    },
    'reactions.remove': (args) => {
      const message = spot(args);
      if ('ok' in message) return message;
      return message.reactions.get(args.name ?? '')?.delete(space.bot.user)
        ? { ok: true }
        : no('no_reaction');
    },
    'pins.add': (args) => {
      const message = spot(args);
      if ('ok' in message) return message;
      if (message.pinned) return no('already_pinned');
      message.pinned = true;
      return { ok: true };
    },
    'conversations.open': (args) =>
      args.users
        ? { ok: true, channel: { id: space.directWith(args.users) } }
        : no('users_list_not_supplied'),
    'conversations.history': (args) =>
      reach(args.channel) ??
      page(
        visible(args.channel ?? '', args)
          .filter((each) => !each.thread_ts || each.subtype === 'thread_broadcast')
          .reverse(),
        args,
      ),
    'conversations.replies': (args) => {
      const refused = reach(args.channel);
      if (refused) return refused;
      const root = space.find(args.channel ?? '', args.ts ?? '');
      if (!root) return no('thread_not_found');
      const replies = visible(args.channel ?? '', args).filter(
        (each) => each.thread_ts === root.ts,
      );
      if (root.deleted && replies.length === 0) return no('thread_not_found');
      return page([root, ...replies], args);
    },
    'views.open': (args) => {
      const user = space.triggers.get(args.trigger_id ?? '');
      if (!user) return no('expired_trigger_id');
      space.triggers.delete(args.trigger_id ?? '');
      const view = parse(args.view);
      const complaints = complaintsAboutView(view);
      if (complaints.length > 0) {
        refuse('views.open', complaints);
        return no('invalid_arguments', { response_metadata: { messages: complaints } });
      }
      const id = space.nextId('V');
      space.views.push({ id, user, view: view as Record<string, unknown> });
      return { ok: true, view: { id, ...(view as object) } };
    },
    'views.publish': (args) => {
      if (!/^[UW]/u.test(args.user_id ?? '')) return no('invalid_arguments');
      const view = parse(args.view);
      const complaints = complaintsAboutHome(view);
      if (complaints.length > 0) {
        refuse('views.publish', complaints);
        return no('invalid_arguments', { response_metadata: { messages: complaints } });
      }
      space.homes.set(args.user_id ?? '', view as Record<string, unknown>);
      return { ok: true, view: { id: 'V0HOME', ...(view as object) } };
    },
    'users.info': (args) => {
      const name = space.names.get(args.user ?? '');
      return /^[UW]/u.test(args.user ?? '')
        ? {
            ok: true,
            user: {
              id: args.user,
              name: (args.user ?? '').toLowerCase(),
              tz: 'Europe/London',
              profile: { display_name: name ?? '', real_name: name ?? '' },
            },
          }
        : no('user_not_found');
    },
    'files.info': (args) => {
      const file = space.files.get(args.file ?? '');
      if (!file || (file.shares && !file.title)) return no('file_not_found');
      return {
        ok: true,
        file: {
          id: file.id,
          url_private_download: `${base()}/files/${file.id}`,
          shares: {
            public: Object.fromEntries(
              [...(file.shares ?? [])].map((channel) => [channel, [{ ts: space.nextTs() }]]),
            ),
          },
        },
      };
    },
    'files.getUploadURLExternal': (args) => {
      if (!args.filename || !/^[1-9]\d*$/u.test(args.length ?? '')) return no('invalid_arguments');
      const id = space.nextId('F');
      space.files.set(id, {
        id,
        name: args.filename,
        mimetype: '',
        bytes: new Uint8Array(),
        ...(args.alt_text ? { alt: args.alt_text } : {}),
        shares: new Set(),
      });
      return { ok: true, upload_url: `${base()}/upload/${id}/${args.length}`, file_id: id };
    },
    'files.completeUploadExternal': (args) => {
      const [given] = (parse(args.files) as { id: string; title?: string }[] | undefined) ?? [];
      const file = space.files.get(given?.id ?? '');
      if (!file?.shares || file.bytes.length === 0) return no('file_not_found');
      const channel = args.channel_id ?? '';
      const refused = reach(channel);
      if (refused) return refused;
      if (args.thread_ts && !space.find(channel, args.thread_ts)) return no('invalid_thread_ts');
      file.title = given?.title ?? file.name;
      // It is shared after the answer, which names no message.
      const share = (): void => {
        if (file.shares?.has(channel)) return;
        file.shares?.add(channel);
        const message: FakeMessage = {
          ts: space.nextTs(),
          channel,
          user: space.bot.user,
          bot_id: space.bot.bot,
          subtype: 'file_share',
          text: '',
          blocks: [],
          ...(args.thread_ts ? { thread_ts: args.thread_ts } : {}),
          files: [file],
          reactions: new Map(),
          pinned: false,
        };
        space.messages.push(message);
        echo({ ...shown(message, base()), channel });
      };
      finishLater(share);
      return { ok: true, files: [{ id: file.id, title: file.title }] };
    },
  };
  return methods;
};
