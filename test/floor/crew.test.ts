// Who does what where several processes share a store: leases, turns, and what happens when one of them is gone.
import { describe, expect, it } from 'vitest';
import { makeCrew } from '../../src/floor/crew.ts';
import type { Outbox } from '../../src/floor/outbox.ts';
import { queues } from '../../src/floor/queues.ts';
import type { Schedule } from '../../src/schedule/timers.ts';
import {
  type JobStore,
  laneOf,
  type OutboxEntry,
  type SharedStore,
  type Waiting,
} from '../../src/store/job-store.ts';
import { at, delivery, indexOf, outboxEntry } from '../store/sample.ts';

type Ground = {
  readonly waiting: Waiting[];
  readonly posts: OutboxEntry[];
  readonly leases: Map<string, { holder: string; until: number }>;
  now: number;
};

const ground = (): Ground => ({ waiting: [], posts: [], leases: new Map(), now: 0 });

/** One process's view of the store that they share; only what a crew uses of it is there. */
const storeOf = (place: Ground, holder: string): JobStore =>
  ({
    // What waits in the whole workshop is never asked for: a message costs the same however much of it there is.
    waiting: async () => {
      throw new Error('all that waits was asked for');
    },
    outbox: async () => [...place.posts],
    shared: {
      waitingIn: async (lane) => place.waiting.filter((each) => laneOf(each.delivery) === lane),
      lanes: async () => [...new Set(place.waiting.map((each) => laneOf(each.delivery)))],
      lease: async (name, seconds) => {
        const had = place.leases.get(name);
        if (had && had.holder !== holder && had.until >= place.now) return false;
        place.leases.set(name, { holder, until: place.now + seconds });
        return true;
      },
      release: async (name) => {
        if (place.leases.get(name)?.holder === holder) place.leases.delete(name);
      },
      versionOf: async () => 1,
      changedSince: async () => ({
        upTo: at(1),
        changes: [{ entry: indexOf('1042'), rev: 1 }],
      }),
    } as Partial<SharedStore> as SharedStore,
  }) as Partial<JobStore> as JobStore;

const fakeOutbox = (seed: readonly OutboxEntry[]) => {
  const added: OutboxEntry[] = [...seed];
  let stopped = false;
  const box: Outbox = {
    add: (entries) => void added.push(...entries),
    backlog: () => added.length,
    backlogs: () => [],
    kick: () => undefined,
    drained: async () => undefined,
    stop: async () => {
      stopped = true;
    },
  };
  return { box, added, stopped: () => stopped };
};

const member = (
  place: Ground,
  holder: string,
  work?: (id: string) => Promise<'failed' | undefined>,
) => {
  const store = storeOf(place, holder);
  const lanes = queues();
  const worked: string[] = [];
  const changed: string[] = [];
  const boxes: ReturnType<typeof fakeOutbox>[] = [];
  let tick: (() => void) | undefined;
  const schedule: Schedule = {
    at: () => undefined,
    every: (_key, _milliseconds, run) => {
      tick = run;
    },
    cancel: () => undefined,
    stop: () => undefined,
  };
  const crew = makeCrew({
    store,
    lanes,
    schedule,
    log: () => undefined,
    work: async ({ id }) => {
      worked.push(id);
      if ((await work?.(id)) === 'failed') return;
      const index = place.waiting.findIndex((each) => each.delivery.id === id);
      if (index >= 0) place.waiting.splice(index, 1);
    },
    newOutbox: (seed) => {
      const made = fakeOutbox(seed);
      boxes.push(made);
      return made.box;
    },
    changed: (entry) => void changed.push(entry.job),
  });
  return {
    crew,
    worked,
    changed,
    boxes,
    idle: () => lanes.idle(),
    /** Its regular look, and all that follows from it. */
    look: async () => {
      tick?.();
      for (let turns = 0; turns < 50; turns += 1) await Promise.resolve();
      await lanes.idle();
    },
  };
};

const arrives = (place: Ground, n: number): Waiting => {
  const waiting = { delivery: delivery(n), acceptedAt: at(n) };
  place.waiting.push(waiting);
  return waiting;
};

describe('a crew of several processes', () => {
  it('works off each thread in the order of acceptance, whoever took the delivery', async () => {
    const place = ground();
    const one = member(place, 'one');
    await one.crew.start();
    const all = [3, 1, 2].map((n) => arrives(place, n));
    one.crew.enqueue(all[2]?.delivery ?? delivery(0));
    await one.idle();
    expect(one.worked).toEqual(['bench:3', 'bench:1', 'bench:2']);
    expect(place.leases.has('in:bench:yard:')).toBe(false);
  });

  it('leaves a thread to the one that is at it', async () => {
    const place = ground();
    let go: () => void = () => undefined;
    const gate = new Promise<undefined>((done) => {
      go = () => done(undefined);
    });
    const one = member(place, 'one', () => gate);
    const two = member(place, 'two');
    await one.crew.start();
    await two.crew.start();
    one.crew.enqueue(arrives(place, 1).delivery);
    for (let turns = 0; turns < 20; turns += 1) await Promise.resolve();
    two.crew.enqueue(arrives(place, 2).delivery);
    await two.idle();
    expect(two.worked).toEqual([]);
    go();
    await one.idle();
    expect(one.worked).toEqual(['bench:1', 'bench:2']);
  });

  it('takes a thread over once the lease of one that died has run out, and not before', async () => {
    const place = ground();
    const one = member(place, 'one', () => new Promise(() => undefined));
    const two = member(place, 'two');
    await one.crew.start();
    await two.crew.start();
    one.crew.enqueue(arrives(place, 1).delivery);
    for (let turns = 0; turns < 20; turns += 1) await Promise.resolve();
    await two.look();
    expect(two.worked).toEqual([]);
    place.now += 9;
    await two.look();
    expect(two.worked).toEqual(['bench:1']);
  });

  it('lets what fails rest, and goes on with what is behind it', async () => {
    const place = ground();
    const failing = member(place, 'one', async (id) => (id === 'bench:1' ? 'failed' : undefined));
    await failing.crew.start();
    const stuck = arrives(place, 1);
    arrives(place, 2);
    failing.crew.enqueue(stuck.delivery);
    await failing.idle();
    expect(failing.worked).toEqual(['bench:1', 'bench:2']);
    expect(place.waiting).toEqual([stuck]);
  });

  it('posts from one process, which hands over what is left when it is gone', async () => {
    const place = ground();
    place.posts.push(outboxEntry('1042', 'a'));
    const one = member(place, 'one');
    const two = member(place, 'two');
    await one.crew.start();
    await two.crew.start();
    expect(one.crew.outbox()).toBeDefined();
    expect(one.boxes[0]?.added).toHaveLength(1);
    expect(two.crew.outbox()).toBeUndefined();
    place.now += 9;
    await two.look();
    expect(two.crew.outbox()).toBeDefined();
    await one.look();
    expect(one.crew.outbox()).toBeUndefined();
    expect(one.boxes[0]?.stopped()).toBe(true);
    await two.crew.stop();
    await one.look();
    expect(one.crew.outbox()).toBeDefined();
  });

  it('does alone what only one may do', async () => {
    const place = ground();
    const one = member(place, 'one');
    const two = member(place, 'two');
    const done: string[] = [];
    await one.crew.alone('notes', async () => {
      await two.crew.alone('notes', async () => void done.push('two'));
      done.push('one');
    });
    await two.crew.alone('notes', async () => void done.push('two'));
    expect(done).toEqual(['one', 'two']);
  });

  it('tells of a job that another process wrote once for each change', async () => {
    const place = ground();
    const one = member(place, 'one');
    await one.crew.start();
    await one.look();
    expect(one.changed).toEqual(['1042']);
  });
});
