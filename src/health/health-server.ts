// The health on a port of its own, on this machine only: for a bot that runs without the bench page.
import { createServer, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { HealthDesk } from './health-desk.ts';

const HOST = '127.0.0.1';
/** Names this machine goes by here; another one means that a foreign page had its name pointed here. */
const OWN = /^(?:127\.0\.0\.1|localhost|\[::1\])(?::\d+)?$/u;

const HEADERS = {
  'content-security-policy': "default-src 'none'; frame-ancestors 'none'",
  'x-content-type-options': 'nosniff',
  'cache-control': 'no-store',
};

export type HealthServer = { readonly address: string; readonly stop: () => Promise<void> };

const send = (response: ServerResponse, status: number, type: string, body: string): void => {
  response.writeHead(status, { ...HEADERS, 'content-type': type }).end(body);
};

const PLAIN = 'text/plain; charset=utf-8';

/**
 * Serves GET /health and GET /metrics.
 * @param port 0 lets the system choose
 * @throws Error with two lines, what and what to do, where the port cannot be had
 */
export const healthServer = async (desk: HealthDesk, port: number): Promise<HealthServer> => {
  const server = createServer(async (request, response) => {
    request.resume();
    if (!OWN.test(request.headers.host?.toLowerCase() ?? ''))
      return send(response, 421, PLAIN, 'Ask by the address of this machine: 127.0.0.1.\n');
    if (request.method !== 'GET' && request.method !== 'HEAD')
      return send(response, 405, PLAIN, 'Only GET is served here.\n');
    const path = (request.url ?? '').split('?')[0] ?? '';
    const asPage = (request.headers.accept ?? '').includes('text/html');
    try {
      const answer = await desk.answer(path === '/' ? '/health' : path, asPage);
      if (answer) send(response, answer.status, answer.type, answer.body);
      else send(response, 404, PLAIN, 'Served here: /health and /metrics.\n');
    } catch {
      send(response, 500, PLAIN, 'The health could not be looked at. Look into the log.\n');
    }
  });
  server.requestTimeout = 10_000;
  await new Promise<void>((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const why = error.code === 'EADDRINUSE' ? 'another program uses it' : (error.code ?? '');
      reject(
        new Error(
          `The health cannot be served on port ${port}: ${why}.\nGive another one with --health-port.`,
        ),
      );
    });
    server.listen(port, HOST, resolve);
  });
  return {
    address: `http://${HOST}:${(server.address() as AddressInfo).port}/`,
    stop: async () => {
      const closed = new Promise<void>((done) => server.close(() => done()));
      server.closeAllConnections();
      await closed;
    },
  };
};
