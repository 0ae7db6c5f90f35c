// Slack's payloads with missing, extra and wrong-typed parts: never a crash, what is kept is a delivery in the strict
// form, what an untouched part says is kept as it was said, and the next proper message is taken.
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Delivery } from '../../shared/delivery.ts';
import type { Payload } from '../../src/chat/slack/json.ts';
import { signatureOf } from '../../src/chat/slack/signature.ts';
import { eventDelivery, type Surroundings } from '../../src/chat/slack/translate-event.ts';
import { commandDelivery, formDelivery, tapDelivery } from '../../src/chat/slack/translate-tap.ts';
import { SIGNING_SECRET } from '../chat/slack/fake-slack.ts';
import { ADA, joined } from '../chat/slack/set-up-channel.ts';
import { casesOf, mutated, mutations, SEED } from './wild.ts';

const PLACE = 'C0SHOP01';
const event = (inner: object, id = 'Ev1') => ({
  type: 'event_callback',
  team_id: 'T0DEPOT1',
  api_app_id: 'A1',
  event_id: id,
  event_time: 1_772_442_000,
  authorizations: [{ team_id: 'T0DEPOT1', user_id: 'U0BOT' }],
  event: inner,
});
const MESSAGE = {
  type: 'message',
  user: ADA,
  channel: PLACE,
  ts: '1772442000.000200',
  text: 'drained 28 L',
};
const EVENTS = [
  event(MESSAGE),
  event({
    ...MESSAGE,
    thread_ts: '1772441000.000100',
    blocks: [{ type: 'rich_text', elements: [] }],
  }),
  event({
    ...{ ...MESSAGE, subtype: 'file_share' },
    files: [
      { id: 'F1', name: 'a.jpg', mimetype: 'image/jpeg', size: 12, url_private: 'https://x' },
    ],
  }),
  event({
    ...{ type: 'message', subtype: 'message_changed', channel: PLACE, ts: '1772442001.000100' },
    message: { ...MESSAGE, text: '26 L', edited: { user: ADA, ts: '1772442001.000000' } },
    previous_message: MESSAGE,
  }),
  event({
    ...{ type: 'message', subtype: 'message_deleted', channel: PLACE, ts: '1772442001.000100' },
    ...{ deleted_ts: MESSAGE.ts, previous_message: MESSAGE },
  }),
  event({
    ...{ type: 'reaction_added', user: ADA, reaction: 'eyes', event_ts: '1772442001.000100' },
    item: { type: 'message', channel: PLACE, ts: MESSAGE.ts },
  }),
];
const person = { id: ADA, username: 'ada', team_id: 'T0DEPOT1' };
const TAP = {
  type: 'block_actions',
  user: person,
  team: { id: 'T0DEPOT1' },
  trigger_id: 'TR1',
  channel: { id: PLACE },
  container: { type: 'message', message_ts: MESSAGE.ts, channel_id: PLACE },
  message: { ts: MESSAGE.ts, thread_ts: '1772441000.000100' },
  actions: [
    {
      ...{ type: 'button', action_id: 'tap.0', block_id: 'b', action_ts: '1772442002.000100' },
      value: JSON.stringify({ do: 'answer', job: '1042', question: 'q', choice: 0 }),
    },
  ],
};
const FORM = {
  type: 'view_submission',
  user: person,
  team: { id: 'T0DEPOT1' },
  view: {
    ...{ id: 'V1', callback_id: 'form', hash: 'h' },
    private_metadata: JSON.stringify({ intent: { do: 'open-job' }, place: PLACE }),
    state: { values: { job: { job: { type: 'plain_text_input', value: '1042' } } } },
  },
};
const COMMAND = {
  ...{ command: '/chargehand', text: 'open jobs', user_id: ADA, channel_id: PLACE },
  ...{ team_id: 'T0DEPOT1', trigger_id: 'TR2' },
};

const AROUND: Surroundings = {
  self: { team: 'T0DEPOT1', user: 'U0BOT', bot: 'B1' },
  nameOf: (id) => (id === ADA ? 'Ada' : undefined),
  now: '2026-03-02T09:00:00.000Z',
};

const TRANSLATORS = [
  ...EVENTS.map((sample) => ({ sample, translate: eventDelivery })),
  { sample: TAP, translate: tapDelivery },
  { sample: FORM, translate: formDelivery },
  { sample: COMMAND, translate: commandDelivery },
] as const;

describe('what is translated', () => {
  it('every sample is a delivery, so that the mutations begin at something', () => {
    for (const { sample, translate } of TRANSLATORS)
      expect(Delivery.safeParse(translate(sample as unknown as Payload, AROUND)).success).toBe(
        true,
      );
  });

  const runs = casesOf(2_000);
  it(`${runs} payloads: nothing, or a delivery in the strict form`, () => {
    fc.assert(
      fc.property(fc.constantFrom(...TRANSLATORS), mutations, ({ sample, translate }, changes) => {
        const made = translate(mutated(sample, changes) as Payload, AROUND);
        if (made !== undefined) Delivery.parse(made);
      }),
      { numRuns: runs, seed: SEED },
    );
  });

  it('parts that are new to us change nothing of what is said', () => {
    fc.assert(
      fc.property(
        fc.jsonValue({ maxDepth: 2 }),
        fc.string({ minLength: 1, maxLength: 12 }),
        (value, key) => {
          if (
            key in MESSAGE ||
            ['subtype', 'thread_ts', 'bot_id', 'files', 'app_id', '__proto__'].includes(key)
          )
            return;
          const made = eventDelivery(
            event({ ...MESSAGE, [key]: value }) as unknown as Payload,
            AROUND,
          );
          expect(made).toMatchObject({ kind: 'message', text: 'drained 28 L', person: ADA });
        },
      ),
      { numRuns: 500, seed: SEED },
    );
  });
});

describe('over HTTP, signed', () => {
  let all: Awaited<ReturnType<typeof joined>>;
  beforeEach(async () => {
    all = await joined('http');
  });
  afterEach(() => all.end());

  const send = async (path: string, type: string, body: string): Promise<number> => {
    const timestamp = String(Math.floor(Date.parse(all.time.now()) / 1000));
    const response = await fetch(`${all.channel.address()}${path}`, {
      method: 'POST',
      body,
      headers: {
        'content-type': type,
        'x-slack-request-timestamp': timestamp,
        'x-slack-signature': signatureOf(SIGNING_SECRET, timestamp, body),
      },
    });
    await response.arrayBuffer();
    return response.status;
  };
  const JSON_TYPE = 'application/json';
  const FORM_TYPE = 'application/x-www-form-urlencoded';
  const asForm = (payload: unknown): string =>
    new URLSearchParams({ payload: JSON.stringify(payload) ?? '' }).toString();

  // Each goes over a socket, which is a hundred times the work of a translation.
  const runs = Math.max(150, Math.round(casesOf(0) / 40));
  it(`${runs} requests are answered, keep only deliveries, and leave the next message its way`, async () => {
    let number = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...TRANSLATORS.slice(0, -1)),
        mutations,
        fc.option(fc.record({ at: fc.nat(), put: fc.string({ unit: 'binary', maxLength: 4 }) }), {
          freq: 4,
          nil: undefined,
        }),
        async ({ sample, translate }, changes, scratch) => {
          const payload = mutated(sample, changes);
          const isEvent = translate === eventDelivery;
          let body = isEvent ? (JSON.stringify(payload) ?? '') : asForm(payload);
          if (scratch) {
            const at = scratch.at % (body.length + 1);
            body = body.slice(0, at) + scratch.put + body.slice(at);
          }
          const status = await send(
            isEvent ? '/slack/events' : '/slack/actions',
            isEvent ? JSON_TYPE : FORM_TYPE,
            body,
          );
          expect([200, 400, 404, 500, 503]).toContain(status);
          for (const kept of all.floor.kept) Delivery.parse(kept);
          number += 1;
          if (number % 10 !== 0) return;
          const ts = `1772443000.${String(number).padStart(6, '0')}`;
          const text = `proper ${number}`;
          expect(
            await send(
              '/slack/events',
              JSON_TYPE,
              JSON.stringify(event({ ...MESSAGE, ts, text }, `Ev${ts}`)),
            ),
          ).toBe(200);
          expect(all.floor.texts().filter((each) => each === text)).toEqual([text]);
        },
      ),
      { numRuns: runs, seed: SEED },
    );
  }, 600_000);
});
