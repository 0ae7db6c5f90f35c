// The whole line: a workshop that is started with Slack tokens, spoken to through the stand-in, and started again.
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type Started, startWorkshop } from '../../../src/main.ts';
import { APP_TOKEN, BOT_TOKEN, type FakeSlack, fakeSlack } from './fake-slack.ts';
import { ADA, ROBIN, stillClock, until } from './set-up-channel.ts';

let folder = '';
let fake: FakeSlack;
let started: Started | undefined;
const time = stillClock();

const start = async (): Promise<void> => {
  started = await startWorkshop({
    folder,
    port: 0,
    clock: time.now,
    env: {
      SLACK_BOT_TOKEN: BOT_TOKEN,
      SLACK_APP_TOKEN: APP_TOKEN,
      SLACK_API_URL: fake.url,
    } as NodeJS.ProcessEnv,
  });
  await until(() => fake.connections() === 1, 'it joined');
};
const stop = async (): Promise<void> => {
  await started?.stop();
  started = undefined;
};

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'workshop-'));
  fake = await fakeSlack({ clock: time.now, patience: 2_000 });
  await writeFile(
    join(folder, 'settings.yaml'),
    `workshop: Harrow Lane depot (demonstration)
zone: Europe/London
people:
  - { name: Ada, roles: [technician], slack: ${ADA} }
  - { name: Robin, roles: [controller], slack: ${ROBIN} }
slack: { channel: ${fake.channel} }
`,
  );
});
afterEach(async () => {
  await stop();
  await fake.close();
  await rm(folder, { recursive: true });
});

const sheet = () =>
  fake.messages(fake.channel).find((each) => each.user === fake.bot.user && each.pinned);

it('opens a job, records in its thread with a reaction, and posts nothing twice after a restart', async () => {
  await start();
  const asked = await fake.post(
    ROBIN,
    fake.channel,
    'open job 1050, bus 17, renew coolant pump, technician Ada',
  );
  await until(() => sheet() !== undefined, 'the job sheet is pinned');
  await until(() => fake.reactions(asked).includes('memo'), 'the opening is signed');
  const root = sheet()?.ts ?? '';
  const said = await fake.post(ADA, fake.channel, 'wheels chocked, parking brake on', root);
  await until(() => fake.reactions(said).includes('memo'), 'the report is signed');
  await stop();

  const before = fake.calls.filter((each) => each.method === 'chat.postMessage').length;
  const missed = await fake.post(ADA, fake.channel, 'battery isolated', root);
  await start();
  await until(() => fake.reactions(missed).includes('memo'), 'what was missed is signed');
  await stop();
  expect(fake.calls.filter((each) => each.method === 'chat.postMessage').length).toBe(before);
  expect(fake.refused).toEqual([]);
  expect(await readFile(join(folder, 'chargehand.log'), 'utf8')).not.toMatch(/xoxb-|xapp-/u);
});
