// A floor with a folder store and a channel that keeps what it is given, for the tests of the floor.

import { readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Delivery } from '../../shared/delivery.ts';
import type { Settings } from '../../shared/settings.ts';
import type { Channel, Intake, Place, PostResult } from '../../src/chat/channel.ts';
import type { Card } from '../../src/desk/card.ts';
import { workshopOf } from '../../src/desk/workshop.ts';
import { makeFloor, type RunningFloor } from '../../src/floor/floor.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import type { Plan } from '../../src/job/plan.ts';
import { type JobFileStore, jobFileStore } from '../../src/store/job-file-store.ts';
import { type StoppedClock, stoppedClock } from '../conversations/stopped-clock.ts';
import { ROOT } from '../layout/sources.ts';

export const SETTINGS: Settings = {
  workshop: 'Floor',
  zone: 'Europe/London',
  people: [
    { name: 'Ada', roles: ['technician'], competences: ['brake-tester'], slack: 'U0ADA' },
    { name: 'Mo', roles: ['technician'], slack: 'U0MO' },
    { name: 'Robin', roles: ['controller'], slack: 'U0ROBIN' },
    { name: 'Kim', roles: ['manager'], slack: 'U0KIM' },
  ],
};

export const pump = (() => {
  const { plan } = loadPlan(
    readFileSync(join(ROOT, 'data/plans/coolant-pump.yaml'), 'utf8'),
    'coolant-pump.yaml',
  );
  if (!plan) throw new Error('The coolant pump plan has errors.');
  return plan;
})();

export type Said = {
  readonly at: string;
  readonly id: string;
  readonly place: Place;
  card: Card;
  readonly key: string;
};

/** A channel that keeps what it is given. `fail` answers in place of the next posts. */
export const keepingChannel = (name: 'bench' | 'slack' = 'bench') => {
  const posted: Said[] = [];
  const signs: { readonly message: string; readonly mark: string }[] = [];
  const failures: PostResult[] = [];
  let intake: Intake | undefined;
  let number = 0;
  const channel: Channel = {
    name,
    showsRecorded: 'reaction',
    start: async (given) => {
      intake = given;
    },
    stop: async () => undefined,
    post: async (place, card, key) => {
      const failure = failures.shift();
      if (failure) return failure;
      number += 1;
      const id = `${name}-${number}`;
      posted.push({ at: '', id, place, card, key });
      return { ok: true, posted: { message: id, place } };
    },
    edit: async (ref, card) => {
      const failure = failures.shift();
      if (failure) return failure;
      const known = posted.find((each) => each.id === ref.message);
      if (known) known.card = card;
      return { ok: true, posted: ref };
    },
    sign: async (place, message, mark) => {
      signs.push({ message, mark });
      return { ok: true, posted: { message, place } };
    },
    find: async (_place, key) => {
      const known = posted.find((each) => each.key === key);
      return known ? { message: known.id, place: known.place } : undefined;
    },
  };
  return {
    channel,
    posted,
    signs,
    failures,
    intake: (): Intake => {
      if (!intake) throw new Error('The channel is not started.');
      return intake;
    },
    texts: () => posted.map((each) => each.card.text),
  };
};

export type Keeping = ReturnType<typeof keepingChannel>;

export type TestFloor = {
  readonly running: RunningFloor;
  readonly store: JobFileStore;
  readonly clock: StoppedClock;
  readonly logged: {
    readonly level: string;
    readonly what: string;
    readonly more?: object | undefined;
  }[];
  readonly calm: () => Promise<void>;
};

export const START = '2026-03-10T07:00:00.000Z';

/** Starts a floor on a folder; the same folder again is a restart. */
export const floorOn = async (
  folder: string,
  keeping: readonly Keeping[],
  start = START,
  store?: JobFileStore,
  plans: readonly Plan[] = [pump],
  settings: Settings = SETTINGS,
): Promise<TestFloor> => {
  const clock = stoppedClock(start);
  const made = store ?? jobFileStore(folder, { clock: clock.now });
  const logged: { level: string; what: string; more?: object | undefined }[] = [];
  const running = makeFloor({
    store: made,
    workshop: workshopOf(settings, plans),
    channels: keeping.map(({ channel }) => channel),
    homes: { bench: { team: 'bench', place: 'yard' }, slack: { team: 'T1', place: 'C1' } },
    planOf: (text, id) => loadPlan(text, id).plan,
    schedule: clock.schedule,
    clock: clock.now,
    log: (level, what, more) => void logged.push({ level, what, more }),
  });
  await made.open();
  await running.start();
  const calm = async (): Promise<void> => {
    for (let looks = 0; looks < 200; looks += 1) {
      await running.idle();
      if (running.backlog() === 0) return;
      await new Promise((done) => setTimeout(done, 5));
    }
  };
  return { running, store: made, clock, logged, calm };
};

export const temporaryFolder = async (): Promise<{
  readonly folder: string;
  readonly remove: () => Promise<void>;
}> => {
  const folder = await mkdtemp(join(tmpdir(), 'chargehand-floor-'));
  return { folder, remove: () => rm(folder, { recursive: true, force: true }) };
};

/** A message as the bench would hand it in. */
export const message = (
  id: string,
  person: string,
  text: string,
  more: Partial<Extract<Delivery, { kind: 'message' }>> = {},
): Delivery => ({
  id: `bench:${id}`,
  keys: [],
  channel: 'bench',
  team: 'bench',
  place: 'yard',
  person,
  at: START,
  kind: 'message',
  message: id,
  text,
  ...more,
});

export const OPEN = 'open job 1042 bus 17 coolant pump tech Ada';

/** A tap as the bench would hand it in. */
export const tap = (
  id: string,
  person: string,
  intent: string,
  fields?: Readonly<Record<string, string>>,
): Delivery => ({
  id: `bench:${id}`,
  keys: [],
  channel: 'bench',
  team: 'bench',
  place: 'yard',
  person,
  at: START,
  kind: 'tap',
  intent,
  ...(fields ? { fields } : {}),
});
