// People in Slack: a stand-in for the platform on loopback, over HTTP or over the socket.
import { slackChannel } from '../../src/chat/slack/slack-channel.ts';
import type { SlackTokens } from '../../src/chat/slack/tokens.ts';
import { fakeSlack } from '../chat/slack/fake-slack.ts';
import { tokensFor } from '../chat/slack/set-up-channel.ts';
import type { MakeDoor } from './floor-stage.ts';

/** The pace of the platform is not what a conversation is about; what is waited for long is a limit, and kept. */
const shortWait = (seconds: number, signal?: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    const timer = setTimeout(resolve, seconds > 4 ? seconds * 1000 : 30);
    signal?.addEventListener('abort', () => {
      clearTimeout(timer);
      resolve();
    });
  });

export const slackDoor =
  (mode: SlackTokens['mode']): MakeDoor =>
  async ({ clock, settings, running }) => {
    const fake = await fakeSlack({ clock: clock.now });
    const channel = slackChannel({
      tokens: tokensFor(mode),
      clock: clock.now,
      store: {
        mark: (name) => running().floor.store.mark(name),
        setMark: (name, value) => running().floor.store.setMark(name, value),
        list: () => running().floor.store.list(),
      },
      settings: { people: settings.people, slack: { channel: fake.channel } },
      log: () => undefined,
      clientOptions: { slackApiUrl: fake.url, timeout: 2_000 },
      wait: shortWait,
      paceSeconds: 0,
    });
    const started = channel.start;
    const idOf = (name: string): string =>
      settings.people.find((person) => person.name === name)?.slack ?? '';
    return {
      channel: {
        ...channel,
        start: async (intake) => {
          await started(intake);
          const address = channel.address();
          if (address) fake.deliverTo(address);
        },
      },
      home: { team: fake.team, place: fake.channel },
      post: async (by, text, thread) => {
        const ts = await fake.post(idOf(by), fake.channel, text, thread ? { thread } : {});
        await fake.settled();
        return ts;
      },
      edit: async (_by, message, text) => {
        await fake.edit(fake.channel, message, text);
        await fake.settled();
      },
      remove: async (_by, message) => {
        await fake.delete(fake.channel, message);
        await fake.settled();
      },
      tap: async (by, action, message, fields) => {
        await fake.tap(idOf(by), fake.channel, message, action.label);
        if (Object.keys(fields).length > 0) await fake.submitForm(idOf(by), fields);
        await fake.settled();
      },
      end: async () => {
        const refused = [...fake.refused];
        await fake.close();
        if (refused.length > 0) throw new Error(`The platform refused: ${refused.join('; ')}`);
      },
    };
  };
