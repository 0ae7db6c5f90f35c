// The state of an invented workspace: channels, messages, reactions, pins, files, views.

export type FakeFile = {
  readonly id: string;
  readonly name: string;
  mimetype: string;
  bytes: Uint8Array;
  /** What a picture shows, in words. */
  readonly alt?: string;
  title?: string;
  /** Channels it is shared in: an upload is seen there only after it was completed. */
  readonly shares?: Set<string>;
};

export type FakeMessage = {
  readonly ts: string;
  readonly channel: string;
  readonly user: string;
  text: string;
  blocks: readonly Record<string, unknown>[];
  readonly thread_ts?: string;
  readonly bot_id?: string;
  readonly subtype?: string;
  readonly files?: readonly FakeFile[];
  readonly metadata?: unknown;
  /** Seen by one person only. */
  readonly onlyFor?: string;
  edited?: { readonly user: string; readonly ts: string };
  deleted?: boolean;
  readonly reactions: Map<string, Set<string>>;
  pinned: boolean;
};

export type FakeView = {
  readonly id: string;
  readonly user: string;
  readonly view: Record<string, unknown>;
};

export type Workspace = {
  readonly team: string;
  readonly bot: { readonly user: string; readonly bot: string };
  /** Channels the bot is a member of. */
  readonly channels: Set<string>;
  readonly messages: FakeMessage[];
  readonly views: FakeView[];
  readonly files: Map<string, FakeFile>;
  /** Triggers that a form can still be opened with, and whose they are. */
  readonly triggers: Map<string, string>;
  /** Home tabs by person. */
  readonly homes: Map<string, Record<string, unknown>>;
  /** Names people gave themselves. */
  readonly names: Map<string, string>;
  /** Codes of installations that were agreed to, and by whom. */
  readonly codes: Map<string, string>;
  readonly nextTs: () => string;
  readonly nextId: (letter: string) => string;
  readonly find: (channel: string, ts: string) => FakeMessage | undefined;
  readonly directWith: (user: string) => string;
};

/** @param clock milliseconds since 1970 */
export const makeWorkspace = (clock: () => number, team = 'T0DEPOT1'): Workspace => {
  let count = 0;
  let last = 0;
  const messages: FakeMessage[] = [];
  const channels = new Set(['C0SHOP01']);
  return {
    team,
    bot: { user: 'U0CHARGE1', bot: 'B0CHARGE1' },
    channels,
    messages,
    views: [],
    files: new Map(),
    triggers: new Map(),
    homes: new Map(),
    names: new Map(),
    codes: new Map(),
    nextTs: () => {
      // Microseconds of our own, so that two messages of the same moment differ and keep their order.
      last = Math.max(last + 1, Math.floor(clock()) * 1000);
      return `${Math.floor(last / 1e6)}.${String(last % 1e6).padStart(6, '0')}`;
    },
    nextId: (letter) => {
      count += 1;
      return `${letter}0FAKE${String(count).padStart(5, '0')}`;
    },
    find: (channel, ts) => messages.find((each) => each.channel === channel && each.ts === ts),
    directWith: (user) => {
      const id = `D${user.slice(1)}`;
      channels.add(id);
      return id;
    },
  };
};

/** A message in the form of the Web API and of events. */
export const shown = (message: FakeMessage, base: string): Record<string, unknown> => ({
  type: 'message',
  ...(message.subtype ? { subtype: message.subtype } : {}),
  user: message.user,
  ts: message.ts,
  text: message.text,
  team: 'T0DEPOT1',
  ...(message.blocks.length > 0 ? { blocks: message.blocks } : {}),
  ...(message.thread_ts ? { thread_ts: message.thread_ts } : {}),
  ...(message.bot_id ? { bot_id: message.bot_id } : {}),
  ...(message.edited ? { edited: message.edited } : {}),
  ...([...message.reactions.values()].some((who) => who.size > 0)
    ? {
        reactions: [...message.reactions].flatMap(([name, who]) =>
          who.size > 0 ? [{ name, users: [...who], count: who.size }] : [],
        ),
      }
    : {}),
  ...(message.files
    ? {
        files: message.files.map((file) => ({
          id: file.id,
          name: file.name,
          mimetype: file.mimetype,
          size: file.bytes.length,
          url_private: `${base}/files/${file.id}`,
          url_private_download: `${base}/files/${file.id}`,
        })),
      }
    : {}),
});
