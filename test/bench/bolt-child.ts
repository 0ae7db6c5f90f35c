// An empty Bolt app that acknowledges, as the peer of the bench: prints its port once it listens.
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import bolt from '@slack/bolt';

const [, , signingSecret = ''] = process.argv;
const app = new bolt.App({
  signingSecret,
  authorize: async () => ({ botToken: 'xoxb-none', botId: 'B1', botUserId: 'U9' }),
  convoStore: false,
});
app.event('message', async () => undefined);
const server = (await app.start({ port: 0, host: '127.0.0.1' })) as Server;
console.log((server.address() as AddressInfo).port);
