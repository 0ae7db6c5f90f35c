// Events of the workspace as deliveries. Decides only what is a person's doing at all: the bot's own messages, other
// bots' and the platform's remarks (joined, renamed, pinned) are none.
import { type Attachment, Delivery } from '../../../shared/delivery.ts';
import { at, type Payload, payload, textAt, timeOf } from './json.ts';
import { type NameOf, readText } from './markup.ts';

export type Self = { readonly team: string; readonly user: string; readonly bot?: string };

export type Surroundings = {
  readonly self: Self;
  readonly nameOf: NameOf;
  /** The time now, ISO with offset; for what carries no time of its own. */
  readonly now: string;
};

/** Kinds of message that a person writes; "me_message" is "/me drained 28 L". */
const WRITTEN: ReadonlySet<string> = new Set(['file_share', 'thread_broadcast', 'me_message']);

const attachments = (message: Payload): Attachment[] => {
  const files = at(message, 'files');
  if (!Array.isArray(files)) return [];
  return files.flatMap((file) => {
    // A file shared from another workspace comes with its id only and is looked up when it is fetched.
    const id = textAt(file, 'id');
    const from =
      textAt(file, 'url_private_download') ??
      textAt(file, 'url_private') ??
      (id ? `file:${id}` : undefined);
    if (!from || textAt(file, 'mode') === 'tombstone') return [];
    const bytes = at(file, 'size');
    return [
      {
        name: (textAt(file, 'name') ?? textAt(file, 'title') ?? 'file').slice(0, 200),
        type: (textAt(file, 'mimetype') ?? 'application/octet-stream').slice(0, 100),
        bytes: typeof bytes === 'number' && bytes >= 0 ? Math.floor(bytes) : 0,
        from,
      },
    ];
  });
};

/** Written by the bot, by another bot, or by an integration in somebody's name. */
const byMachine = (message: Payload | undefined, self: Self): boolean =>
  textAt(message, 'bot_id') !== undefined ||
  textAt(message, 'subtype') === 'bot_message' ||
  textAt(message, 'user') === self.user;

/** Undefined for what does not fit the form of a delivery. */
const checked = (delivery: unknown): Delivery | undefined => {
  const parsed = Delivery.safeParse(delivery);
  return parsed.success ? parsed.data : undefined;
};

const keysOf = (body: Payload | undefined): string[] => {
  const event = textAt(body, 'event_id');
  return event ? [`slack:event:${event}`] : [];
};

const spotOf = (place: string, message: Payload, self: Self) => {
  const thread = textAt(message, 'thread_ts');
  return {
    channel: 'slack' as const,
    team: self.team,
    place,
    // The root of a thread carries its own ts as thread_ts once it has replies: it is not in the thread.
    ...(thread && thread !== textAt(message, 'ts') ? { thread } : {}),
  };
};

export const messageKey = (team: string, place: string, ts: string): string =>
  `slack:${team}:${place}:${ts}`;

/**
 * A message as history or an event gives it. The same message has the same id whether it arrives as message, as
 * mention, twice, or is found again in the history.
 * @param seenLate read from the history: a text that was edited since counts from when it was edited
 */
export const messageDelivery = (
  place: string,
  message: Payload,
  keys: string[],
  { self, nameOf }: Surroundings,
  seenLate = false,
): Delivery | undefined => {
  const subtype = textAt(message, 'subtype');
  if ((subtype !== undefined && !WRITTEN.has(subtype)) || byMachine(message, self))
    return undefined;
  const ts = textAt(message, 'ts');
  const posted = timeOf(ts);
  const person = textAt(message, 'user');
  if (!ts || !posted || !person) return undefined;
  const edited = seenLate ? timeOf(textAt(message, 'edited.ts')) : undefined;
  const files = attachments(message);
  const text = readText(textAt(message, 'text') ?? '', nameOf, self.user);
  if (text.trim() === '' && files.length === 0) return undefined;
  return checked({
    ...spotOf(place, message, self),
    id: messageKey(self.team, place, ts),
    keys,
    person,
    at: edited ?? posted,
    kind: 'message',
    message: ts,
    text,
    ...(place.startsWith('D') || textAt(message, 'channel_type') === 'im' ? { direct: true } : {}),
    ...(files.length > 0 ? { files } : {}),
  });
};

/** An edit; the job's key is the message's own ts, not that of the event. */
export const editDelivery = (
  place: string,
  message: Payload,
  keys: string[],
  { self, nameOf, now }: Surroundings,
  eventTs?: string,
): Delivery | undefined => {
  const ts = textAt(message, 'ts');
  const edited = textAt(message, 'edited.ts') ?? eventTs;
  if (!ts || byMachine(message, self)) return undefined;
  return checked({
    ...spotOf(place, message, self),
    id: `${messageKey(self.team, place, ts)}:edited:${edited ?? now}`,
    keys,
    person: textAt(message, 'edited.user') ?? textAt(message, 'user') ?? '',
    at: timeOf(edited) ?? now,
    kind: 'edit',
    message: ts,
    text: readText(textAt(message, 'text') ?? '', nameOf, self.user),
  });
};

/** A deleted root with replies, as the history shows it: a placeholder. */
export const deletedFromHistory = (
  place: string,
  message: Payload,
  around: Surroundings,
): Delivery | undefined => {
  const ts = textAt(message, 'ts');
  return ts ? deleteDelivery(place, ts, undefined, undefined, around) : undefined;
};

/**
 * A message that the history does not show any more. Who deleted it is not told: in a live event, too, its writer is named.
 * @param thread of its job
 */
export const goneDelivery = (
  place: string,
  ts: string,
  person: string,
  thread: string | undefined,
  around: Surroundings,
): Delivery | undefined =>
  deleteDelivery(
    place,
    ts,
    { ts, user: person, ...(thread ? { thread_ts: thread } : {}) },
    undefined,
    around,
  );

const deleteDelivery = (
  place: string,
  ts: string,
  previous: Payload | undefined,
  body: Payload | undefined,
  { self, now }: Surroundings,
): Delivery | undefined => {
  if (byMachine(previous, self)) return undefined;
  return checked({
    ...spotOf(place, previous ?? {}, self),
    id: `${messageKey(self.team, place, ts)}:deleted`,
    keys: keysOf(body),
    person: textAt(previous, 'user') ?? '',
    at: timeOf(textAt(body, 'event.event_ts')) ?? now,
    kind: 'delete',
    message: ts,
  });
};

const changed = (
  body: Payload,
  event: Payload,
  place: string,
  around: Surroundings,
): Delivery | undefined => {
  const message = payload(at(event, 'message'));
  const previous = payload(at(event, 'previous_message'));
  const ts = textAt(message, 'ts');
  if (!message || !ts) return undefined;
  // A deleted root that has replies stays as a placeholder: for its writer it is deleted.
  if (textAt(message, 'subtype') === 'tombstone')
    return deleteDelivery(place, ts, previous ?? message, body, around);
  // Link previews, pins and new replies raise this event too: the texts tell whether anything was said.
  const same = previous
    ? (textAt(previous, 'text') ?? '') === (textAt(message, 'text') ?? '')
    : textAt(message, 'edited.ts') === undefined;
  if (same) return undefined;
  return editDelivery(place, message, keysOf(body), around, textAt(event, 'event_ts'));
};

const reaction = (
  body: Payload,
  event: Payload,
  on: boolean,
  { self, now }: Surroundings,
): Delivery | undefined => {
  const person = textAt(event, 'user');
  const place = textAt(event, 'item.channel');
  const message = textAt(event, 'item.ts');
  const sign = textAt(event, 'reaction');
  if (!person || !place || !message || !sign || person === self.user) return undefined;
  const ts = textAt(event, 'event_ts');
  return checked({
    channel: 'slack',
    team: self.team,
    place,
    id: `${messageKey(self.team, place, message)}:${on ? 'sign' : 'unsign'}:${person}:${sign}:${ts ?? now}`,
    keys: keysOf(body),
    person,
    at: timeOf(ts) ?? now,
    kind: 'reaction',
    message,
    sign,
    on,
  });
};

/** Ticks: the only signs that are asked about, so the only ones that are worth reading afterwards. */
const TICK = /(?:^|_)check(?:_|$)/u;

/** Ticks that stand on a message of the history. When they were put there it does not say; of doubles the floor knows. */
export const ticksFromHistory = (
  place: string,
  message: Payload,
  { self, now }: Surroundings,
): readonly Delivery[] => {
  const ts = textAt(message, 'ts');
  const reactions = at(message, 'reactions');
  if (!ts || !Array.isArray(reactions)) return [];
  return reactions.flatMap((each) => {
    const sign = textAt(each, 'name') ?? '';
    const users = at(each, 'users');
    if (!TICK.test(sign) || !Array.isArray(users)) return [];
    return users.flatMap((person): readonly Delivery[] => {
      if (typeof person !== 'string' || person === self.user) return [];
      const delivery = checked({
        channel: 'slack',
        team: self.team,
        place,
        id: `${messageKey(self.team, place, ts)}:sign:${person}:${sign}:seen`,
        keys: [],
        person,
        at: now,
        kind: 'reaction',
        message: ts,
        sign,
        on: true,
      });
      return delivery ? [delivery] : [];
    });
  });
};

const rollDelivery = (
  body: Payload,
  who: {
    readonly person: string;
    readonly place: string;
    readonly change: 'joined' | 'left' | 'removed';
  },
  { self, now }: Surroundings,
): Delivery | undefined => {
  const ts = textAt(body, 'event.event_ts');
  return checked({
    channel: 'slack',
    team: self.team,
    place: who.place,
    id: `slack:${self.team}:roll:${who.place}:${who.person}:${who.change}:${ts ?? textAt(body, 'event_id') ?? now}`,
    keys: keysOf(body),
    person: who.person,
    at: timeOf(ts) ?? now,
    kind: 'roll',
    change: who.change,
    own: who.person === self.user,
  });
};

/** @param body the whole body of an event callback; anything that concerns no job gives undefined */
export const eventDelivery = (body: Payload, around: Surroundings): Delivery | undefined => {
  const event = payload(at(body, 'event'));
  if (!event) return undefined;
  switch (textAt(event, 'type')) {
    case 'app_mention':
    case 'message': {
      const place = textAt(event, 'channel');
      if (!place) return undefined;
      const subtype = textAt(event, 'subtype');
      if (subtype === 'message_changed') return changed(body, event, place, around);
      if (subtype === 'message_deleted') {
        const ts = textAt(event, 'deleted_ts');
        const previous = payload(at(event, 'previous_message'));
        return ts ? deleteDelivery(place, ts, previous, body, around) : undefined;
      }
      return messageDelivery(place, event, keysOf(body), around);
    }
    case 'reaction_added':
      return reaction(body, event, true, around);
    case 'reaction_removed':
      return reaction(body, event, false, around);
    case 'member_joined_channel': {
      const person = textAt(event, 'user');
      const place = textAt(event, 'channel');
      // People join and leave as they like; the bot itself is told what it is for.
      return person && place && person === around.self.user
        ? rollDelivery(body, { person, place, change: 'joined' }, around)
        : undefined;
    }
    case 'channel_left':
    case 'group_left': {
      const place = textAt(event, 'channel');
      return place
        ? rollDelivery(body, { person: around.self.user, place, change: 'left' }, around)
        : undefined;
    }
    case 'user_change': {
      // A new name or picture changes nothing: people are known by their id, and named as in the settings.
      const person = textAt(event, 'user.id');
      return person && at(event, 'user.deleted') === true
        ? rollDelivery(body, { person, place: '', change: 'removed' }, around)
        : undefined;
    }
    default:
      return undefined;
  }
};
