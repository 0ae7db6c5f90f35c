// Who does what: one process does it all, or several share one store. Then each thread is worked off by one process at a
// time, in the order of acceptance; one process posts for all; and what only one may do it does under a lease. A process
// that dies loses its leases, and another goes on where it stood.
import type { Delivery } from '../../shared/delivery.ts';
import type { Schedule } from '../schedule/timers.ts';
import {
  type IndexEntry,
  type JobStore,
  laneOf,
  type OutboxEntry,
  type SharedStore,
} from '../store/job-store.ts';
import type { Outbox } from './outbox.ts';
import type { Queues } from './queues.ts';

export type CrewNeeds = {
  readonly store: JobStore;
  readonly lanes: Queues;
  readonly schedule: Schedule;
  /** Works a delivery off; never rejects. */
  readonly work: (delivery: Delivery) => Promise<void>;
  readonly newOutbox: (seed: readonly OutboxEntry[]) => Outbox;
  /** A job was written by another process. */
  readonly changed: (entry: IndexEntry) => void;
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
};

export type Crew = {
  /** A delivery that is kept: it is worked off in its turn, by whichever process. */
  readonly enqueue: (delivery: Delivery) => void;
  /** Before a decision: what other processes have written is known. */
  readonly catchUp: () => Promise<void>;
  /** Does what only one process may do at a time; left to the other one where that is at it. */
  readonly alone: (name: string, work: () => Promise<void>) => Promise<void>;
  /** What this process posts; undefined while another one does. */
  readonly outbox: () => Outbox | undefined;
  readonly start: () => Promise<void>;
  readonly stop: () => Promise<void>;
};

/** One process with the store to itself. */
const oneProcess = ({ store, lanes, work, newOutbox }: CrewNeeds): Crew => {
  let out: Outbox | undefined;
  return {
    enqueue: (delivery) => void lanes.run(laneOf(delivery), () => work(delivery)),
    catchUp: async () => undefined,
    alone: (_, doIt) => doIt(),
    outbox: () => out,
    start: async () => {
      out = newOutbox(await store.outbox());
    },
    stop: async () => out?.stop(),
  };
};

/** Milliseconds between two looks at what other processes left. */
const LOOK_MILLISECONDS = 400;
/** Seconds after which the leases of a process that died are free. */
const LEASE_SECONDS = 8;
/** Milliseconds after which a lease that is still needed is taken for longer: long before another process may have it. */
const RENEW_MILLISECONDS = 2_000;
/** Milliseconds for which what is known of the other processes' jobs is new enough. */
const FRESH_MILLISECONDS = 150;
/** Milliseconds for which a delivery that failed here rests at the first time. */
const REST_MILLISECONDS = 5_000;
const POSTS = 'posts';

const manyProcesses = (needs: CrewNeeds, shared: SharedStore): Crew => {
  const { store, lanes, schedule, work, newOutbox, log } = needs;
  let out: Outbox | undefined;
  let stopped = false;
  let since: string | undefined;
  let caughtUpAt = Number.NEGATIVE_INFINITY;
  let catching: Promise<void> | undefined;
  let looking = false;
  /** Revisions seen, so that a job is taken as changed once for each change. */
  const revisions = new Map<string, number>();
  /** What failed here is left alone for a while, longer each time; another process may try it meanwhile. */
  const failed = new Map<string, { readonly tries: number; readonly until: number }>();
  const restsHere = (id: string): boolean => (failed.get(id)?.until ?? 0) > performance.now();
  const noteFailed = (id: string): void => {
    const tries = (failed.get(id)?.tries ?? 0) + 1;
    const rest = REST_MILLISECONDS * 2 ** Math.min(tries, 8);
    failed.set(id, { tries, until: performance.now() + rest });
  };

  const catchUpNow = async (): Promise<void> => {
    const { upTo, changes } = await shared.changedSince(since);
    since = upTo;
    for (const { entry, rev } of changes) {
      if (revisions.get(entry.job) === rev) continue;
      revisions.set(entry.job, rev);
      needs.changed(entry);
    }
    caughtUpAt = performance.now();
  };

  const catchUp = async (): Promise<void> => {
    if (performance.now() - caughtUpAt < FRESH_MILLISECONDS) return;
    catching ??= catchUpNow().finally(() => {
      catching = undefined;
    });
    await catching;
  };

  const waitingIn = async (lane: string): Promise<readonly Delivery[]> =>
    (await shared.waitingIn(lane))
      .map(({ delivery }) => delivery)
      .filter(({ id }) => !restsHere(id));

  /** Works a lane off until nothing waits in it. @returns false where another process is at it */
  const tendOnce = async (lane: string): Promise<boolean> => {
    let leasedAt = performance.now();
    if (!(await shared.lease(lane, LEASE_SECONDS))) return false;
    const stillMine = async (): Promise<boolean> => {
      const now = performance.now();
      if (now - leasedAt < RENEW_MILLISECONDS) return true;
      leasedAt = now;
      return shared.lease(lane, LEASE_SECONDS);
    };
    try {
      for (let left = await waitingIn(lane); left.length > 0; ) {
        const [delivery] = left;
        if (!delivery || stopped || !(await stillMine())) return true;
        await work(delivery);
        left = await waitingIn(lane);
        // Settled by its work; where it is still there it failed, and holds up nothing behind it.
        if (left[0]?.id === delivery.id) {
          noteFailed(delivery.id);
          left = left.slice(1);
        } else failed.delete(delivery.id);
      }
    } finally {
      await shared.release(lane);
    }
    return true;
  };

  const tend = (lane: string): void =>
    void lanes.run(lane, async () => {
      try {
        // What arrived elsewhere between the last look and giving the lease back was refused the lease there.
        while (!stopped && (await tendOnce(lane)) && (await waitingIn(lane)).length > 0);
      } catch (error) {
        log('error', 'a thread could not be worked off; it is tried again', {
          why: (error as Error).message,
        });
      }
    });

  const lookAtPosts = async (): Promise<void> => {
    const mine = await shared.lease(POSTS, LEASE_SECONDS);
    if (!mine) {
      const had = out;
      out = undefined;
      await had?.stop();
      return;
    }
    const waiting = await store.outbox();
    if (out) out.add(waiting);
    else {
      out = newOutbox(waiting);
      out.kick();
    }
  };

  const look = async (): Promise<void> => {
    if (looking || stopped) return;
    looking = true;
    try {
      await catchUp();
      await lookAtPosts();
      for (const lane of await shared.lanes()) tend(lane);
    } catch (error) {
      log('warn', 'the store that several processes share was not reached; it is tried again', {
        why: (error as Error).message,
      });
    } finally {
      looking = false;
    }
  };

  return {
    enqueue: (delivery) => tend(laneOf(delivery)),
    catchUp,
    alone: async (name, doIt) => {
      if (!(await shared.lease(`alone:${name}`, 60))) return;
      try {
        await doIt();
      } finally {
        await shared.release(`alone:${name}`);
      }
    },
    outbox: () => out,
    start: async () => {
      await catchUp();
      await lookAtPosts();
      schedule.every('crew', LOOK_MILLISECONDS, () => void look());
    },
    stop: async () => {
      stopped = true;
      schedule.cancel('crew');
      await out?.stop();
      await shared.release(POSTS).catch(() => undefined);
    },
  };
};

export const makeCrew = (needs: CrewNeeds): Crew =>
  needs.store.shared ? manyProcesses(needs, needs.store.shared) : oneProcess(needs);
