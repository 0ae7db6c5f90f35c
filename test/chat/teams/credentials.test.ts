import { describe, expect, it } from 'vitest';
import { teamsCredentialsFrom } from '../../../src/chat/teams/credentials.ts';
import { CLIENT_ID, TENANT } from './fake-teams.ts';

const whole = {
  TEAMS_CLIENT_ID: CLIENT_ID,
  TEAMS_CLIENT_SECRET: 'abc~secret~value',
  TEAMS_TENANT_ID: TENANT,
};

describe('the Teams credentials of the environment', () => {
  it('are none where nothing is set', () => {
    expect(teamsCredentialsFrom({ TEAMS_PORT: '4000' })).toEqual({ kind: 'none' });
  });

  it('are ready where all three are set', () => {
    expect(teamsCredentialsFrom(whole)).toEqual({
      kind: 'ready',
      credentials: {
        clientId: CLIENT_ID,
        clientSecret: 'abc~secret~value',
        tenantId: TENANT,
        port: 3978,
        host: '127.0.0.1',
      },
    });
    expect(
      teamsCredentialsFrom({
        ...whole,
        TEAMS_PUBLIC_URL: 'https://depot.example/',
        TEAMS_PORT: '0',
      }),
    ).toMatchObject({ credentials: { publicUrl: 'https://depot.example', port: 0 } });
  });

  it.each([
    ['a secret alone', { TEAMS_CLIENT_SECRET: 'abc~secret~value' }, /TEAMS_CLIENT_ID is missing/u],
    ['no tenant', { ...whole, TEAMS_TENANT_ID: ' ' }, /TEAMS_TENANT_ID is missing/u],
    [
      'an id that is none',
      { ...whole, TEAMS_CLIENT_ID: 'bot' },
      /TEAMS_CLIENT_ID has not the form/u,
    ],
    [
      'the id of the secret',
      { ...whole, TEAMS_CLIENT_SECRET: TENANT },
      /holds the id of a secret/u,
    ],
    ['a port that is none', { ...whole, TEAMS_PORT: 'x' }, /TEAMS_PORT is "x"/u],
    ['an open address', { ...whole, TEAMS_PUBLIC_URL: 'http://d.example' }, /no https address/u],
  ])('with %s are one clear line that repeats no secret', (_, env, what) => {
    const found = teamsCredentialsFrom(env);
    expect(found.kind).toBe('half');
    if (found.kind !== 'half') return;
    expect(found.what).toMatch(what);
    expect(`${found.what} ${found.doThis}`).not.toContain('abc~secret~value');
    expect(found.doThis).toMatch(/^Set (?:it|TEAMS_)/u);
  });
});
