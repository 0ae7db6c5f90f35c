// The Bolt app: takes what a receiver verified, and hands each kind on as a delivery. Every listener ends only when the
// delivery is kept; the receiver acknowledges after that. Nothing else happens in the request: the floor works it off.
import { App, type Receiver } from '@slack/bolt';
import type { View } from '@slack/types';
import type { WebClient } from '@slack/web-api';
import type { Delivery } from '../../../shared/delivery.ts';
import type { Form, Intent } from '../../desk/card.ts';
import { at, type Payload, payload, textAt } from './json.ts';
import { FORM_CALLBACK, modalOf } from './modal.ts';
import { failureOf } from './post-failure.ts';
import { loggerFor, type SlackLog } from './slack-log.ts';
import { eventDelivery, messageDelivery, type Surroundings } from './translate-event.ts';
import {
  commandDelivery,
  type FormOrigin,
  formDelivery,
  tapDelivery,
  tapped,
} from './translate-tap.ts';
import { type ClientOptions, clientOptionsFor } from './web.ts';

export type ListenersOptions = {
  readonly receiver: Receiver;
  readonly token: string;
  readonly clientOptions: ClientOptions;
  readonly web: WebClient;
  readonly around: () => Surroundings;
  /** Resolves once the delivery is on disk. */
  readonly deliver: (delivery: Delivery) => Promise<void>;
  readonly formFor: (intent: Intent, person: string) => Promise<Form | undefined>;
  /** Keeps a message until its job is chosen; resolves once that is on disk. */
  readonly setAside: (delivery: Extract<Delivery, { kind: 'message' }>) => Promise<void>;
  /** The app was taken out of the workspace, or its token was. */
  readonly gone: () => void;
  /** Somebody opened the Home tab. Nothing of it has to be kept. */
  readonly homeOpened: (person: string) => void;
  readonly log: SlackLog;
};

export const COMMAND = '/chargehand';
export const RECORD_SHORTCUT = 'record-message';
export const OPEN_SHORTCUT = 'open-job';

/** Words that ask for the form itself: only here is there a trigger to open it with. */
const OPENS_FORM = /^(?:open|new)(?: an?)?(?: new)?(?: job)?$/iu;

const EVENTS = [
  'message',
  'app_mention',
  'reaction_added',
  'reaction_removed',
  'member_joined_channel',
  'channel_left',
  'group_left',
  'user_change',
] as const;

export const listen = (options: ListenersOptions): App => {
  const { web, around, deliver, log } = options;
  const { self } = around();
  const app = new App({
    receiver: options.receiver,
    // The token and who the bot is are known: no call for each delivery.
    authorize: async () => ({
      botToken: options.token,
      botUserId: self.user,
      teamId: self.team,
      ...(self.bot ? { botId: self.bot } : {}),
    }),
    clientOptions: clientOptionsFor(options.clientOptions, log),
    logger: loggerFor(log),
    convoStore: false,
  });
  // Bolt's usual handler swallows the error, and what was not kept would be acknowledged.
  app.error(async (error) => {
    throw (error as { original?: Error }).original ?? error;
  });

  const keep = async (delivery: Delivery | undefined): Promise<void> => {
    if (delivery) await deliver(delivery);
  };

  /** Shows a form at once: Slack takes a trigger for 3 seconds. False when there is none to show. */
  const show = async (trigger: string | undefined, origin: FormOrigin, person: string) => {
    const form = trigger ? await options.formFor(origin.intent, person) : undefined;
    const view = form ? modalOf(form, JSON.stringify(origin)) : undefined;
    if (!trigger || !view) return false;
    try {
      await web.views.open({ trigger_id: trigger, view: view as View });
    } catch (error) {
      log('warn', 'A form could not be shown. The person can tap again.', {
        failure: failureOf(error),
      });
    }
    return true;
  };

  for (const event of EVENTS)
    app.event(event, ({ body }) => keep(eventDelivery(body as unknown as Payload, around())));

  app.event('app_uninstalled', async () => options.gone());
  app.event('tokens_revoked', async ({ event }) => {
    if ((event.tokens.bot ?? []).length > 0) options.gone();
  });
  app.event('app_home_opened', async ({ event }) => {
    if (event.tab === 'home') options.homeOpened(event.user);
  });

  app.action(/^(?:tap|form)\./u, async ({ ack, body, respond }) => {
    const whole = body as unknown as Payload;
    const tap = tapped(whole);
    const withForm = (textAt(whole, 'actions.0.action_id') ?? '').startsWith('form.');
    const shown =
      withForm &&
      tap.intent !== undefined &&
      (await show(
        tap.trigger,
        {
          intent: tap.intent,
          place: tap.place,
          ...(tap.thread ? { thread: tap.thread } : {}),
          ...(tap.message ? { message: tap.message } : {}),
        },
        tap.person ?? '',
      ));
    if (!shown) await keep(tapDelivery(whole, around()));
    await ack();
    // A card that only one person sees cannot be changed later: it goes once it is answered.
    if (tap.ephemeral && !shown && textAt(whole, 'response_url'))
      void respond({ delete_original: true }).catch(() => undefined);
  });

  app.view(FORM_CALLBACK, async ({ ack, body }) => {
    await keep(formDelivery(body as unknown as Payload, around()));
    await ack();
  });

  app.command(COMMAND, async ({ ack, body }) => {
    const whole = body as unknown as Payload;
    const place = textAt(whole, 'channel_id') ?? '';
    const opens = OPENS_FORM.test((textAt(whole, 'text') ?? '').trim());
    const shown =
      opens &&
      (await show(
        textAt(whole, 'trigger_id'),
        { intent: { do: 'open-job' }, place },
        textAt(whole, 'user_id') ?? '',
      ));
    if (!shown) await keep(commandDelivery(whole, around()));
    await ack();
  });

  app.shortcut(OPEN_SHORTCUT, async ({ ack, body }) => {
    const whole = body as unknown as Payload;
    const person = textAt(whole, 'user.id') ?? '';
    await show(textAt(whole, 'trigger_id'), { intent: { do: 'open-job' }, place: '' }, person);
    await ack();
  });

  app.shortcut(RECORD_SHORTCUT, async ({ ack, body, respond }) => {
    const whole = body as unknown as Payload;
    const place = textAt(whole, 'channel.id') ?? '';
    const message = payload(at(whole, 'message'));
    const delivery = message ? messageDelivery(place, message, [], around()) : undefined;
    const tell = (text: string): void => {
      if (textAt(whole, 'response_url'))
        void respond({ text, response_type: 'ephemeral' }).catch(() => undefined);
    };
    if (delivery?.kind !== 'message') {
      await ack();
      return tell('Only a message that a person wrote can be put on the record of a job.');
    }
    await options.setAside(delivery);
    const intent: Intent = { do: 'choose-job', delivery: delivery.id, job: '' };
    const shown = await show(
      textAt(whole, 'trigger_id'),
      { intent, place, thread: delivery.thread ?? delivery.message, message: delivery.message },
      textAt(whole, 'user.id') ?? '',
    );
    await ack();
    if (!shown)
      tell(
        'There is no open job to put the message under, or you are not in the settings of the workshop. Nothing was recorded.',
      );
  });

  return app;
};
