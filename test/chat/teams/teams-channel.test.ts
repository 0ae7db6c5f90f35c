// What people do in Teams and what the bot posts there, through the stand-in with its tokens checked.
import { afterEach, describe, expect, it } from 'vitest';
import type { Card, Form } from '../../../src/desk/card.ts';
import { CHANNEL, CLIENT_ID, TENANT } from './fake-teams.ts';
import { ADA, ROBIN, setUpTeams } from './set-up-teams.ts';

type SetUp = Awaited<ReturnType<typeof setUpTeams>>;
let at: SetUp | undefined;
const start = async (options: Parameters<typeof setUpTeams>[0] = {}): Promise<SetUp> => {
  at = await setUpTeams(options);
  return at;
};
afterEach(async () => {
  await at?.end();
  at = undefined;
});

const PLACE = { team: TENANT, place: CHANNEL };
const card = (text: string, more: Partial<Card> = {}): Card => ({
  text,
  blocks: [{ kind: 'text', text }],
  ...more,
});

describe('what people say', () => {
  it('takes a message of the channel, of a thread and a direct one', async () => {
    const { fake, kept } = await start();
    const root = await fake.post(ADA, 'open job 1042 bus 9', { mention: true });
    await fake.post(ADA, 'drained 28 L', { thread: root });
    await fake.post(ADA, 'open jobs', { place: 'a:1' });
    expect(kept).toMatchObject([
      { kind: 'message', text: 'open job 1042 bus 9', place: CHANNEL, team: TENANT, person: ADA },
      { kind: 'message', text: 'drained 28 L', thread: root },
      { kind: 'message', text: 'open jobs', place: 'a:1', direct: true },
    ]);
    expect(kept[0]).not.toHaveProperty('thread');
    expect(kept[1]).not.toHaveProperty('direct');
  });

  it('takes an edit, a message brought back and a deletion', async () => {
    const { fake, kept } = await start();
    const id = await fake.post(ADA, 'drained 82 L');
    await fake.edit(ADA, id, 'drained 28 L');
    await fake.remove(ADA, id);
    await fake.bringBack(ADA, id, 'drained 28 L');
    expect(kept.map(({ kind }) => kind)).toEqual(['message', 'edit', 'delete', 'edit']);
    expect(kept[1]).toMatchObject({ message: id, text: 'drained 28 L' });
    expect(kept[3]).toMatchObject({ message: id, text: 'drained 28 L' });
    expect(new Set(kept.map((each) => each.id)).size).toBe(4);
  });

  it('takes a message of a group chat, which is neither direct nor in a thread', async () => {
    const { fake, kept } = await start();
    await fake.post(ADA, 'open job 1042 bus 9', { place: '19:pit@unq.gbl.spaces', mention: true });
    expect(kept).toMatchObject([
      { kind: 'message', text: 'open job 1042 bus 9', place: '19:pit@unq.gbl.spaces', person: ADA },
    ]);
    expect(kept[0]).not.toHaveProperty('thread');
    expect(kept[0]).not.toHaveProperty('direct');
  });

  it('takes a sign on one of the bot’s messages by its name of the workshop', async () => {
    const { fake, kept, channel } = await start();
    const result = await channel.post(PLACE, card('Hold'), 'k|1');
    if (!result.ok) throw new Error('not posted');
    await fake.react(ROBIN, result.posted.message, 'checkmark');
    expect(kept).toMatchObject([
      { kind: 'reaction', message: result.posted.message, sign: 'white_check_mark', on: true },
    ]);
  });

  it('keeps a delivery that comes twice once', async () => {
    const { fake, kept } = await start();
    const activity = {
      ...fake.envelope(ADA, `${CHANNEL};messageid=7`),
      type: 'message',
      id: '8',
      text: 'cap off',
    };
    await fake.send(activity);
    await fake.send(activity);
    expect(kept).toHaveLength(1);
    expect(fake.statuses).toEqual([200, 200]);
  });

  it('answers only once the delivery is kept, and says so where it was not', async () => {
    const { fake, kept, fail } = await start();
    fail(1);
    await fake.post(ADA, 'cap off');
    expect(fake.statuses).toEqual([500]);
    expect(kept).toEqual([]);
  });

  it('takes pictures as evidence and gives the token to the service alone', async () => {
    const { fake, kept, channel } = await start();
    await fake.post(ADA, '', {
      activity: {
        attachments: [
          { contentType: 'image/jpeg', contentUrl: `${fake.url}/v3/attachments/12` },
          {
            contentType: 'application/vnd.microsoft.teams.file.download.info',
            name: 'seal.jpg',
            content: { downloadUrl: 'https://depot.sharepoint.com/x', fileType: 'jpg' },
          },
          { contentType: 'text/html', content: '<p></p>' },
        ],
      },
    });
    expect(kept).toMatchObject([
      {
        text: '',
        files: [
          { type: 'image/jpeg', from: `${fake.url}/v3/attachments/12` },
          { name: 'seal.jpg', type: 'image/jpeg' },
        ],
      },
    ]);
    const bytes = await channel.fetch?.(`${fake.url}/v3/attachments/12`, 1_000);
    expect(Buffer.from(bytes ?? []).toString()).toContain('12');
    await expect(channel.fetch?.(`${fake.url}/v3/attachments/12`, 3)).rejects.toThrow(/larger/u);
    await expect(channel.fetch?.('http://127.0.0.1:9/x', 100)).rejects.toThrow(
      /not kept by Teams/u,
    );
    await expect(channel.fetch?.('https://example.com/x', 100)).rejects.toThrow(/not kept by/u);
  });

  it('leaves what the bot itself and the platform do', async () => {
    const { fake, kept } = await start();
    await fake.send({ ...fake.envelope(ADA, CHANNEL), type: 'typing', id: '1' });
    await fake.send({ ...fake.envelope(ADA, CHANNEL), type: 'conversationUpdate', id: '2' });
    const own = fake.envelope(ADA, CHANNEL);
    await fake.send({ ...own, from: own.recipient, type: 'message', id: '3', text: 'done' });
    expect(kept).toEqual([]);
    expect(fake.statuses).toEqual([200, 200, 200]);
  });
});

describe('who is let in', () => {
  const send = async (up: SetUp, token: string | undefined): Promise<number | undefined> => {
    await up.fake
      .send({ ...up.fake.envelope(ADA, CHANNEL), type: 'message', id: '1', text: 'x' }, token)
      .catch(() => undefined);
    return up.fake.statuses.at(-1);
  };

  it.each([
    ['for another bot', { aud: '00000000-0000-4000-8000-000000000000' }],
    ['of another issuer', { iss: 'https://example.com' }],
    ['that has expired', { exp: 1_000 }],
    ['for another service', { serviceurl: 'https://example.com' }],
  ])('refuses a token %s', async (_, claims) => {
    const up = await start();
    expect(await send(up, up.fake.proof(claims))).toBe(401);
    expect(up.kept).toEqual([]);
  });

  it('refuses no token, a torn one, and one signed with another key', async () => {
    const up = await start();
    expect(await send(up, '')).toBe(401);
    expect(await send(up, up.fake.proof().slice(0, -8))).toBe(401);
    up.fake.forge();
    expect(await send(up, up.fake.proof())).toBe(401);
    expect(up.kept).toEqual([]);
  });

  it('cannot be told by the environment to leave the proof out', async () => {
    process.env.DANGEROUSLY_ALLOW_UNAUTHENTICATED_REQUESTS = 'true';
    try {
      const up = await start();
      expect(await send(up, '')).toBe(401);
    } finally {
      delete process.env.DANGEROUSLY_ALLOW_UNAUTHENTICATED_REQUESTS;
    }
  });

  it('refuses people of another organisation', async () => {
    const up = await start();
    const activity = up.fake.envelope(ADA, CHANNEL);
    await up.fake.send({
      ...activity,
      channelData: { tenant: { id: CLIENT_ID } },
      type: 'message',
      id: '1',
      text: 'drained 28 L',
    });
    expect(up.fake.statuses).toEqual([403]);
    expect(up.kept).toEqual([]);
  });

  it('answers what is no activity in one line', async () => {
    const up = await start();
    const address = up.channel.address() ?? '';
    const ask = async (body: string, path = '/api/messages', method = 'POST') =>
      (await fetch(`${address}${path}`, { method, ...(body ? { body } : {}) })).status;
    expect(await ask('{')).toBe(400);
    expect(await ask('[]')).toBe(400);
    expect(await ask('x'.repeat(600_000))).toBe(413);
    expect(await ask('', '/', 'GET')).toBe(404);
    expect(await ask('', '/pictures/../../etc/passwd', 'GET')).toBe(404);
    await up.fake.send({ ...up.fake.envelope(ADA, CHANNEL), type: 7 });
    expect(up.fake.statuses).toEqual([400]);
  });
});

describe('what the bot posts', () => {
  it('posts into the channel, into a thread, and changes a post in place', async () => {
    const { fake, channel } = await start();
    const sheet = await channel.post(PLACE, card('Job 1042'), 'k|sheet');
    if (!sheet.ok) throw new Error('not posted');
    const thread = sheet.posted.message;
    const reply = await channel.post({ ...PLACE, thread }, card('Noted'), 'k|1');
    if (!reply.ok) throw new Error('not posted');
    await channel.edit(sheet.posted, card('Job 1042, closed'));
    expect(fake.messages).toMatchObject([
      { id: thread, conversation: CHANNEL, activity: { summary: 'Job 1042, closed' } },
      { conversation: `${CHANNEL};messageid=${thread}` },
    ]);
    expect(fake.refused).toEqual([]);
  });

  it('posts into a chat without a thread, since chats have none', async () => {
    const { fake, channel } = await start();
    await channel.post(
      { team: TENANT, place: '19:crew@thread.v2', thread: '5', person: ADA },
      card('Noted'),
      'k|1',
    );
    expect(fake.messages.at(-1)?.conversation).toBe('19:crew@thread.v2');
  });

  it('speaks to one person directly, and opens that conversation once, also after a restart', async () => {
    const { fake, channel, again } = await start();
    await channel.post({ ...PLACE, person: ADA }, card('For you'), 'k|1');
    await channel.post({ ...PLACE, person: ADA }, card('Again'), 'k|2');
    await again().post({ ...PLACE, person: ADA }, card('And again'), 'k|3');
    const direct = fake.direct.get(ADA);
    expect(direct).toMatch(/^a:/u);
    expect(fake.messages.map(({ conversation }) => conversation)).toEqual([direct, direct, direct]);
    expect(fake.calls.filter((call) => call === 'POST /v3/conversations')).toHaveLength(1);
  });

  it('remembers where a conversation is reached after a restart', async () => {
    const { fake, again, marks } = await start();
    await fake.post(ADA, 'hello');
    expect(JSON.parse(marks.get(`teams:at:${CHANNEL}`) ?? '{}')).toMatchObject({
      serviceUrl: fake.url,
    });
    expect((await again().post(PLACE, card('Job'), 'k|1')).ok).toBe(true);
  });

  it('names the people who are to be told, and nobody else', async () => {
    const { fake, channel } = await start();
    await channel.post(
      PLACE,
      card('Skipped <at>everyone</at>', {
        level: 'stop',
        title: 'Skipped',
        tells: ['Robin', 'Mo'],
      }),
      'k|1',
    );
    const sent = fake.messages[0]?.activity as {
      attachments: { content: { msteams: { entities: unknown[] } } }[];
    };
    expect(sent.attachments[0]?.content.msteams.entities).toEqual([
      { type: 'mention', text: '<at>Robin</at>', mentioned: { id: ROBIN, name: 'Robin' } },
    ]);
    expect(fake.refused).toEqual([]);
  });

  it.each([
    ['429', 429 as const, { kind: 'wait', seconds: 7 }],
    ['401', 401 as const, { kind: 'wait', seconds: 60 }],
    ['500', 500 as const, { kind: 'unclear' }],
    ['403', 403 as const, { kind: 'refused' }],
    ['a reset', 'reset' as const, { kind: 'unclear' }],
  ])('says what %s means for the post', async (_, how, failure) => {
    const { fake, channel } = await start();
    fake.failNext(how, { retryAfter: '7' });
    expect(await channel.post(PLACE, card('x'), 'k|1')).toMatchObject({ ok: false, failure });
  });

  it('waits where the service is not to be reached at all: nothing was sent', async () => {
    const { fake, channel } = await start();
    await fake.close();
    expect(await channel.post(PLACE, card('x'), 'k|1')).toMatchObject({
      ok: false,
      failure: { kind: 'wait' },
    });
  });

  it('finds a post again whose answer was lost, in the channel and in a thread', async () => {
    const { fake, channel } = await start();
    await fake.post(ADA, 'hello');
    fake.failNext('reset', { after: true });
    const lost = await channel.post(PLACE, card('Job 1'), 'job|sheet');
    expect(lost).toMatchObject({ ok: false, failure: { kind: 'unclear' } });
    const found = await channel.find?.(PLACE, 'job|sheet');
    expect(found?.message).toBe(fake.messages.at(-1)?.id);
    expect(await channel.find?.(PLACE, 'job|other')).toBeUndefined();
    const thread = found?.message ?? '';
    fake.failNext(500, { after: true });
    await channel.post({ ...PLACE, thread }, card('Noted'), 'job|1');
    expect((await channel.find?.({ ...PLACE, thread }, 'job|1'))?.message).toBe(
      fake.messages.at(-1)?.id,
    );
  });

  it('sends a small picture in the card, and lets a large one be fetched for a while', async () => {
    const picture = (wide: number) => ({
      svg: `<svg xmlns="http://www.w3.org/2000/svg" width="${wide}" height="60">${Array.from(
        { length: wide },
        (_, x) => `<circle cx="${x}" cy="${(x * 37) % 60}" r="2" fill="rgb(${x % 255},9,9)"/>`,
      ).join('')}</svg>`,
      alt: 'Planned against done',
    });
    const { fake, channel } = await start({ publicUrl: 'https://depot.example' });
    await channel.post(PLACE, card('Small', { picture: picture(40) }), 'k|1');
    await channel.post(PLACE, card('Large', { picture: picture(900) }), 'k|2');
    const urls = fake.messages.map(({ id }) => {
      const body = fake.cardOf(id).body as { type: string; url?: string }[];
      return body.find((element) => element.type === 'Image')?.url ?? '';
    });
    expect(urls[0]).toMatch(/^data:image\/png;base64,/u);
    expect(urls[1]).toMatch(/^https:\/\/depot\.example\/pictures\/[0-9a-f]{64}\.png$/u);
    const path = new URL(urls[1] ?? '').pathname;
    const answer = await fetch(`${channel.address()}${path}`);
    expect(answer.headers.get('content-type')).toBe('image/png');
    expect(
      Buffer.from(await answer.arrayBuffer())
        .subarray(1, 4)
        .toString(),
    ).toBe('PNG');
    expect(fake.refused).toEqual([]);
  });
});

describe('files of a card', () => {
  const file = {
    job: '1042',
    kept: 'k1',
    name: 'job-1042-record.pdf',
    type: 'application/pdf',
    says: 'Job record to print, 7 pages',
    bytes: 4,
  };

  it('are fetched under a name nobody can guess, with their own type', async () => {
    const { fake, channel } = await start({
      publicUrl: 'https://depot.example',
      fileOf: async ({ kept }) => (kept === 'k1' ? Buffer.from('%PDF') : undefined),
    });
    await channel.post(PLACE, card('Record', { files: [file, { ...file, kept: 'gone' }] }), 'k|1');
    const actions = fake.cardOf(fake.messages[0]?.id ?? '').actions as { url: string }[];
    expect(actions).toHaveLength(1);
    const answer = await fetch(`${channel.address()}${new URL(actions[0]?.url ?? '').pathname}`);
    expect(answer.headers.get('content-type')).toBe('application/pdf');
    expect(await answer.text()).toBe('%PDF');
    expect(fake.refused).toEqual([]);
  });

  it('are named where nobody could fetch them', async () => {
    const { fake, channel } = await start();
    await channel.post(PLACE, card('Record', { files: [file] }), 'k|1');
    expect(JSON.stringify(fake.messages[0]?.activity)).toContain(
      'Job record to print, 7 pages: job-1042-record.pdf, to be had from the bench page',
    );
  });
});

describe('taps and forms', () => {
  const form: Form = {
    title: 'Why',
    submit: 'Override',
    fields: [
      { name: 'reason', label: 'Reason', kind: 'long-text', required: true },
      { name: 'when', label: 'When', kind: 'date-time', required: false },
      {
        name: 'positions',
        label: 'Positions',
        kind: 'choices',
        required: false,
        choices: [
          { value: 'left', label: 'left' },
          { value: 'right', label: 'right' },
        ],
      },
    ],
  };

  it('takes a tap with its card, and answers in the request', async () => {
    const { fake, kept, channel } = await start();
    const intent = { do: 'acknowledge', job: '1042', flag: 'f1' } as const;
    const posted = await channel.post(
      PLACE,
      card('Stop', { actions: [{ label: 'I have seen it', weight: 'plain', intent }] }),
      'k|1',
    );
    if (!posted.ok) throw new Error('not posted');
    expect(await fake.tap(ROBIN, posted.posted.message, 'I have seen it')).toMatchObject({
      statusCode: 200,
    });
    expect(kept).toMatchObject([
      {
        kind: 'tap',
        person: ROBIN,
        message: posted.posted.message,
        intent: JSON.stringify(intent),
      },
    ]);
    expect(kept[0]).not.toHaveProperty('fields');
  });

  it('takes what was filled into the form of a card; a time is the workshop’s', async () => {
    const { fake, kept, channel } = await start();
    const posted = await channel.post(
      PLACE,
      card('Stop', {
        actions: [
          {
            label: 'Override',
            weight: 'grave',
            intent: { do: 'override', job: '1042', flag: 'f1' },
            form,
          },
        ],
      }),
      'k|1',
    );
    if (!posted.ok) throw new Error('not posted');
    await fake.tap(ROBIN, posted.posted.message, 'Override', {
      reason: 'Saw it done',
      'when.date': '2026-07-01',
      'when.time': '09:30',
      positions: 'left,right',
    });
    expect(kept).toMatchObject([
      {
        kind: 'tap',
        fields: {
          reason: 'Saw it done',
          when: '2026-07-01T09:30:00.000+01:00',
          positions: ['left', 'right'],
        },
      },
    ]);
  });

  it('opens a window for a form that is not in the card, and takes what is sent from it', async () => {
    const { fake, kept, channel } = await start({
      formFor: (intent) => (intent.do === 'open-job' ? form : undefined),
    });
    const posted = await channel.post(
      PLACE,
      card('Hello', {
        actions: [{ label: 'Open a job', weight: 'main', intent: { do: 'open-job' } }],
      }),
      'k|1',
    );
    if (!posted.ok) throw new Error('not posted');
    await fake.tap(ADA, posted.posted.message, 'Open a job', { reason: 'Leaks' });
    expect(kept).toMatchObject([
      { kind: 'tap', intent: '{"do":"open-job"}', fields: { reason: 'Leaks' } },
    ]);
  });

  it('says what to do where a form is not there any more or a tap cannot be read', async () => {
    const { fake, kept } = await start();
    const id = await fake.post(ADA, 'x');
    const invoke = (name: string, value: unknown) =>
      fake.send({
        ...fake.envelope(ADA, CHANNEL),
        type: 'invoke',
        id: '9',
        replyToId: id,
        name,
        value,
      });
    expect(
      JSON.stringify(await invoke('task/fetch', { data: { intent: '{"do":"x"}' } })),
    ).toContain('Write in the thread');
    expect(JSON.stringify(await invoke('adaptiveCard/action', { action: 4 }))).toContain(
      'Write it in the thread',
    );
    expect(kept).toHaveLength(1);
  });
});
