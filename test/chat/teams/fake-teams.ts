// A stand-in for the Teams service on loopback, for whole conversations: conversations with state, activities with signed
// tokens, taps and forms as people's Teams sends them, and knobs for what goes wrong. All that the app sends is looked at.
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { makeKeys, platformKeys } from './fake/keys.ts';
import { complaintsAbout } from './fake/strict.ts';

export const CLIENT_ID = '11111111-2222-4333-8444-555555555555';
export const TENANT = '99999999-8888-4777-8666-555555555555';
export const GROUP = '77777777-6666-4555-8444-333333333333';
export const CHANNEL = '19:workshop@thread.tacv2';
const ISSUER = 'https://api.botframework.com';
const BOT = `28:${CLIENT_ID}`;

type Json = Record<string, unknown>;
export type FakeActivity = {
  readonly id: string;
  readonly conversation: string;
  readonly from: string;
  readonly activity: Json;
};
type Failing = {
  readonly how: number | 'reset' | 'hang';
  /** Done all the same: the answer is lost, not the call. */
  readonly after: boolean;
  readonly retryAfter?: string;
  left: number;
};

export type FakeTeams = Awaited<ReturnType<typeof fakeTeams>>;

const bodyOf = async (request: IncomingMessage): Promise<Json> => {
  const parts: Buffer[] = [];
  for await (const part of request as AsyncIterable<Buffer>) parts.push(part);
  const text = Buffer.concat(parts).toString('utf8');
  return text === '' ? {} : (JSON.parse(text) as Json);
};

/** @param clock the time now, ISO: what people write carries it */
export const fakeTeams = async ({ clock }: { readonly clock: () => string }) => {
  const keys = platformKeys();
  const messages: FakeActivity[] = [];
  const direct = new Map<string, string>();
  const calls: string[] = [];
  const refused: string[] = [];
  const failing: Failing[] = [];
  const statuses: number[] = [];
  let base = '';
  let target = '';
  let last = 1_772_000_000_000;
  let key = keys;

  const nextId = (): string => {
    last += 1;
    return String(last);
  };
  const epoch = (): number => Math.floor(Date.now() / 1000);
  /** What the platform proves itself with to the app. */
  const proof = (more: Json = {}): string =>
    key.sign({
      iss: ISSUER,
      aud: CLIENT_ID,
      serviceurl: base,
      iat: epoch(),
      nbf: epoch() - 10,
      exp: epoch() + 600,
      ...more,
    });
  /** What the app proves itself with to the platform. */
  const botToken = keys.sign({
    aud: 'https://api.botframework.com',
    appid: CLIENT_ID,
    exp: epoch() + 3600,
  });

  // ---- what the app asks for ------------------------------------------------------------------------------------------

  const answer = (response: ServerResponse, status: number, body: unknown, headers: Json = {}) => {
    response.writeHead(status, { 'content-type': 'application/json', ...headers } as never);
    response.end(JSON.stringify(body));
  };

  const store = (conversation: string, id: string, activity: Json): void => {
    const complaints = complaintsAbout(activity);
    if (complaints.length > 0) refused.push(...complaints);
    const index = messages.findIndex((each) => each.id === id);
    const made: FakeActivity = { id, conversation, from: BOT, activity };
    if (index >= 0) messages[index] = made;
    else messages.push(made);
  };

  const known = (conversation: string): boolean => {
    const place = conversation.split(';')[0] ?? '';
    return (
      place === CHANNEL || [...direct.values()].includes(place) || place.endsWith('@thread.v2')
    );
  };

  const serve = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const url = new URL(request.url ?? '', base);
    if (url.pathname === '/v1/.well-known/keys') return answer(response, 200, keys.published);
    calls.push(`${request.method} ${decodeURIComponent(url.pathname)}`);
    if (request.headers.authorization !== `Bearer ${botToken}`)
      return answer(response, 401, { error: { code: 'Unauthorized' } });
    const body = await bodyOf(request);
    const failure = failing[0];
    if (failure) {
      failure.left -= 1;
      if (failure.left <= 0) failing.shift();
      if (!failure.after) return fail(request, response, failure);
    }
    const work = await act(request.method ?? '', url, body);
    if (failure) return fail(request, response, failure);
    return answer(response, work.status, work.body);
  };

  const fail = (request: IncomingMessage, response: ServerResponse, failure: Failing): void => {
    if (failure.how === 'reset') return void request.socket.destroy();
    if (failure.how === 'hang') return;
    answer(
      response,
      failure.how,
      { error: { code: 'Failing' } },
      failure.retryAfter === undefined ? {} : { 'retry-after': failure.retryAfter },
    );
  };

  const act = async (
    method: string,
    url: URL,
    body: Json,
  ): Promise<{ status: number; body: unknown }> => {
    const path = decodeURIComponent(url.pathname);
    if (method === 'POST' && path === '/v3/conversations') {
      const [member] = (body.members ?? []) as { id: string }[];
      if (!member || body.tenantId !== TENANT) return { status: 400, body: {} };
      const id = direct.get(member.id) ?? `a:${nextId()}`;
      direct.set(member.id, id);
      return { status: 201, body: { id } };
    }
    const posting = /^\/v3\/conversations\/(.+)\/activities$/u.exec(path);
    if (method === 'POST' && posting?.[1]) {
      if (!known(posting[1])) return { status: 404, body: {} };
      const id = nextId();
      store(posting[1], id, body);
      return { status: 201, body: { id } };
    }
    const changing = /^\/v3\/conversations\/(.+)\/activities\/([^/]+)$/u.exec(path);
    if (method === 'PUT' && changing?.[1] && changing[2]) {
      if (!messages.some((each) => each.id === changing[2] && each.from === BOT))
        return { status: 404, body: {} };
      store(changing[1], changing[2], body);
      return { status: 200, body: { id: changing[2] } };
    }
    const reading =
      /^\/v1\.0\/teams\/([^/]+)\/channels\/([^/]+)\/messages(?:\/([^/]+)\/replies)?$/u.exec(path);
    if (method === 'GET' && reading) {
      if (reading[1] !== GROUP) return { status: 404, body: {} };
      const conversation = reading[3] ? `${reading[2]};messageid=${reading[3]}` : reading[2];
      return {
        status: 200,
        body: {
          value: messages
            .filter((each) => each.conversation === conversation)
            .map((each) => ({
              id: each.id,
              attachments: ((each.activity.attachments ?? []) as Json[]).map((one) => ({
                contentType: one.contentType,
                content: JSON.stringify(one.content),
              })),
            })),
        },
      };
    }
    const file = /^\/v3\/attachments\/(\d+)$/u.exec(path);
    if (method === 'GET' && file) return { status: 200, body: { bytes: file[1] } };
    return { status: 404, body: {} };
  };

  const server = createServer((request, response) => void serve(request, response));
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;

  // ---- what people do -------------------------------------------------------------------------------------------------

  const send = async (activity: Json, token: string | undefined = proof()): Promise<unknown> => {
    const response = await fetch(`${target}/api/messages`, {
      method: 'POST',
      headers: {
        'content-type': 'application/json',
        ...(token === undefined ? {} : { authorization: `Bearer ${token}` }),
      },
      body: JSON.stringify(activity),
      signal: AbortSignal.timeout(10_000),
    });
    statuses.push(response.status);
    const text = await response.text();
    return text === '' ? undefined : JSON.parse(text);
  };

  const envelope = (person: string, conversation: string): Json => ({
    channelId: 'msteams',
    serviceUrl: base,
    timestamp: clock(),
    from: { id: `29:${person}`, aadObjectId: person, name: `Person ${person.slice(0, 4)}` },
    recipient: { id: BOT, name: 'Chargehand' },
    conversation: {
      id: conversation,
      tenantId: TENANT,
      conversationType: conversation.startsWith('a:')
        ? 'personal'
        : conversation.includes('@thread.tacv2')
          ? 'channel'
          : 'groupChat',
    },
    channelData: {
      tenant: { id: TENANT },
      ...(conversation.includes('@thread.tacv2')
        ? { team: { id: '19:team@thread.tacv2', aadGroupId: GROUP } }
        : {}),
    },
  });

  const conversationFor = (id: string, thread: string | undefined, place: string): string =>
    place === CHANNEL ? `${place};messageid=${thread ?? id}` : place;

  const post = async (
    person: string,
    text: string,
    more: { thread?: string; place?: string; activity?: Json; mention?: boolean } = {},
  ): Promise<string> => {
    const id = nextId();
    const conversation = conversationFor(id, more.thread, more.place ?? CHANNEL);
    const activity = {
      ...envelope(person, conversation),
      type: 'message',
      id,
      textFormat: 'plain',
      text: more.mention ? `<at>Chargehand</at> ${text}` : text,
      ...(more.mention
        ? {
            entities: [
              {
                type: 'mention',
                text: '<at>Chargehand</at>',
                mentioned: { id: BOT, name: 'Chargehand' },
              },
            ],
          }
        : {}),
      ...more.activity,
    };
    messages.push({ id, conversation, from: person, activity });
    await send(activity);
    return id;
  };

  const of = (id: string): FakeActivity => {
    const found = messages.find((each) => each.id === id);
    if (!found) throw new Error(`No message ${id} is there.`);
    return found;
  };

  const cardOf = (id: string): Json => {
    const [attachment] = (of(id).activity.attachments ?? []) as Json[];
    return (attachment?.content ?? {}) as Json;
  };

  const invoke = (person: string, message: FakeActivity, name: string, value: Json) =>
    send({
      ...envelope(person, message.conversation),
      type: 'invoke',
      name,
      id: nextId(),
      replyToId: message.id,
      value,
    });

  /** Taps a button by its words; `fields` fill the form behind it, in the card or in a window of its own. */
  const tap = async (
    person: string,
    id: string,
    label: string,
    fields: Readonly<Record<string, string>> = {},
  ): Promise<unknown> => {
    const action = ((cardOf(id).actions ?? []) as Json[]).find((each) => each.title === label);
    if (!action) throw new Error(`No button says "${label}".`);
    if (action.type === 'Action.Submit') {
      const opened = (await invoke(person, of(id), 'task/fetch', { data: action.data })) as Json;
      const task = opened.task as Json;
      const value = task.value as Json;
      if (task.type !== 'continue') return opened;
      const card = (value.card as Json).content as Json;
      const [submit] = (card.actions ?? []) as Json[];
      return invoke(person, of(id), 'task/submit', {
        data: { ...(submit?.data as Json), ...fields },
      });
    }
    const execute =
      action.type === 'Action.ShowCard'
        ? (((action.card as Json).actions as Json[])[0] as Json)
        : action;
    return invoke(person, of(id), 'adaptiveCard/action', {
      action: {
        type: 'Action.Execute',
        verb: execute.verb,
        data: { ...(execute.data as Json), ...fields },
      },
      trigger: 'manual',
    });
  };

  return {
    url: base,
    cloud: {
      loginEndpoint: base,
      loginTenant: 'fake',
      botScope: `${base}/bot/.default`,
      tokenServiceUrl: base,
      openIdMetadataUrl: `${base}/v1/.well-known/openidconfiguration`,
      tokenIssuer: ISSUER,
      graphScope: `${base}/.default`,
    },
    botToken,
    messages,
    calls,
    refused,
    statuses,
    direct,
    proof,
    send,
    post,
    tap,
    cardOf,
    envelope,
    deliverTo: (address: string) => {
      target = address;
    },
    /** Proves itself with a key that the platform does not publish. */
    forge: () => {
      key = makeKeys();
    },
    edit: async (person: string, id: string, text: string) => {
      const { conversation } = of(id);
      await send({
        ...envelope(person, conversation),
        channelData: {
          ...(envelope(person, conversation).channelData as Json),
          eventType: 'editMessage',
        },
        type: 'messageUpdate',
        id,
        text,
      });
    },
    remove: async (person: string, id: string) => {
      const { conversation } = of(id);
      await send({
        ...envelope(person, conversation),
        channelData: {
          ...(envelope(person, conversation).channelData as Json),
          eventType: 'softDeleteMessage',
        },
        type: 'messageDelete',
        id,
      });
    },
    bringBack: async (person: string, id: string, text: string) => {
      const { conversation } = of(id);
      const around = envelope(person, conversation);
      await send({
        ...around,
        channelData: { ...(around.channelData as Json), eventType: 'undeleteMessage' },
        type: 'messageUpdate',
        id,
        text,
      });
    },
    react: async (person: string, id: string, type: string) => {
      await send({
        ...envelope(person, of(id).conversation),
        type: 'messageReaction',
        id: nextId(),
        replyToId: id,
        reactionsAdded: [{ type }],
      });
    },
    failNext: (how: Failing['how'], more: Partial<Failing> = {}) => {
      failing.push({ how, after: false, left: 1, ...more });
    },
    close: async () => {
      server.closeAllConnections();
      await new Promise<void>((done) => server.close(() => done()));
    },
  };
};
