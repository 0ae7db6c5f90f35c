// How the program is, under the bench's own address. Counts and times only; on a network it is for people who are in, and
// for this machine.
import type { IncomingMessage, ServerResponse } from 'node:http';
import { type Refusal, refusal } from '../refusal.ts';
import type { BenchParts, Looking } from './bench-parts.ts';
import { send } from './send.ts';
import { addressOf, isLoopback } from './who-may-ask.ts';

const PATHS: ReadonlySet<string> = new Set(['/health', '/metrics']);

export const isHealthPath = (pathname: string): boolean => PATHS.has(pathname);

const isFromHere = (request: IncomingMessage, parts: BenchParts): boolean =>
  isLoopback(addressOf(request, parts.own()).replace(/^::ffff:/u, ''));

export async function healthAt(
  parts: BenchParts,
  request: IncomingMessage,
  response: ServerResponse,
  frame: Looking,
  pathname: string,
): Promise<Refusal | undefined> {
  if (parts.door !== undefined && frame.pass === undefined && !isFromHere(request, parts)) {
    return refusal(
      403,
      'The health is shown to people who are in, and on the machine itself.',
      'Enter with your pass first.',
    );
  }
  const asPage = (request.headers.accept ?? '').includes('text/html');
  const answer = await parts.options.health?.(pathname, asPage);
  if (answer === undefined) {
    return refusal(404, 'The health is not served here.', 'Look under the health port.');
  }
  send(response, answer);
  return undefined;
}
