import { randomBytes } from 'node:crypto';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { installations } from '../../src/chat/slack/installations.ts';
import { run } from '../../src/cli/doctor.ts';
import {
  APP_TOKEN,
  BOT_TOKEN,
  CLIENT_ID,
  CLIENT_SECRET,
  type FakeSlack,
  fakeSlack,
} from '../chat/slack/fake-slack.ts';

const clock = () => '2026-03-02T09:00:00.000Z';
let folder = '';
let printed = '';
let fake: FakeSlack;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'doctor-'));
  printed = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed += String(text);
    return true;
  });
  for (const name of ['BOT_TOKEN', 'APP_TOKEN', 'SIGNING_SECRET', 'MODE', 'API_URL'])
    vi.stubEnv(`SLACK_${name}`, '');
  for (const name of ['SLACK_CLIENT_ID', 'SLACK_CLIENT_SECRET', 'CHARGEHAND_TOKEN_KEY'])
    vi.stubEnv(name, '');
  fake = await fakeSlack({ clock });
});
afterEach(async () => {
  vi.unstubAllEnvs();
  vi.restoreAllMocks();
  await fake.close();
  await rm(folder, { recursive: true });
});

const settings = (more = '') =>
  writeFile(
    join(folder, 'settings.yaml'),
    `workshop: Harrow Lane depot (demonstration)\nzone: Europe/London\npeople:\n  - name: Ada\n    roles: [technician]\n    slack: U0ADA001\n${more}`,
  );
const tokens = (): void => {
  vi.stubEnv('SLACK_BOT_TOKEN', BOT_TOKEN);
  vi.stubEnv('SLACK_APP_TOKEN', APP_TOKEN);
  vi.stubEnv('SLACK_API_URL', fake.url);
};
const doctor = () => run(['--data', folder], clock);

describe('doctor', () => {
  it('finds nothing to mend in a workshop without Slack', async () => {
    await settings();
    expect(await doctor()).toBe(0);
    expect(printed).toContain('Nothing to mend.');
    expect(printed).toContain('the bench is the only channel');
  });

  it('finds nothing to mend in a workshop that is joined to Slack', async () => {
    await settings(`slack:\n  channel: ${fake.channel}\n`);
    tokens();
    expect(await doctor()).toBe(0);
    expect(printed).toContain(`The bot is in the channel ${fake.channel}.`);
  });

  it('names everything that is wrong at once, each with what to do', async () => {
    await settings('plans: [no-such-folder]\n');
    tokens();
    fake.knobs.scopes('chat:write');
    expect(await doctor()).toBe(1);
    for (const words of ['no-such-folder', 'lacks', 'name no Slack channel', '3 things to mend'])
      expect(printed).toContain(words);
    expect(printed).not.toMatch(/xoxb-|xapp-fake/u);
  });

  it('looks at the plans that were saved from the page', async () => {
    await settings();
    await mkdir(join(folder, 'plans'));
    await writeFile(join(folder, 'plans', 'our-own.yaml'), 'plan: our-own\nsteps: none\n');
    expect(await doctor()).toBe(1);
    expect(printed).toMatch(
      /MEND {2}The plan .*our-own\.yaml has \d+ complaints? and is left out/u,
    );
    expect(printed).toContain('0 of 1 plans in');
  });

  it('looks at several workspaces: the key, the installations, each with its own settings', async () => {
    await settings();
    const key = randomBytes(32);
    vi.stubEnv('SLACK_CLIENT_ID', CLIENT_ID);
    vi.stubEnv('SLACK_CLIENT_SECRET', CLIENT_SECRET);
    vi.stubEnv('SLACK_SIGNING_SECRET', 'fake-signing-secret');
    vi.stubEnv('SLACK_PUBLIC_URL', 'https://chargehand.example.org');
    vi.stubEnv('SLACK_API_URL', fake.url);
    expect(await doctor()).toBe(1);
    expect(printed).toContain('CHARGEHAND_TOKEN_KEY is missing');

    vi.stubEnv('CHARGEHAND_TOKEN_KEY', key.toString('hex'));
    await installations(join(folder, 'installations'), { current: key }).save({
      team: 'T0DEPOT1',
      name: 'Depot',
      by: 'U0ROBIN1',
      at: clock(),
      token: BOT_TOKEN,
    });
    printed = '';
    expect(await doctor()).toBe(1);
    expect(printed).toContain('1 workspace has installed the app');
    expect(printed).toContain('Depot: There are no settings at');

    vi.stubEnv('CHARGEHAND_TOKEN_KEY', randomBytes(32).toString('hex'));
    printed = '';
    expect(await doctor()).toBe(1);
    expect(printed).toContain('another key than CHARGEHAND_TOKEN_KEY');

    vi.stubEnv('CHARGEHAND_TOKEN_KEY_OLD', key.toString('hex'));
    printed = '';
    expect(await doctor()).toBe(1);
    expect(printed).toContain('Start once with both keys');
    expect(printed).not.toMatch(/xoxb-/u);
  });

  it('names a half set of tokens', async () => {
    await settings();
    vi.stubEnv('SLACK_BOT_TOKEN', BOT_TOKEN);
    expect(await doctor()).toBe(1);
    expect(printed).toContain('SLACK_APP_TOKEN is missing');
  });

  it('names a wrong key of the settings with its line', async () => {
    await settings('shift: []\n');
    expect(await doctor()).toBe(1);
    expect(printed).toMatch(/settings\.yaml:\d+: "shift" is not known here/u);
  });

  it('names missing settings', async () => {
    expect(await doctor()).toBe(1);
    expect(printed).toContain('There are no settings');
  });
});
