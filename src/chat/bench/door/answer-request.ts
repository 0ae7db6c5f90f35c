// One request from its arrival to its answer.
import type { IncomingMessage, ServerResponse } from 'node:http';
import { isRefusal, type Refusal, refusal } from '../refusal.ts';
import { type BenchParts, frameFor, type Looking, withMay } from './bench-parts.ts';
import { healthAt, isHealthPath } from './health-route.ts';
import type { readPageFiles } from './page-files.ts';
import { isOpenToAll, noPass, PASS_ROUTES } from './pass-routes.ts';
import { newsFor, notePage, pageAt, partsAt, sendPhoto } from './reading-routes.ts';
import { send, sendJson, sendRefusal } from './send.ts';
import { sendCardFile, sendCardPicture } from './send-file.ts';
import { SENDING } from './sending-routes.ts';
import { checkAsker } from './who-may-ask.ts';

const OPEN_PAGES_LIMIT = 500;

export async function answerRequest(
  parts: BenchParts,
  files: Awaited<ReturnType<typeof readPageFiles>>,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const refused = checkAsker(request, parts.own());
  if (refused !== undefined) return sendRefusal(response, refused);
  let url: URL;
  try {
    url = new URL(request.url ?? '/', 'http://bench');
  } catch {
    return sendRefusal(response, refusal(400, 'This address is not one.', 'Go to the yard.'));
  }
  const wantsPage = (request.headers.accept ?? '').includes('text/html');
  try {
    const outcome = await route(parts, files, request, response, url);
    if (outcome === undefined) return;
    if (!wantsPage) return sendRefusal(response, outcome);
    send(response, notePage(parts, await frameFor(request, parts), outcome));
  } catch (error) {
    parts.options.log?.error({ error, path: url.pathname }, 'A request was not answered');
    sendRefusal(
      response,
      refusal(
        500,
        'Something went wrong on the bench itself.',
        'Reload the page; what was acknowledged is kept. Tell the controller if it stays so.',
      ),
    );
  }
}

async function route(
  parts: BenchParts,
  files: Awaited<ReturnType<typeof readPageFiles>>,
  request: IncomingMessage,
  response: ServerResponse,
  url: URL,
): Promise<Refusal | undefined> {
  const { pathname } = url;
  const frame = await frameFor(request, parts);
  if (isHealthPath(pathname)) return healthAt(parts, request, response, frame, pathname);
  if (parts.door !== undefined && frame.pass === undefined && !isOpenToAll(pathname)) {
    const isPageOpening = request.method === 'GET' && request.headers.accept?.includes('text/html');
    if (!isPageOpening) return noPass;
    response.writeHead(303, { location: '/enter', 'cache-control': 'no-store' }).end();
    return undefined;
  }
  if (!isOpenToAll(pathname)) await parts.conversation.refresh();
  if (request.method === 'POST') {
    if (parts.door !== undefined && Object.hasOwn(PASS_ROUTES, pathname)) {
      return PASS_ROUTES[pathname]?.(parts, parts.door, request, response, frame);
    }
    const sending = Object.hasOwn(SENDING, pathname) ? SENDING[pathname] : undefined;
    if (sending === undefined) {
      return refusal(404, 'Nothing is sent to this address.', 'Reload the page.');
    }
    return sending(parts, request, response, frame);
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    return refusal(405, 'The bench is read with GET and sent to with POST.', 'Use one of these.');
  }
  if (pathname.startsWith('/page/')) {
    const file = files.get(pathname.slice('/page/'.length));
    if (file === undefined) return refusal(404, 'There is no such file.', 'Reload the page.');
    if (request.headers['if-none-match'] !== file.etag) send(response, file);
    else response.writeHead(304, { etag: file.etag }).end();
    return undefined;
  }
  if (pathname === '/contact') {
    sendJson(response, { contact: parts.contacts.tell(frame.now), now: frame.now });
    return undefined;
  }
  if (pathname === '/live' && request.method === 'GET') {
    if (parts.live.listeners() >= OPEN_PAGES_LIMIT) {
      return refusal(503, 'Too many pages are open.', 'Close some and reload this one.');
    }
    const thread = url.searchParams.get('thread');
    const sent = request.headers['last-event-id'];
    const since = (typeof sent === 'string' ? sent : undefined) ?? url.searchParams.get('since');
    const frameNow = () => frameFor(request, parts);
    const news = newsFor(parts, frameNow, thread);
    parts.live.attach(request, response, since ?? undefined, news, frame.pass?.id);
    return undefined;
  }
  if (pathname.startsWith('/photo/')) return sendPhoto(parts, response, url);
  if (pathname.startsWith('/picture/')) return sendCardPicture(parts, response, url, frame);
  if (pathname.startsWith('/file/')) return sendCardFile(parts, response, url, frame);
  const looking = await withJobs(parts, frame);
  const answer =
    pathname === '/parts' ? await partsAt(parts, url, looking) : await pageAt(parts, url, looking);
  if (isRefusal(answer)) return answer;
  send(response, answer);
  return undefined;
}

/** Which buttons a person may use hangs on the jobs; who nobody is sees them all and is asked for a name first. */
async function withJobs(parts: BenchParts, frame: Looking): Promise<Looking> {
  return frame.who === undefined ? frame : withMay(frame, parts, await parts.jobs());
}
