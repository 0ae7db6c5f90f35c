// A whole workshop behind the stand-in for Slack: settings, folder store, floor, channel. Nothing of ours is replaced.
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Started, startWorkshop } from '../../../src/main.ts';
import { fakeSlack } from './fake-slack.ts';
import { ADA, quick, ROBIN, stillClock, tokensFor, until } from './set-up-channel.ts';

export const MO = 'U0MO0001';
export const KIM = 'U0KIM001';
/** Nobody of the settings. */
export const JO = 'U0JO0001';

export const inAWorkshop = async (more = '') => {
  const time = stillClock();
  const folder = await mkdtemp(join(tmpdir(), 'workshop-'));
  const fake = await fakeSlack({ clock: time.now, patience: 2_000 });
  const settingsFile = join(folder, 'settings.yaml');
  await writeFile(
    settingsFile,
    `# Written by hand.
workshop: Harrow Lane depot (demonstration)
zone: Europe/London
people:
  - { name: Ada, roles: [technician], slack: ${ADA} } # on days
  - { name: Mo, roles: [technician], slack: ${MO} }
  - { name: Robin, roles: [controller], slack: ${ROBIN} }
  - { name: Kim, roles: [manager], slack: ${KIM} }
  - { name: Lee, roles: [technician] }
slack: { channel: ${fake.channel} }
${more}`,
  );
  let started: Started | undefined;
  const start = async (): Promise<void> => {
    started = await startWorkshop({
      folder,
      port: 0,
      clock: time.now,
      env: {},
      workspace: {
        tokens: { ...tokensFor('socket'), apiUrl: fake.url },
        paceSeconds: 0,
        wait: quick,
      },
    });
    await until(() => fake.connections() === 1, 'it joined');
  };
  const stop = async (): Promise<void> => {
    await started?.stop();
    started = undefined;
  };
  await start();
  const floor = () => {
    if (!started) throw new Error('The workshop is not started.');
    return started.running;
  };
  /** Everything that arrived is worked off and posted. */
  const calm = async (): Promise<void> => {
    await fake.settled();
    for (let look = 0; look < 400; look += 1) {
      await floor().idle();
      if (floor().backlog() === 0) break;
      await new Promise((done) => setTimeout(done, 5));
    }
    await fake.settled();
  };
  const said = async (
    user: string,
    text: string,
    more: Parameters<typeof fake.post>[3] = {},
  ): Promise<string> => {
    const ts = await fake.post(user, fake.channel, text, more);
    await calm();
    return ts;
  };
  return {
    time,
    folder,
    fake,
    start,
    stop,
    calm,
    said,
    floor,
    settings: () => readFile(settingsFile, 'utf8'),
    writeSettings: (text: string) => writeFile(settingsFile, text),
    /** Opens a job of the coolant pump and gives the root of its thread. */
    open: async (job = '1050', technician = 'Ada'): Promise<string> => {
      await said(
        ROBIN,
        `open job ${job}, bus ${job.slice(-2)}, renew coolant pump, technician ${technician}`,
      );
      const sheet = fake
        .messages(fake.channel)
        .find(
          (each) =>
            each.user === fake.bot.user && each.pinned && JSON.stringify(each.blocks).includes(job),
        );
      if (!sheet) throw new Error(`Job ${job} was not opened.`);
      return sheet.ts;
    },
    messagesOf: async (job: string): Promise<readonly string[]> =>
      ((await floor().floor.shelved(job))?.state.events ?? []).flatMap((event) =>
        event.kind === 'message-posted' ? [`${event.by}: ${event.text}`] : [],
      ),
    eventsOf: async (job: string) => (await floor().floor.shelved(job))?.state.events ?? [],
    end: async (): Promise<void> => {
      await stop();
      await fake.close();
      await rm(folder, { recursive: true });
    },
  };
};

export type InAWorkshop = Awaited<ReturnType<typeof inAWorkshop>>;
