// A Teams channel joined to the stand-in, with a floor that only keeps what it is given.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Intake } from '../../../src/chat/channel.ts';
import { type TeamsParts, teamsChannel } from '../../../src/chat/teams/teams-channel.ts';
import type { Form, Intent } from '../../../src/desk/card.ts';
import { keeper, stillClock } from '../slack/set-up-channel.ts';
import { CLIENT_ID, fakeTeams, TENANT } from './fake-teams.ts';

export const ADA = '0a0a0a0a-0000-4000-8000-000000000001';
export const ROBIN = '0b0b0b0b-0000-4000-8000-000000000002';

export const setUpTeams = async (
  options: {
    readonly formFor?: (intent: Intent) => Form | undefined;
    readonly marks?: Map<string, string>;
    readonly publicUrl?: string;
    readonly fileOf?: NonNullable<Intake['fileOf']>;
  } = {},
) => {
  const clock = stillClock();
  const fake = await fakeTeams({ clock: clock.now });
  const folder = await mkdtemp(join(tmpdir(), 'chargehand-teams-'));
  const marks = options.marks ?? new Map<string, string>();
  const logged: { readonly level: string; readonly what: string; readonly more?: object }[] = [];
  const parts: TeamsParts = {
    credentials: {
      clientId: CLIENT_ID,
      clientSecret: 'fake-secret',
      tenantId: TENANT,
      port: 0,
      host: '127.0.0.1',
      ...(options.publicUrl ? { publicUrl: options.publicUrl } : {}),
    },
    clock: clock.now,
    store: {
      mark: async (name) => marks.get(name),
      setMark: async (name, value) => void marks.set(name, value),
    },
    folder,
    settings: {
      zone: 'Europe/London',
      people: [{ name: 'Ada', teams: ADA }, { name: 'Robin', teams: ROBIN }, { name: 'Mo' }],
    },
    log: (level, what, more) => void logged.push({ level, what, ...(more ? { more } : {}) }),
    cloud: fake.cloud,
    serviceUrl: fake.url,
    token: () => fake.botToken,
  };
  const channel = teamsChannel(parts);
  const floor = keeper(options.formFor);
  await channel.start({
    ...floor.intake,
    ...(options.fileOf ? { fileOf: options.fileOf } : {}),
  });
  fake.deliverTo(channel.address() ?? '');
  return {
    ...floor,
    channel,
    fake,
    clock,
    marks,
    logged,
    /** The same workshop after a restart: only what was kept is known. */
    again: () => teamsChannel(parts),
    end: async () => {
      await channel.stop();
      await fake.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
};
