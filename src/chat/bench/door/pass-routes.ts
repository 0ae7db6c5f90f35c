// Coming in over the network: a code is exchanged for a pass; the controller makes codes and ends passes.
import type { IncomingMessage, ServerResponse } from 'node:http';
import { z } from 'zod';
import { invitationMarkup } from '../draw/pass-pages.ts';
import { timeWords } from '../draw/time-words.ts';
import { isRefusal, type Refusal, refusal } from '../refusal.ts';
import { type BenchParts, type Looking, type NetworkDoor, PASS_COOKIE } from './bench-parts.ts';
import { readJson } from './body.ts';
import { OWN_CODE, OWN_CODE_WORDS } from './own-code-hash.ts';
import { PASS_DAYS } from './passes.ts';
import { sendJson } from './send.ts';
import { addressOf, hostOf } from './who-may-ask.ts';

const LIMIT = 10_000;
const Enter = z.strictObject({ code: z.string().trim().min(1).max(200) });
const Invite = z.strictObject({
  kind: z.enum(['own', 'tablet']),
  name: z.string().trim().min(1, 'the name is missing').max(60),
});
const End = z.strictObject({ id: z.string().regex(/^[0-9a-f]{16}$/) });
const OwnCode = z.strictObject({
  code: z.string().trim().regex(OWN_CODE, OWN_CODE_WORDS),
});
const Nothing = z.strictObject({});

type PassRoute = (
  parts: BenchParts,
  door: NetworkDoor,
  request: IncomingMessage,
  response: ServerResponse,
  frame: Looking,
) => Promise<Refusal | undefined>;

const cookie = (secret: string, seconds: number): string =>
  `${PASS_COOKIE}=${secret}; Path=/; Max-Age=${seconds}; Secure; HttpOnly; SameSite=Lax`;

/** People let others in from their own device only; a tablet that several hands use does not. */
export function controllerRefusal(frame: Looking): Refusal | undefined {
  if (frame.pass?.kind === 'own' && frame.roles?.includes('controller')) return undefined;
  return refusal(
    403,
    'Passes are given and ended by a controller, from their own device.',
    'Ask a controller.',
  );
}

const enter: PassRoute = async (parts, door, request, response, frame) => {
  const body = await readJson(request, Enter, LIMIT);
  if (isRefusal(body)) return body;
  const nowMs = Date.parse(frame.now);
  const address = `in ${addressOf(request, parts.own())}`;
  // A token of a QR code cannot be guessed, so the count over all addresses is for typed codes.
  const isTyped = body.code.length <= 20;
  const closed = await door.tries.take(address, isTyped, nowMs);
  if (closed !== undefined) {
    return refusal(
      429,
      `Too many wrong codes were tried: none is taken here until ${timeWords(new Date(closed).toISOString(), frame)}.`,
      'Wait until then, or scan the QR code that a controller shows you.',
    );
  }
  const entered = await door.passes.enter(body.code, frame.now);
  if (entered === undefined) {
    parts.options.log?.warn({ address }, 'A code was tried that does not let anybody in');
    return refusal(
      401,
      'This code does not let anybody in: it is mistyped, used up or older than ten minutes.',
      'Look at it again, or ask a controller for a new one.',
    );
  }
  await door.tries.right(address, nowMs);
  const { pass, secret } = entered;
  parts.options.log?.info({ pass: pass.id }, 'A pass was given');
  response.setHeader('set-cookie', cookie(secret, PASS_DAYS * 86_400));
  sendJson(response, { entered: pass.name });
  return undefined;
};

const invite: PassRoute = async (parts, door, request, response, frame) => {
  const refused = controllerRefusal(frame);
  if (refused !== undefined) return refused;
  const body = await readJson(request, Invite, LIMIT);
  if (isRefusal(body)) return body;
  if (body.kind === 'own' && !frame.people.includes(body.name)) {
    return refusal(
      404,
      'This name is not among the people of the workshop.',
      'Add the person to the settings and start again.',
    );
  }
  const made = await door.passes.invite(body, frame.who ?? '', frame.now);
  const link = `https://${hostOf(request, parts.own())}/enter#${made.token}`;
  sendJson(response, { html: invitationMarkup(body, made, link, frame).markup });
  return undefined;
};

const end: PassRoute = async (parts, door, request, response, frame) => {
  const refused = controllerRefusal(frame);
  if (refused !== undefined) return refused;
  const body = await readJson(request, End, LIMIT);
  if (isRefusal(body)) return body;
  const ended = await door.passes.end(body.id);
  if (ended === undefined) {
    return refusal(404, 'This pass has ended already.', 'Reload the page.');
  }
  parts.live.drop(ended.id);
  parts.options.log?.info({ pass: ended.id }, 'A pass was ended');
  sendJson(response, { ended: ended.name });
  return undefined;
};

/** Leaving this device, by whoever holds it. */
const leave: PassRoute = async (parts, door, request, response, frame) => {
  const body = await readJson(request, Nothing, LIMIT);
  if (isRefusal(body)) return body;
  if (frame.pass !== undefined) {
    await door.passes.end(frame.pass.id);
    parts.live.drop(frame.pass.id);
  }
  response.setHeader('set-cookie', cookie('', 0));
  sendJson(response, { left: true });
  return undefined;
};

const ownCode: PassRoute = async (parts, door, request, response, frame) => {
  if (frame.pass?.kind !== 'own' || frame.who === undefined) {
    return refusal(
      403,
      'An own code is set on a device of one’s own.',
      'Open the bench on your phone and set it there.',
    );
  }
  const body = await readJson(request, OwnCode, LIMIT);
  if (isRefusal(body)) return body;
  await door.passes.setOwnCode(frame.who, body.code);
  parts.options.log?.info({ pass: frame.pass.id }, 'An own code was set');
  sendJson(response, { set: true });
  return undefined;
};

export const PASS_ROUTES: Readonly<Record<string, PassRoute>> = {
  '/api/enter': enter,
  '/api/invite': invite,
  '/api/end': end,
  '/api/leave': leave,
  '/api/own-code': ownCode,
};

/** What may be asked for without a pass: how to get one, and the page's own files, which say nothing of the workshop. */
export const isOpenToAll = (pathname: string): boolean =>
  pathname === '/enter' || pathname === '/api/enter' || pathname.startsWith('/page/');

export const noPass = refusal(
  401,
  'This device has no pass, or its pass has ended.',
  'Ask a controller for a QR code or a short code.',
  'pass',
);
