// What Slack's packages are given: an object of its own each time, no retries, a time limit, nothing that waits out a 429.
import { describe, expect, it } from 'vitest';
import { SocketReceiver } from '../../../src/chat/slack/socket-receiver.ts';
import { clientOptionsFor } from '../../../src/chat/slack/web.ts';
import { ADA, joined, until } from './set-up-channel.ts';

const log = () => undefined;

describe('the options of a client', () => {
  it('are a fresh object each time: Slack changes the one it is given', () => {
    const given = Object.freeze({ slackApiUrl: 'http://127.0.0.1:9/api/' });
    const one = clientOptionsFor(given, log);
    const two = clientOptionsFor(given, log);
    expect(one).not.toBe(two);
    expect(one.retryConfig).not.toBe(two.retryConfig);
    const receiver = new SocketReceiver({
      appToken: 'xapp-1',
      clientOptions: given,
      log,
      onConnected: log,
      onLost: log,
      wait: async () => undefined,
    });
    expect(receiver).toBeDefined();
    expect(given).toEqual({ slackApiUrl: 'http://127.0.0.1:9/api/' });
  });

  it('retry nothing, end by themselves, and leave a 429 to the outbox', () => {
    expect(clientOptionsFor({}, log)).toMatchObject({
      retryConfig: { retries: 0 },
      rejectRateLimitedCalls: true,
    });
    expect(clientOptionsFor({}, log).timeout).toBeGreaterThan(0);
  });
});

describe('who the bot is', () => {
  it('is asked once, not for each delivery', async () => {
    const { fake, floor, end } = await joined('http', { patience: 4_000 });
    for (const text of ['one', 'two', 'three']) await fake.post(ADA, fake.channel, text);
    await until(() => floor.texts().length === 3);
    expect(fake.calls.filter((each) => each.method === 'auth.test').length).toBe(1);
    await end();
  });
});
