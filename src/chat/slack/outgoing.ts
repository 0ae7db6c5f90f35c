// What the bot posts: cards, changes of cards, signs, pins. Each call is made once; the outbox decides what comes next.
import { createHash } from 'node:crypto';
import type { KnownBlock } from '@slack/types';
import type { WebClient } from '@slack/web-api';
import type { Card, Form, Intent } from '../../desk/card.ts';
import type { Channel, Place, Posted, PostResult } from '../channel.ts';
import { type Drawn, drawCard } from './blocks.ts';
import { at, textAt } from './json.ts';
import { errorName, failureOf } from './post-failure.ts';
import type { SlackLog } from './slack-log.ts';

export type OutgoingOptions = {
  readonly web: WebClient;
  /** The workspace, once it is known. */
  readonly team: () => string;
  readonly idOf: (name: string) => string | undefined;
  /** The time now, ISO. */
  readonly clock: () => string;
  readonly log: SlackLog;
};

export type Outgoing = Pick<Channel, 'post' | 'edit' | 'sign'> &
  Required<Pick<Channel, 'pin' | 'find'>> & {
    /** The form of a button that was posted lately, for a tap on it. */
    readonly formOf: (intent: Intent) => Form | undefined;
    /** The conversation behind a place: a person's id stands for the direct conversation with them. */
    readonly conversationOf: (place: string) => Promise<string>;
  };

/** Recorded: a memo. Asked: a question mark. Neither says that anything is good or bad. */
export const SIGN = { recorded: 'memo', asked: 'question' } as const;

export const METADATA_TYPE = 'chargehand_post';
/** Seconds within which a post is looked for: one that is unclear for longer was settled by hand. */
const LOOK_BACK = 24 * 3600;
/** Pages of a thread or channel that are looked through for a post after an unclear failure. */
const MOST_PAGES = 5;

const MOST_FORMS = 2_000;

/** The key once more as the id of the first block: it stays on the message where metadata is not shown. */
export const markerOf = (key: string): string =>
  `post-${createHash('sha256').update(key).digest('hex').slice(0, 32)}`;

const marked = (blocks: readonly KnownBlock[], key: string): KnownBlock[] =>
  blocks.map((block, index) => (index === 0 ? { ...block, block_id: markerOf(key) } : block));

const isPerson = (place: string): boolean => /^[UW][A-Z0-9]+$/u.test(place);

/** Never turned into a mention or a link by Slack, never unfolded. */
const QUIET = {
  parse: 'none',
  link_names: false,
  unfurl_links: false,
  unfurl_media: false,
} as const;

export const outgoing = ({ web, team, idOf, clock, log }: OutgoingOptions): Outgoing => {
  /** Direct conversations that were opened, by person. */
  const direct = new Map<string, string>();
  /** Forms behind posted buttons by their intent: a tap carries the intent only. */
  const forms = new Map<string, Form>();
  const draw = (card: Card): Drawn => {
    for (const { intent, form } of card.actions ?? []) {
      if (!form) continue;
      forms.delete(JSON.stringify(intent));
      forms.set(JSON.stringify(intent), form);
    }
    for (const oldest of forms.keys()) {
      if (forms.size <= MOST_FORMS) break;
      forms.delete(oldest);
    }
    return drawCard(card, idOf);
  };
  /** Messages with a question mark from us, so that it goes once they are recorded. */
  const asked = new Set<string>();

  const failed = (error: unknown): PostResult => ({ ok: false, failure: failureOf(error) });
  const done = (place: Place, message: string): PostResult => ({
    ok: true,
    posted: { message, place: { ...place, team: team() } },
  });

  /** A person's id as place stands for the direct conversation with that person. */
  const conversationOf = async (place: string): Promise<string> => {
    if (!isPerson(place)) return place;
    const known = direct.get(place);
    if (known) return known;
    const opened = await web.conversations.open({ users: place });
    const id = opened.channel?.id ?? place;
    direct.set(place, id);
    return id;
  };

  /** Without blocks where Slack refuses them: the text carries the whole meaning. */
  const plainerIfRefused = async <T>(
    drawn: Drawn,
    call: (drawn: Drawn) => Promise<T>,
  ): Promise<T> => {
    try {
      return await call(drawn);
    } catch (error) {
      if (
        !/^(?:invalid_blocks|invalid_blocks_format|msg_blocks_too_long)$/u.test(
          errorName(error) ?? '',
        )
      )
        throw error;
      log('error', 'Slack refused the blocks of a card; its text is posted alone.', {
        why: errorName(error),
      });
      return call({ text: drawn.text, blocks: [] });
    }
  };

  const postFor = async (place: Place, drawn: Drawn): Promise<PostResult> => {
    const { person = '' } = place;
    try {
      const answer = await plainerIfRefused(drawn, ({ text, blocks }) =>
        web.chat.postEphemeral({ channel: place.place, user: person, text, blocks, ...QUIET }),
      );
      return done(place, answer.message_ts ?? '');
    } catch (error) {
      const name = errorName(error);
      // A command can be typed where the bot is no member: then the answer goes to the person directly.
      if (
        name !== 'channel_not_found' &&
        name !== 'not_in_channel' &&
        name !== 'user_not_in_channel'
      )
        return failed(error);
      return post({ team: place.team, place: person }, drawn);
    }
  };

  const post = async (place: Place, drawn: Drawn, key?: string): Promise<PostResult> => {
    try {
      const channel = await conversationOf(place.place);
      const answer = await plainerIfRefused(drawn, ({ text, blocks }) =>
        web.chat.postMessage({
          channel,
          text,
          blocks: key ? marked(blocks, key) : [...blocks],
          ...QUIET,
          ...(place.thread ? { thread_ts: place.thread } : {}),
          ...(key ? { metadata: { event_type: METADATA_TYPE, event_payload: { key } } } : {}),
        }),
      );
      if (!answer.ts) return { ok: false, failure: { kind: 'unclear', why: 'Slack named no ts.' } };
      const { person: _, ...rest } = place;
      return done({ ...rest, place: answer.channel ?? channel }, answer.ts);
    } catch (error) {
      return failed(error);
    }
  };

  const add = async (channel: string, timestamp: string, name: string): Promise<PostResult> => {
    try {
      await web.reactions.add({ channel, timestamp, name });
    } catch (error) {
      if (errorName(error) !== 'already_reacted') return failed(error);
    }
    return done({ team: team(), place: channel }, timestamp);
  };

  const remove = async (channel: string, timestamp: string, name: string): Promise<PostResult> => {
    try {
      await web.reactions.remove({ channel, timestamp, name });
    } catch (error) {
      if (errorName(error) !== 'no_reaction') return failed(error);
    }
    return done({ team: team(), place: channel }, timestamp);
  };

  return {
    conversationOf,
    formOf: (intent) => forms.get(JSON.stringify(intent)),

    post: (place, card: Card, key) => {
      const drawn = draw(card);
      // Seen by one person only, and gone when they look away: right for an answer to a tap of this moment; a message
      // is answered in its thread, where it stays and is told to the writer.
      const passing =
        place.person !== undefined &&
        place.thread === undefined &&
        !place.place.startsWith('D') &&
        !isPerson(place.place);
      return passing ? postFor(place, drawn) : post(place, drawn, key);
    },

    edit: async ({ message, place }, card) => {
      try {
        await plainerIfRefused(draw(card), ({ text, blocks }) =>
          web.chat.update({
            channel: place.place,
            ts: message,
            text,
            blocks: [...blocks],
            parse: 'none',
            link_names: false,
          }),
        );
        return done(place, message);
      } catch (error) {
        return failed(error);
      }
    },

    sign: async ({ place }, message, mark) => {
      const spot = `${place}:${message}`;
      if (mark === 'unrecorded') return remove(place, message, SIGN.recorded);
      const signed = await add(place, message, SIGN[mark]);
      if (!signed.ok) return signed;
      if (mark === 'asked') asked.add(spot);
      else if (asked.delete(spot)) await remove(place, message, SIGN.asked);
      return signed;
    },

    pin: async ({ message, place }) => {
      try {
        await web.pins.add({ channel: place.place, timestamp: message });
      } catch (error) {
        if (errorName(error) !== 'already_pinned') return failed(error);
      }
      return done(place, message);
    },

    find: async (place, key): Promise<Posted | undefined> => {
      const channel = await conversationOf(place.place);
      const marker = markerOf(key);
      const oldest = (Date.parse(clock()) / 1000 - LOOK_BACK).toFixed(6);
      let cursor: string | undefined;
      for (let page = 0; page < MOST_PAGES; page += 1) {
        const query = {
          channel,
          oldest,
          limit: 200,
          include_all_metadata: true,
          ...(cursor ? { cursor } : {}),
        };
        const found = place.thread
          ? await web.conversations.replies({ ...query, ts: place.thread })
          : await web.conversations.history(query);
        const hit = (found.messages ?? []).find(
          (message) =>
            at(message, 'metadata.event_payload.key') === key ||
            textAt(message, 'blocks.0.block_id') === marker,
        );
        const { person: _, ...rest } = place;
        if (hit?.ts) return { message: hit.ts, place: { ...rest, team: team(), place: channel } };
        cursor = found.response_metadata?.next_cursor || undefined;
        if (!cursor) return undefined;
      }
      return undefined;
    },
  };
};
