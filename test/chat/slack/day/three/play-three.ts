// Plays a day with three processes behind a balancer, of which one is killed again and again and another one comes in its
// place. Time is a stopped clock as in `run-day.ts`; what each process looks for by itself it looks for when all is quiet.
import { workshopOf } from '../../../../../src/desk/workshop.ts';
import { makeFloor, type RunningFloor } from '../../../../../src/floor/floor.ts';
import { loadPlan } from '../../../../../src/job/load-plan.ts';
import type { Plan } from '../../../../../src/job/plan.ts';
import type { StoredJob } from '../../../../../src/store/job-store.ts';
import { stoppedClock } from '../../../../conversations/stopped-clock.ts';
import { balancer } from '../../../../floor/many/balancer.ts';
import { randomFrom } from '../../../../store/random.ts';
import { dayHands, turnOfLoop } from '../day-hands.ts';
import { daySlack } from '../day-slack.ts';
import type { DayStore, Held } from '../day-store.ts';
import type { Day } from '../make-day.ts';
import { ownSchedule } from '../own-schedule.ts';
import { type Played, settingsFor } from '../run-day.ts';

export type ThreeWeather = {
  readonly seed: number;
  readonly processes: number;
  /** One process is killed after so many happenings, again and again; never when left out. */
  readonly killEvery?: number;
  readonly doubled: number;
  readonly lostAcks: number;
};

export const ONE_CALM: ThreeWeather = { seed: 0, processes: 1, doubled: 0, lostAcks: 0 };
export const THREE_KILLED: ThreeWeather = {
  seed: 1,
  processes: 3,
  killEvery: 8,
  doubled: 0.04,
  lostAcks: 0.03,
};

const MOST_LOOKS = 60_000;
/** Happenings for which the others go on before another process comes in the place of a killed one. */
const AWAY = 3;

const later = (at: string, seconds: number): string =>
  new Date(Date.parse(at) + seconds * 1000).toISOString();

type Process = {
  readonly held: Held;
  readonly running: RunningFloor;
  /** What it does every few hundred milliseconds. */
  readonly look: () => void;
  readonly stop: () => Promise<void>;
  readonly kill: () => Promise<void>;
};

export const playThree = async (
  day: Day,
  plans: readonly Plan[],
  disk: DayStore,
  weather: ThreeWeather,
): Promise<Played> => {
  const random = randomFrom(weather.seed);
  const clock = stoppedClock(day.start);
  const settings = settingsFor(day);
  const front = await balancer();
  const place = await daySlack(
    'http',
    () => front,
  )({
    clock: clock.now,
    schedule: clock.schedule,
    settings,
  });
  const errors: string[] = [];
  const early: string[] = [];
  let acknowledged = 0;
  place.onAcknowledged((delivery) => {
    acknowledged += 1;
    if (!disk.isLasting(delivery)) early.push(delivery);
  });
  let crew: Process[] = [];
  let lives = 0;

  const quiet = async (): Promise<void> => {
    let still = 0;
    for (let looks = 0; still < 4; looks += 1) {
      if (looks < 2_000) await turnOfLoop();
      else await new Promise((resolve) => setTimeout(resolve, 1));
      still = place.busy() + disk.busy() === 0 ? still + 1 : 0;
      if (looks > MOST_LOOKS)
        throw new Error(
          `It does not come to rest: ${place.busy()} calls, ${disk.busy()} questions.`,
        );
    }
  };
  /** Until nothing moves, and nothing is left that a look of one of them would find. */
  const rest = async (): Promise<void> => {
    for (let rounds = 0; rounds < 40; rounds += 1) {
      await quiet();
      for (const { look } of crew) {
        look();
        await quiet();
      }
      const [one] = crew;
      if (!one || (await one.held.store.waiting()).length === 0) return;
    }
    throw new Error('Something waits that no process works off.');
  };
  const go = async (at: string): Promise<void> => {
    await rest();
    await clock.until(at, rest);
  };

  const begin = async (): Promise<void> => {
    lives += 1;
    const own = ownSchedule(clock.schedule, lives);
    const held = disk.next(clock.now);
    let made: RunningFloor | undefined;
    const joined = place.join({
      clock: clock.now,
      schedule: own.schedule,
      store: held.store,
      running: () => {
        if (!made) throw new Error('The floor is not made yet.');
        return made;
      },
    });
    made = makeFloor({
      store: held.store,
      workshop: workshopOf(settings, plans),
      channels: [joined.channel],
      homes: { [place.name]: place.home },
      planOf: (text, id) => loadPlan(text, id).plan,
      schedule: own.schedule,
      clock: clock.now,
      log: (level, what, more) => {
        if (level === 'error') errors.push(`${what} ${JSON.stringify(more ?? {})}`);
      },
    });
    await held.store.open();
    await made.start();
    const running = made;
    crew.push({
      held,
      running,
      look: own.look,
      stop: async () => {
        await running.stop();
        own.die();
      },
      kill: async () => {
        joined.kill();
        own.die();
        await held.kill();
      },
    });
  };

  const hands = dayHands(place, clock.now, () => {
    if (random() < weather.doubled) place.double(random() < 0.5);
    else if (random() < weather.lostAcks) place.loseAck();
  });

  for (let n = 0; n < weather.processes; n += 1) await begin();
  let kills = 0;
  let back = Number.POSITIVE_INFINITY;
  for (const [index, happening] of day.happenings.entries()) {
    await go(happening.at);
    if (index >= back) {
      await begin();
      back = Number.POSITIVE_INFINITY;
    }
    await hands.tapWhatIsThere();
    const acting = hands.act(happening);
    if (
      weather.killEvery &&
      index % weather.killEvery === weather.killEvery - 1 &&
      crew.length > 1
    ) {
      // In the middle of its work, whoever it is.
      for (let turns = Math.floor(random() * 60); turns > 0; turns -= 1) await turnOfLoop();
      const gone = crew[Math.floor(random() * crew.length)];
      crew = crew.filter((each) => each !== gone);
      await gone?.kill();
      kills += 1;
      back = index + AWAY;
    }
    await acting;
  }
  for (let at = clock.now(); Date.parse(at) < Date.parse(day.end); at = later(at, 300)) {
    await go(at);
    await hands.tapWhatIsThere();
    await rest();
  }

  const [one] = crew;
  if (!one) throw new Error('No process is left.');
  const kept = one.held.store;
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
    thrown: {
      ...place.thrown(),
      kills,
      'processes that had a part in it': [...front.answered.values()].filter((count) => count > 0)
        .length,
    },
    errors,
    recorded: place.recorded,
  };
  for (const each of crew) await each.stop();
  await place.end();
  await front.close();
  await disk.end();
  return played;
};
