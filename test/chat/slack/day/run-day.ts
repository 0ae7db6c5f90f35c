// Plays a day on a platform and a store, calmly or with everything that goes wrong in real life. Time is a stopped clock:
// it goes on only when nothing moves any more, so nothing here waits and nothing depends on how fast the machine is.
import type { Settings } from '../../../../shared/settings.ts';
import { workshopOf } from '../../../../src/desk/workshop.ts';
import { makeFloor, type RunningFloor } from '../../../../src/floor/floor.ts';
import { loadPlan } from '../../../../src/job/load-plan.ts';
import type { Plan } from '../../../../src/job/plan.ts';
import type { OutboxEntry, StoredJob } from '../../../../src/store/job-store.ts';
import { stoppedClock } from '../../../conversations/stopped-clock.ts';
import { randomFrom } from '../../../store/random.ts';
import { dayHands, turnOfLoop } from './day-hands.ts';
import type { DayPlatform, MakeDayPlatform, Standing } from './day-platform.ts';
import type { Held, MakeDayStore } from './day-store.ts';
import type { Day } from './make-day.ts';
import { ownSchedule } from './own-schedule.ts';

/** Shares of the messages, and ends of the process at the given places of the day. */
export type Weather = {
  readonly seed: number;
  readonly doubled: number;
  readonly swapped: number;
  readonly lostAcks: number;
  /** Calls of the bot that fail, for each happening. */
  readonly spoilt: number;
  readonly outage: boolean;
  readonly restarts: readonly { readonly at: number; readonly how: 'stop' | 'kill' }[];
};

export const CALM: Weather = {
  seed: 0,
  doubled: 0,
  swapped: 0,
  lostAcks: 0,
  spoilt: 0,
  outage: false,
  restarts: [],
};
/** At 22 %, 47 % and 81 % of the day: once as planned, twice killed, the last time with a backlog from the outage behind it. */
export const STORM: Weather = {
  seed: 1,
  doubled: 0.02,
  swapped: 0.02,
  lostAcks: 0.01,
  spoilt: 0.05,
  outage: true,
  restarts: [
    { at: 0.22, how: 'kill' },
    { at: 0.47, how: 'stop' },
    { at: 0.81, how: 'kill' },
  ],
};

export type Played = {
  readonly jobs: ReadonlyMap<string, StoredJob>;
  /** The platform's id of each person's message, by its number in the day. */
  readonly ids: ReadonlyMap<number, string>;
  readonly standing: readonly Standing[];
  readonly outbox: readonly OutboxEntry[];
  /** Deliveries that were accepted and never worked off. */
  readonly waiting: number;
  /** Deliveries that were acknowledged before they were lasting. */
  readonly early: readonly string[];
  readonly acknowledged: number;
  /** Taps that found no button until the end. */
  readonly untapped: readonly string[];
  readonly complaints: readonly string[];
  /** Messages whose deletion nobody was told of. */
  readonly untold: readonly string[];
  readonly thrown: Readonly<Record<string, number>>;
  readonly errors: readonly string[];
  readonly recorded: string;
};

export type DayRun = {
  readonly day: Day;
  readonly plans: readonly Plan[];
  readonly platform: MakeDayPlatform;
  readonly store: MakeDayStore;
  readonly weather: Weather;
};

export const settingsFor = (day: Day): Settings => ({
  workshop: 'Harrow Lane',
  zone: 'Europe/London',
  people: [
    ...day.technicians.map((name) => ({ name, roles: ['technician' as const] })),
    ...day.controllers.map((name) => ({ name, roles: ['controller' as const] })),
  ].map((person) => ({ ...person, slack: `U0${person.name.toUpperCase()}01` })),
});

/** Looks for rest, a millisecond apart but for the first: only what hangs takes hundreds. */
const MOST_LOOKS = 40_000;

const later = (at: string, seconds: number): string =>
  new Date(Date.parse(at) + seconds * 1000).toISOString();

type Living = {
  readonly held: Held;
  readonly running: RunningFloor;
  readonly end: (how: 'stop' | 'kill') => Promise<void>;
};

export const playDay = async ({
  day,
  plans,
  platform,
  store,
  weather,
}: DayRun): Promise<Played> => {
  const random = randomFrom(weather.seed);
  const clock = stoppedClock(day.start);
  const settings = settingsFor(day);
  const place: DayPlatform = await platform({
    clock: clock.now,
    schedule: clock.schedule,
    settings,
  });
  const disk = await store(random);
  const errors: string[] = [];
  const early: string[] = [];
  let acknowledged = 0;
  place.onAcknowledged((delivery) => {
    acknowledged += 1;
    if (!disk.isLasting(delivery)) early.push(delivery);
  });

  /** Resolves when nothing moves: no call, no delivery, no file. */
  const rest = async (): Promise<void> => {
    let still = 0;
    for (let looks = 0; still < 4; looks += 1) {
      if (looks < 2_000) await turnOfLoop();
      else await new Promise((resolve) => setTimeout(resolve, 1));
      still = place.busy() + disk.busy() === 0 ? still + 1 : 0;
      if (looks > MOST_LOOKS)
        throw new Error(`It does not come to rest: ${place.busy()} calls, ${disk.busy()} files.`);
    }
  };
  const go = async (at: string): Promise<void> => {
    await rest();
    await clock.until(at, rest);
  };

  let lives = 0;
  const begin = async (): Promise<Living> => {
    lives += 1;
    const { schedule, die } = ownSchedule(clock.schedule, lives);
    const held = disk.next(clock.now);
    let made: RunningFloor | undefined;
    const running = (): RunningFloor => {
      if (!made) throw new Error('The floor is not made yet.');
      return made;
    };
    const joined = place.join({ clock: clock.now, schedule, store: held.store, running });
    made = makeFloor({
      store: held.store,
      workshop: workshopOf(settings, plans),
      channels: [joined.channel],
      homes: { [place.name]: place.home },
      planOf: (text, id) => loadPlan(text, id).plan,
      schedule,
      clock: clock.now,
      log: (level, what, more) => {
        if (level === 'error') errors.push(`${what} ${JSON.stringify(more ?? {})}`);
      },
    });
    await held.store.open();
    await made.start();
    const floor = made;
    return {
      held,
      running: floor,
      end: async (how) => {
        if (how === 'stop') await floor.stop();
        else {
          joined.kill();
          await held.kill();
        }
        die();
      },
    };
  };

  const hands = dayHands(place, clock.now, () => {
    if (random() < weather.swapped) place.swap();
    else if (random() < weather.doubled) place.double(random() < 0.5);
    else if (random() < weather.lostAcks) place.loseAck();
  });

  let life: Living | undefined = await begin();
  const ends = weather.restarts.map(({ at, how }) => ({
    how,
    after: Math.floor(at * day.happenings.length),
  }));
  let back = 0;
  let away: 'before' | 'now' | 'after' = weather.outage ? 'before' : 'after';
  for (const [index, happening] of day.happenings.entries()) {
    for (const [state, at] of [
      ['before', day.outage.from],
      ['now', day.outage.to],
    ] as const) {
      if (away !== state || Date.parse(happening.at) < Date.parse(at)) continue;
      await go(at);
      place.outage(state === 'before');
      away = state === 'before' ? 'now' : 'after';
    }
    await go(happening.at);
    if (!life && index >= back) life = await begin();
    if (life && away !== 'now') await hands.tapWhatIsThere();
    if (random() < weather.spoilt) place.spoilCall(random);
    const end = ends.find(({ after }) => after === index);
    // The end of a process draws its numbers first.
    const acting = Promise.resolve().then(() => hands.act(happening));
    if (end && life) {
      for (let turns = Math.floor(random() * 60); turns > 0; turns -= 1) await turnOfLoop();
      await life.end(end.how);
      life = undefined;
      // The second time people go on posting while nobody listens.
      back = index + 1 + (end.how === 'stop' ? 4 : 0);
    }
    await acting;
  }
  if (!life) life = await begin();
  for (let at = clock.now(); Date.parse(at) < Date.parse(day.end); at = later(at, 300)) {
    await go(at);
    await hands.tapWhatIsThere();
    await rest();
  }

  const { store: kept } = life.held;
  const jobs = new Map<string, StoredJob>();
  for (const { job } of await kept.list()) {
    const found = await kept.load(job);
    if (found) jobs.set(job, found);
  }
  const played: Played = {
    jobs,
    ids: hands.ids,
    standing: place.standing(),
    outbox: await kept.outbox(),
    waiting: (await kept.waiting()).length,
    early,
    acknowledged,
    untapped: hands.untapped(),
    complaints: place.complaints(),
    untold: place.untold(),
    thrown: { ...place.thrown(), restarts: lives - 1 },
    errors,
    recorded: place.recorded,
  };
  await life.end('stop');
  await place.end();
  await disk.end();
  return played;
};
