import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { payload } from '../../../src/chat/slack/json.ts';
import {
  eventDelivery,
  messageDelivery,
  type Surroundings,
} from '../../../src/chat/slack/translate-event.ts';
import {
  commandDelivery,
  formDelivery,
  tapDelivery,
} from '../../../src/chat/slack/translate-tap.ts';

const around: Surroundings = {
  self: { team: 'T0DEPOT1', user: 'U0CHARGE1', bot: 'B0CHARGE1' },
  nameOf: (id) => (id === 'U0ADA001' ? 'Ada' : undefined),
  now: '2026-03-02T09:00:00.000Z',
};
const MESSAGE = {
  type: 'message',
  user: 'U0ADA001',
  channel: 'C0SHOP01',
  // 1,772,442,000 s is 2026-03-02 09:00 UTC: 20,514 days of 86,400 s and 32,400 s.
  ts: '1772442000.000200',
  text: 'drained 28 L',
};
const event = (inner: object, id = 'Ev1') =>
  eventDelivery({ type: 'event_callback', event_id: id, event: inner }, around);

describe('a message', () => {
  it('keeps who, where, when and what', () => {
    expect(event(MESSAGE)).toEqual({
      channel: 'slack',
      team: 'T0DEPOT1',
      place: 'C0SHOP01',
      id: 'slack:T0DEPOT1:C0SHOP01:1772442000.000200',
      keys: ['slack:event:Ev1'],
      person: 'U0ADA001',
      at: '2026-03-02T09:00:00.000Z',
      kind: 'message',
      message: '1772442000.000200',
      text: 'drained 28 L',
    });
  });

  it('is one message whether it comes as message, as mention or in another event', () => {
    const mention = event(
      { ...MESSAGE, type: 'app_mention', text: '<@U0CHARGE1> drained 28 L' },
      'Ev2',
    );
    expect(mention?.id).toBe(event(MESSAGE)?.id);
    expect(mention).toMatchObject({ text: 'drained 28 L', keys: ['slack:event:Ev2'] });
  });

  it('stands in its thread, a root does not', () => {
    expect(event({ ...MESSAGE, thread_ts: '1772440000.000100' })).toMatchObject({
      thread: '1772440000.000100',
    });
    expect(event({ ...MESSAGE, thread_ts: MESSAGE.ts })).not.toHaveProperty('thread');
    expect(
      event({ ...MESSAGE, subtype: 'thread_broadcast', thread_ts: '1772440000.000100' }),
    ).toMatchObject({ kind: 'message', thread: '1772440000.000100' });
  });

  it('shown in the channel too stays in its thread, and is one message', () => {
    const said = event({
      ...MESSAGE,
      subtype: 'thread_broadcast',
      thread_ts: '1772440000.000100',
      root: { ts: '1772440000.000100' },
    });
    expect(said).toMatchObject({ kind: 'message', thread: '1772440000.000100' });
    expect(said?.id).toBe(event({ ...MESSAGE, thread_ts: '1772440000.000100' }, 'Ev2')?.id);
  });

  it('is direct in a direct conversation', () => {
    expect(event({ ...MESSAGE, channel: 'D0ADA001', channel_type: 'im' })).toMatchObject({
      direct: true,
    });
    expect(event(MESSAGE)).not.toHaveProperty('direct');
  });

  it('carries its files, with and without text', () => {
    const file = {
      id: 'F1',
      name: 'bore.jpg',
      mimetype: 'image/jpeg',
      size: 2048,
      url_private: 'https://files.slack.com/a',
      url_private_download: 'https://files.slack.com/b',
    };
    expect(event({ ...MESSAGE, subtype: 'file_share', text: '', files: [file] })).toMatchObject({
      text: '',
      files: [
        { name: 'bore.jpg', type: 'image/jpeg', bytes: 2048, from: 'https://files.slack.com/b' },
      ],
    });
    expect(
      event({
        ...MESSAGE,
        subtype: 'file_share',
        files: [{ id: 'F2', file_access: 'check_file_info' }],
      }),
    ).toMatchObject({ files: [{ from: 'file:F2' }] });
  });

  it.each([
    ['the bot itself', { user: 'U0CHARGE1' }],
    ['another bot', { bot_id: 'B0OTHER1' }],
    ['an old kind of bot', { subtype: 'bot_message', user: undefined }],
    ['somebody who joined', { subtype: 'channel_join' }],
    ['a pin', { subtype: 'pinned_item' }],
    ['nothing at all', { text: '  ' }],
    ['no person', { user: undefined }],
    ['a ts that is no time', { ts: 'soon' }],
    ['a text that is no text', { text: { a: 1 } }],
  ])('is none of a person when it is from %s', (_, change) => {
    expect(event({ ...MESSAGE, ...change })).toBeUndefined();
  });

  it('counts from its edit when it was first seen after it, in the history', () => {
    const edited = { ...MESSAGE, edited: { user: 'U0ADA001', ts: '1772443800.000000' } };
    expect(messageDelivery('C0SHOP01', edited, [], around, true)?.at).toBe(
      '2026-03-02T09:30:00.000Z',
    );
  });
});

const CHANGED = {
  type: 'message',
  subtype: 'message_changed',
  channel: 'C0SHOP01',
  ts: '1772443800.000900',
  event_ts: '1772443800.000900',
  message: {
    ...MESSAGE,
    text: 'drained 26 L',
    edited: { user: 'U0ADA001', ts: '1772443800.000000' },
  },
  previous_message: MESSAGE,
};

describe('a change', () => {
  it('is an edit of the message, by the ts of the message', () => {
    expect(event(CHANGED)).toMatchObject({
      kind: 'edit',
      message: MESSAGE.ts,
      text: 'drained 26 L',
      at: '2026-03-02T09:30:00.000Z',
      id: `slack:T0DEPOT1:C0SHOP01:${MESSAGE.ts}:edited:1772443800.000000`,
    });
  });

  it('is nothing when the text is the same: a link preview, a pin, a new reply', () => {
    const same = { ...CHANGED.message, text: MESSAGE.text, attachments: [{}] };
    expect(event({ ...CHANGED, message: same })).toBeUndefined();
    const { edited: _, ...plain } = CHANGED.message;
    expect(event({ ...CHANGED, message: plain, previous_message: undefined })).toBeUndefined();
  });

  it('is nothing when it is the bot that changed its own post', () => {
    const own = { ...MESSAGE, user: 'U0CHARGE1', bot_id: 'B0CHARGE1' };
    expect(
      event({ ...CHANGED, message: { ...own, text: 'x' }, previous_message: own }),
    ).toBeUndefined();
  });

  it('is a deletion when a root with replies is deleted', () => {
    expect(
      event({ ...CHANGED, message: { ...MESSAGE, subtype: 'tombstone', user: 'USLACKBOT' } }),
    ).toMatchObject({ kind: 'delete', message: MESSAGE.ts, person: 'U0ADA001' });
  });
});

describe('a deletion', () => {
  const gone = {
    type: 'message',
    subtype: 'message_deleted',
    channel: 'C0SHOP01',
    deleted_ts: MESSAGE.ts,
    event_ts: '1772443800.000900',
    previous_message: MESSAGE,
  };

  it('names the message that is gone', () => {
    expect(event(gone)).toMatchObject({
      kind: 'delete',
      message: MESSAGE.ts,
      person: 'U0ADA001',
      id: `slack:T0DEPOT1:C0SHOP01:${MESSAGE.ts}:deleted`,
    });
  });

  it('of a post of a bot is nothing', () => {
    expect(
      event({ ...gone, previous_message: { ...MESSAGE, bot_id: 'B0CHARGE1' } }),
    ).toBeUndefined();
  });
});

describe('a reaction', () => {
  const added = {
    type: 'reaction_added',
    user: 'U0ROBIN1',
    reaction: 'white_check_mark',
    item: { type: 'message', channel: 'C0SHOP01', ts: MESSAGE.ts },
    event_ts: '1772443800.000900',
  };

  it('is put on and taken off', () => {
    expect(event(added)).toMatchObject({ kind: 'reaction', sign: 'white_check_mark', on: true });
    const removed = event({ ...added, type: 'reaction_removed' });
    expect(removed).toMatchObject({ on: false, message: MESSAGE.ts });
    expect(removed?.id).not.toBe(event(added)?.id);
  });

  it('of the bot itself is nothing', () => {
    expect(event({ ...added, user: 'U0CHARGE1' })).toBeUndefined();
  });
});

const TAP = {
  type: 'block_actions',
  user: { id: 'U0ROBIN1' },
  trigger_id: 'TR1',
  channel: { id: 'C0SHOP01' },
  container: { type: 'message', message_ts: '1772442100.000100', thread_ts: '1772440000.000100' },
  actions: [
    {
      action_id: 'tap.0',
      action_ts: '1772443800.000100',
      value: '{"do":"release","job":"1042","step":"leak-check","position":null}',
    },
  ],
};

describe('joining and leaving', () => {
  const event = (inner: object) =>
    eventDelivery({ event_id: 'Ev1', event: { event_ts: MESSAGE.ts, ...inner } }, around);

  it('is heard of the bot itself', () => {
    const { user } = around.self;
    expect(event({ type: 'member_joined_channel', user, channel: 'C0YARD01' })).toMatchObject({
      kind: 'roll',
      change: 'joined',
      own: true,
      place: 'C0YARD01',
    });
    for (const type of ['channel_left', 'group_left'])
      expect(event({ type, channel: 'C0YARD01' })).toMatchObject({ change: 'left', own: true });
  });

  it('of people is nothing; an account that was removed is something, a new name is not', () => {
    const user = 'U0ADA001';
    expect(event({ type: 'member_joined_channel', user, channel: 'C0YARD01' })).toBeUndefined();
    expect(event({ type: 'user_change', user: { id: user, deleted: true } })).toMatchObject({
      kind: 'roll',
      change: 'removed',
      person: user,
      own: false,
    });
    expect(event({ type: 'user_change', user: { id: user, deleted: false } })).toBeUndefined();
  });
});

describe('a tap', () => {
  it('carries the intent of the button and where it stands', () => {
    expect(tapDelivery(TAP, around)).toMatchObject({
      kind: 'tap',
      person: 'U0ROBIN1',
      thread: '1772440000.000100',
      message: '1772442100.000100',
      at: '2026-03-02T09:30:00.000Z',
      keys: ['slack:trigger:TR1'],
      intent: '{"do":"release","job":"1042","step":"leak-check","position":null}',
    });
  });

  it.each([
    ['a value that is no JSON', 'release'],
    ['a value without a deed', '{"job":"1042"}'],
    ['no value', undefined],
  ])('with %s is nothing', (_, value) => {
    expect(
      tapDelivery({ ...TAP, actions: [{ ...TAP.actions[0], value }] }, around),
    ).toBeUndefined();
  });
});

describe('a form and a command', () => {
  it('brings back the intent, the place and the fields', () => {
    const body = {
      type: 'view_submission',
      user: { id: 'U0ROBIN1' },
      view: {
        id: 'V1',
        private_metadata: JSON.stringify({
          intent: { do: 'override', job: '1042', flag: 'f' },
          place: 'C0SHOP01',
          thread: '1772440000.000100',
        }),
        state: { values: { reason: { value: { type: 'plain_text_input', value: 'seen' } } } },
      },
    };
    expect(formDelivery(body, around)).toMatchObject({
      kind: 'tap',
      id: 'slack:T0DEPOT1:form:V1:U0ROBIN1',
      place: 'C0SHOP01',
      thread: '1772440000.000100',
      intent: '{"do":"override","job":"1042","flag":"f"}',
      fields: { reason: 'seen' },
    });
    expect(
      formDelivery({ ...body, view: { ...body.view, private_metadata: '' } }, around),
    ).toBeUndefined();
  });

  it('keeps the words of a command, with names in place of ids', () => {
    expect(
      commandDelivery(
        {
          command: '/chargehand',
          text: ' jobs of <@U0ADA001|ada> ',
          user_id: 'U0ROBIN1',
          channel_id: 'C0SHOP01',
          trigger_id: 'TR2',
        },
        around,
      ),
    ).toMatchObject({ kind: 'command', text: 'jobs of Ada', place: 'C0SHOP01' });
  });
});

const SAMPLES = new URL('../../../../shared/schemas/slack-payload-samples/', import.meta.url);

/** The sample's shape with values that mean something: the published ones are blanked. */
const filled = (value: unknown, key = ''): unknown => {
  if (Array.isArray(value)) return value.slice(0, 1).map((each) => filled(each, key));
  if (typeof value === 'object' && value !== null)
    return Object.fromEntries(
      Object.entries(value)
        .filter(([name]) => name !== 'bot_id')
        .map(([name, inner]) => [name, filled(inner, name)]),
    );
  if (value !== '') return value;
  if (/(?:^|_)ts$|latest_reply/u.test(key)) return MESSAGE.ts;
  if (key === 'text') return 'drained 28 L';
  if (/^(?:user|user_id|id)$/u.test(key)) return 'U0ADA001';
  if (/^(?:channel|channel_id)$/u.test(key)) return 'C0SHOP01';
  if (key === 'value') return '{"do":"open-job"}';
  return value;
};

describe.skipIf(!existsSync(SAMPLES))(
  'the published shapes of payloads (left out where ../shared/schemas is absent)',
  () => {
    const sample = (name: string) =>
      filled(JSON.parse(readFileSync(new URL(`${name}Payload.json`, SAMPLES), 'utf8')));
    const as = (name: string, change: object) => {
      const body = payload(sample(name)) ?? {};
      return eventDelivery({ ...body, event: { ...payload(body.event), ...change } }, around);
    };

    it.each([
      ['Message', {}, 'message'],
      ['MessageFileShare', {}, 'message'],
      ['MessageThreadBroadcast', {}, 'message'],
      ['MessageDeleted', {}, 'delete'],
      ['ReactionAdded', { reaction: 'eyes' }, 'reaction'],
      ['ReactionRemoved', { reaction: 'eyes' }, 'reaction'],
    ])('%s', (name, change, kind) => {
      expect(as(name, change)?.kind).toBe(kind);
    });

    it('MessageChanged', () => {
      expect(as('MessageChanged', { previous_message: { text: 'drained 26 L' } })?.kind).toBe(
        'edit',
      );
    });

    it.each(['MessageBot', 'MessageReplied', 'AppHomeOpened', 'FileShared'])(
      '%s is nothing a person said',
      (name) => {
        expect(as(name, {})).toBeUndefined();
      },
    );

    it('ViewSubmission brings back what was filled in', () => {
      const body = payload(sample('ViewSubmission')) ?? {};
      const view = {
        ...payload(body.view),
        private_metadata: JSON.stringify({ intent: { do: 'open-job' }, place: 'C0SHOP01' }),
      };
      expect(formDelivery({ ...body, view }, around)).toMatchObject({
        kind: 'tap',
        place: 'C0SHOP01',
      });
    });

    it('MessageShortcut carries the message that a person wrote', () => {
      const body = payload(sample('MessageShortcut')) ?? {};
      const message = payload(body.message) ?? {};
      const { subtype: _, ...plain } = message;
      expect(messageDelivery('C0SHOP01', plain, [], around)).toMatchObject({
        kind: 'message',
        text: 'drained 28 L',
      });
    });

    it('SlashCommand and BlockAction', () => {
      expect(commandDelivery(payload(sample('SlashCommand')) ?? {}, around)?.kind).toBe('command');
      expect(tapDelivery(payload(sample('BlockAction')) ?? {}, around)?.kind).toBe('tap');
    });
  },
);
