// One door for several workspaces: what comes in is verified once and goes to the workspace it names, and to no other.
import type { AddressInfo } from 'node:net';
import type { App, Receiver } from '@slack/bolt';
import { textAt } from './json.ts';
import { RequestReceiver, type RequestReceiverOptions } from './request-receiver.ts';

/** The part of the door that one workspace sees. */
export type TeamReceiver = Receiver & {
  readonly start: () => Promise<AddressInfo>;
  readonly stop: () => Promise<void>;
};

export type SharedReceiver = {
  readonly start: () => Promise<AddressInfo>;
  readonly stop: () => Promise<void>;
  readonly forTeam: (team: string) => TeamReceiver;
};

/** The workspace a body is for: of an event the one the app was authorized in, which in a shared channel may differ. */
export const teamOf = (body: Readonly<Record<string, unknown>>): string | undefined =>
  textAt(body, 'authorizations.0.team_id') ??
  textAt(body, 'team_id') ??
  textAt(body, 'team.id') ??
  textAt(body, 'view.team_id') ??
  textAt(body, 'user.team_id');

export const sharedReceiver = (options: Omit<RequestReceiverOptions, 'appFor'>): SharedReceiver => {
  const apps = new Map<string, App>();
  let address: AddressInfo | undefined;
  const receiver = new RequestReceiver({
    ...options,
    appFor: (body) => apps.get(teamOf(body) ?? ''),
  });
  return {
    start: async () => {
      address = await receiver.start();
      return address;
    },
    stop: () => receiver.stop(),
    forTeam: (team) => ({
      init: (app) => void apps.set(team, app),
      start: async () => {
        if (!address) throw new Error('The door for all workspaces is not open yet.');
        return address;
      },
      // What comes for the workspace from now on is answered with 503, and Slack sends it again.
      stop: async () => void apps.delete(team),
    }),
  };
};
