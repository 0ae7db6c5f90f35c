// People in Teams: a stand-in for the service on loopback.
import { join } from 'node:path';
import { teamsChannel } from '../../src/chat/teams/teams-channel.ts';
import { CHANNEL, CLIENT_ID, fakeTeams, TENANT } from '../chat/teams/fake-teams.ts';
import type { MakeDoor } from './floor-stage.ts';

export const teamsDoor: MakeDoor = async ({ clock, settings, running, folder }) => {
  const fake = await fakeTeams({ clock: clock.now });
  const channel = teamsChannel({
    credentials: {
      clientId: CLIENT_ID,
      clientSecret: 'fake-secret',
      tenantId: TENANT,
      port: 0,
      host: '127.0.0.1',
    },
    clock: clock.now,
    store: {
      mark: (name) => running().floor.store.mark(name),
      setMark: (name, value) => running().floor.store.setMark(name, value),
    },
    folder: join(folder, 'pictures'),
    settings,
    log: () => undefined,
    cloud: fake.cloud,
    serviceUrl: fake.url,
    token: () => fake.botToken,
  });
  const started = channel.start;
  const idOf = (name: string): string =>
    settings.people.find((person) => person.name === name)?.teams ?? '';
  return {
    channel: {
      ...channel,
      start: async (intake) => {
        await started(intake);
        fake.deliverTo(channel.address() ?? '');
      },
    },
    home: { team: TENANT, place: CHANNEL },
    post: (by, text, thread) => fake.post(idOf(by), text, thread ? { thread } : {}),
    edit: (by, message, text) => fake.edit(idOf(by), message, text),
    remove: (by, message) => fake.remove(idOf(by), message),
    tap: async (by, action, message, fields) => {
      await fake.tap(idOf(by), message, action.label, fields);
    },
    end: async () => {
      const refused = [...fake.refused, ...fake.statuses.filter((status) => status !== 200)];
      await fake.close();
      if (refused.length > 0) throw new Error(`The platform refused: ${refused.join('; ')}`);
    },
  };
};
