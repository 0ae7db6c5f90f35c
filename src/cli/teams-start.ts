// Teams at the start: the channel where its credentials are set; its package is loaded only then.
import { join } from 'node:path';
import type { Settings } from '../../shared/settings.ts';
import type { Channel } from '../chat/channel.ts';
import { teamsCredentialsFrom } from '../chat/teams/credentials.ts';
import type { TeamsParts } from '../chat/teams/teams-channel.ts';
import { TeamsTrouble } from '../chat/teams/teams-trouble.ts';

export type TeamsJoined = {
  readonly channel: Channel;
  /** Where jobs are opened and stop flags appear. */
  readonly home: { readonly team: string; readonly place: string } | undefined;
};

/** Throws TeamsTrouble where half of the credentials are set. */
export const teamsFor = async (
  env: NodeJS.ProcessEnv,
  folder: string,
  settings: Settings,
  parts: Pick<TeamsParts, 'clock' | 'store' | 'shelf' | 'log'>,
): Promise<TeamsJoined | undefined> => {
  const found = teamsCredentialsFrom(env);
  if (found.kind === 'none') return undefined;
  if (found.kind === 'half') throw new TeamsTrouble(found.what, found.doThis);
  const { teamsChannel } = await import('../chat/teams/teams-channel.ts');
  const { credentials } = found;
  const place = settings.teams?.channel;
  return {
    channel: teamsChannel({ ...parts, credentials, settings, folder: join(folder, 'teams') }),
    home: place ? { team: credentials.tenantId, place } : undefined,
  };
};
