// Buttons, filled forms, commands and shortcuts as deliveries.
import { Delivery } from '../../../shared/delivery.ts';
import type { Intent } from '../../desk/card.ts';
import { at, type Payload, parseJson, payload, textAt, timeOf } from './json.ts';
import { readText } from './markup.ts';
import { fieldsFrom } from './modal.ts';
import type { Surroundings } from './translate-event.ts';

/** Where a form was opened from: it travels in the form's private_metadata. */
export type FormOrigin = {
  readonly intent: Intent;
  readonly place: string;
  readonly thread?: string;
  readonly message?: string;
};

const checked = (delivery: unknown): Delivery | undefined => {
  const parsed = Delivery.safeParse(delivery);
  return parsed.success ? parsed.data : undefined;
};

/** Undefined unless it has the form of an intent; what it may do is decided where it is carried out. */
export const intentFrom = (text: string | undefined): Intent | undefined => {
  const value = payload(text === undefined ? undefined : parseJson(text));
  return textAt(value, 'do') ? (value as unknown as Intent) : undefined;
};

/** What was tapped and where, for a button. */
export const tapped = (body: Payload) => {
  const message = textAt(body, 'container.message_ts') ?? textAt(body, 'message.ts');
  const thread = textAt(body, 'container.thread_ts') ?? textAt(body, 'message.thread_ts');
  // What is tapped on somebody's own page is answered to that person directly.
  const own = textAt(body, 'container.type') === 'view' ? textAt(body, 'user.id') : undefined;
  return {
    intent: intentFrom(textAt(body, 'actions.0.value')),
    person: textAt(body, 'user.id'),
    place: textAt(body, 'channel.id') ?? textAt(body, 'container.channel_id') ?? own ?? '',
    trigger: textAt(body, 'trigger_id'),
    // A button under the root of a thread stands in that thread.
    thread: thread ?? message,
    message,
    ephemeral: at(body, 'container.is_ephemeral') === true,
  };
};

export const tapDelivery = (body: Payload, { self, now }: Surroundings): Delivery | undefined => {
  const tap = tapped(body);
  if (!tap.intent || !tap.person) return undefined;
  const when = textAt(body, 'actions.0.action_ts');
  const action = textAt(body, 'actions.0.action_id') ?? '';
  return checked({
    channel: 'slack',
    team: self.team,
    place: tap.place,
    ...(tap.thread && !tap.ephemeral ? { thread: tap.thread } : {}),
    id: `slack:${self.team}:tap:${tap.place}:${tap.message ?? ''}:${action}:${tap.person}:${when ?? tap.trigger ?? now}`,
    keys: tap.trigger ? [`slack:trigger:${tap.trigger}`] : [],
    person: tap.person,
    at: timeOf(when) ?? now,
    kind: 'tap',
    intent: JSON.stringify(tap.intent),
    ...(tap.message ? { message: tap.message } : {}),
  });
};

export const formDelivery = (body: Payload, { self, now }: Surroundings): Delivery | undefined => {
  const origin = parseJson(textAt(body, 'view.private_metadata') ?? '');
  const intent = payload(at(origin, 'intent'));
  const person = textAt(body, 'user.id');
  const view = textAt(body, 'view.id');
  if (!intent || !textAt(intent, 'do') || !person || !view) return undefined;
  const thread = textAt(origin, 'thread');
  const message = textAt(origin, 'message');
  return checked({
    channel: 'slack',
    team: self.team,
    place: textAt(origin, 'place') ?? '',
    ...(thread ? { thread } : {}),
    // A form can be sent once: what is sent again is the same one.
    id: `slack:${self.team}:form:${view}:${person}`,
    keys: [],
    person,
    at: now,
    kind: 'tap',
    intent: JSON.stringify(intent),
    fields: fieldsFrom(at(body, 'view.state.values')),
    ...(message ? { message } : {}),
  });
};

/** A command carries no thread: the words are for the place it was typed in. */
export const commandDelivery = (
  body: Payload,
  { self, nameOf, now }: Surroundings,
): Delivery | undefined => {
  const person = textAt(body, 'user_id');
  const trigger = textAt(body, 'trigger_id');
  if (!person) return undefined;
  return checked({
    channel: 'slack',
    team: self.team,
    place: textAt(body, 'channel_id') ?? '',
    id: `slack:${self.team}:command:${person}:${trigger ?? now}`,
    keys: [],
    person,
    at: now,
    kind: 'command',
    text: readText(textAt(body, 'text') ?? '', nameOf, self.user).trim(),
  });
};
