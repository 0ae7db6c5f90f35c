// Hands each request to one of several processes in turn; to the next one where that is dead. Nothing else.
import { request as ask, createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

export type Balancer = {
  readonly address: string;
  readonly add: (target: string) => void;
  readonly remove: (target: string) => void;
  /** How many requests each of them answered. */
  readonly answered: ReadonlyMap<string, number>;
  readonly close: () => Promise<void>;
};

type Heard = { readonly status: number; readonly type: string; readonly body: Buffer };

export const balancer = async (): Promise<Balancer> => {
  const targets: string[] = [];
  const answered = new Map<string, number>();
  let turn = 0;

  const through = (
    target: string,
    path: string,
    headers: NodeJS.Dict<string | string[]>,
    body: Buffer,
  ): Promise<Heard> =>
    new Promise((done, failed) => {
      const out = ask(`${target}${path}`, { method: 'POST', headers, agent: false }, (answer) => {
        const parts: Buffer[] = [];
        answer.on('data', (part: Buffer) => parts.push(part));
        answer.on('error', failed);
        answer.on('end', () =>
          done({
            status: answer.statusCode ?? 502,
            type: answer.headers['content-type'] ?? 'text/plain',
            body: Buffer.concat(parts),
          }),
        );
      });
      out.on('error', failed);
      out.end(body);
    });

  const server = createServer(async (request, response) => {
    const parts: Buffer[] = [];
    for await (const part of request as AsyncIterable<Buffer>) parts.push(part);
    const body = Buffer.concat(parts);
    turn += 1;
    for (let n = 0; n < targets.length; n += 1) {
      const target = targets[(turn + n) % targets.length] ?? '';
      try {
        const heard = await through(target, request.url ?? '/', request.headers, body);
        answered.set(target, (answered.get(target) ?? 0) + 1);
        response.writeHead(heard.status, { 'content-type': heard.type });
        response.end(heard.body);
        return;
      } catch {
        // The next one is asked: the same request may be answered twice, as a real balancer may do.
      }
    }
    response.writeHead(503);
    response.end();
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    add: (target) => void targets.push(target),
    remove: (target) => void targets.splice(targets.indexOf(target), 1),
    answered,
    close: async () => {
      server.closeAllConnections();
      await new Promise<void>((done) => server.close(() => done()));
    },
  };
};
