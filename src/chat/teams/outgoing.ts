// What the bot posts: cards and changes of cards. Each call is made once; the outbox decides what comes next.
import type { App } from '@microsoft/teams.apps';
import type { Card, CardFile } from '../../desk/card.ts';
import type { Channel, Place, Posted, PostResult } from '../channel.ts';
import { picturePng } from '../picture-png.ts';
import { type Drawn, drawCard, type LinkedFile, markerOf, type Told } from './adaptive-card.ts';
import type { AddressBook } from './address-book.ts';
import { INLINE_PICTURE } from './limits.ts';
import { kindOf, type Shelf } from './picture-shelf.ts';
import { conversationOf, hasThreads } from './place-id.ts';
import { failureOf } from './post-failure.ts';

type HttpClient = App['api']['http'];

export type OutgoingOptions = {
  /** Sends with the bot's token. */
  readonly service: Pick<HttpClient, 'post' | 'put'>;
  /** Reads the organisation's directory service with the bot's token. */
  readonly directory: Pick<HttpClient, 'get'>;
  readonly book: AddressBook;
  readonly shelf: Shelf;
  readonly publicUrl: string | undefined;
  /** The bytes of a file that a card carries; undefined where there are none any more. */
  readonly fileOf: (file: CardFile) => Promise<Uint8Array | undefined>;
  /** Where conversations are reached that nobody has written in yet. */
  readonly serviceUrl: string;
  readonly clientId: string;
  readonly tenantId: string;
  readonly idOf: (name: string) => string | undefined;
  readonly clock: () => string;
};

export type Outgoing = Pick<Channel, 'post' | 'edit' | 'sign'> & Required<Pick<Channel, 'find'>>;

/** Messages of a thread that are looked through for a post after an unclear failure. */
const LOOK_THROUGH = 50;

const isDirect = (place: string): boolean => place.startsWith('a:');

const activityOf = ({ summary, card }: Drawn) => ({
  type: 'message',
  summary,
  attachments: [{ contentType: 'application/vnd.microsoft.card.adaptive', content: card }],
});

export const outgoing = (options: OutgoingOptions): Outgoing => {
  const { service, directory, book, shelf, clientId, tenantId, idOf, clock } = options;

  const urlOf = async (place: string): Promise<string> =>
    ((await book.of(place))?.serviceUrl ?? options.serviceUrl).replace(/\/+$/u, '');

  /** A small picture travels in the card; a larger one is fetched from us, where people's Teams can reach us. */
  const imageOf = async (card: Card): Promise<string | undefined> => {
    if (!card.picture) return undefined;
    for (const scale of [2, 1.5, 1]) {
      const made = picturePng(card.picture, scale);
      if (!made.ok) return undefined;
      if (made.png.length <= INLINE_PICTURE)
        return `data:image/png;base64,${Buffer.from(made.png).toString('base64')}`;
      if (options.publicUrl)
        return `${options.publicUrl}/pictures/${await shelf.keep(made.png, 'png')}`;
    }
    return undefined;
  };

  const toldOf = (card: Card): readonly Told[] =>
    [...new Set(card.tells ?? [])].slice(0, 20).flatMap((name) => {
      const id = idOf(name);
      return id ? [{ name, id }] : [];
    });

  /** Files are fetched from us for a while, under names nobody can guess; without an address of ours they are named. */
  const linksOf = async (card: Card): Promise<readonly LinkedFile[]> => {
    const links: LinkedFile[] = [];
    for (const file of card.files ?? []) {
      const kind = kindOf(file.type);
      const bytes = options.publicUrl && kind ? await options.fileOf(file) : undefined;
      links.push({
        says: file.says,
        name: file.name,
        ...(bytes && kind
          ? { url: `${options.publicUrl}/pictures/${await shelf.keep(bytes, kind)}` }
          : {}),
      });
    }
    return links;
  };

  const draw = async (card: Card, key?: string): Promise<Drawn> =>
    drawCard(card, toldOf(card), key, await imageOf(card), await linksOf(card));

  const failed = (error: unknown): PostResult => ({
    ok: false,
    failure: failureOf(error, Date.parse(clock())),
  });

  /** The direct conversation with a person; it is opened once. */
  const directWith = async (person: string): Promise<string> => {
    const known = await book.directOf(person);
    if (known) return known;
    const answer = await service.post(
      `${options.serviceUrl.replace(/\/+$/u, '')}/v3/conversations`,
      {
        isGroup: false,
        bot: { id: `28:${clientId}` },
        members: [{ id: person }],
        tenantId,
        channelData: { tenant: { id: tenantId } },
      },
    );
    const id = String((answer.data as { id?: unknown } | undefined)?.id ?? '');
    if (id === '') throw new Error('Teams named no conversation.');
    await book.noteDirect(person, id);
    return id;
  };

  return {
    post: async (place, card, key) => {
      try {
        const forOne =
          place.person !== undefined && place.thread === undefined && !isDirect(place.place);
        const to: Place = forOne
          ? { team: place.team, place: await directWith(place.person ?? '') }
          : place;
        const conversation = conversationOf(to);
        const answer = await service.post(
          `${await urlOf(to.place)}/v3/conversations/${encodeURIComponent(conversation)}/activities`,
          activityOf(await draw(card, key)),
        );
        const message = (answer.data as { id?: unknown } | undefined)?.id;
        if (typeof message !== 'string' || message === '')
          return { ok: false, failure: { kind: 'unclear', why: 'Teams named no message.' } };
        const { person: _, ...where } = to;
        return { ok: true, posted: { message, place: where } };
      } catch (error) {
        return failed(error);
      }
    },

    edit: async (posted, card) => {
      const { message, place } = posted;
      // The root of a thread is changed in the channel, an answer in its thread.
      const conversation = conversationOf(place);
      try {
        await service.put(
          `${await urlOf(place.place)}/v3/conversations/${encodeURIComponent(conversation)}/activities/${encodeURIComponent(message)}`,
          { ...activityOf(await draw(card)), id: message },
        );
        return { ok: true, posted };
      } catch (error) {
        return failed(error);
      }
    },

    // The platform gives a bot no sign on somebody's message: what is recorded stands on the job sheet.
    sign: async (place, message) => ({ ok: true, posted: { message, place } }),

    find: async (place, key): Promise<Posted | undefined> => {
      const { group } = (await book.of(place.place)) ?? {};
      if (!group || !hasThreads(place.place)) return undefined;
      const channel = `/teams/${encodeURIComponent(group)}/channels/${encodeURIComponent(place.place)}/messages`;
      const path = place.thread
        ? `${channel}/${encodeURIComponent(place.thread)}/replies`
        : channel;
      const answer = await directory.get(`${path}?$top=${LOOK_THROUGH}`);
      const found = (answer.data as { value?: unknown } | undefined)?.value;
      const marker = markerOf(key);
      const hit = (Array.isArray(found) ? found : []).find((each: unknown) => {
        const { attachments } = (each ?? {}) as { attachments?: unknown };
        return (
          Array.isArray(attachments) &&
          attachments.some(({ content }) => typeof content === 'string' && content.includes(marker))
        );
      }) as { id?: unknown } | undefined;
      const { person: _, ...where } = place;
      return typeof hit?.id === 'string' ? { message: hit.id, place: where } : undefined;
    },
  };
};
