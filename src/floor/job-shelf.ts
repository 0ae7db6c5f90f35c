// Jobs held ready in memory: the state of a job is derived from its stored events once and kept while it is in use.
import type { JobEvent, JobOpened } from '../../shared/event.ts';
import { checkJob } from '../desk/turn/check-job.ts';
import type { JobState } from '../desk/turn/turn.ts';
import type { Plan } from '../job/plan.ts';
import type { Around } from '../job/view.ts';
import type { IndexEntry, JobStore, PostRef, ThreadRef } from '../store/job-store.ts';

export type ShelvedJob = {
  readonly state: JobState;
  readonly version: number;
  readonly threads: readonly ThreadRef[];
  readonly posts: readonly PostRef[];
};

/** Jobs kept in memory at once; more are read again when they are needed. */
const MOST = 300;
/** Plans kept ready: most jobs of a workshop go by the same few texts, and reading one costs more than checking a job. */
const MOST_PLANS = 40;

export type JobShelf = {
  readonly get: (job: string, around: Around, now: string) => Promise<ShelvedJob | undefined>;
  readonly put: (job: string, shelved: ShelvedJob) => void;
  readonly drop: (job: string) => void;
};

export const openedOf = (events: readonly JobEvent[]): JobOpened | undefined =>
  events.find((event): event is JobOpened => event.kind === 'job-opened');

/** The plan text a job goes by: the one it was opened with, or the last it was moved to. */
export const planTextOf = (
  events: readonly JobEvent[],
): { readonly id: string; readonly text: string; readonly hash: string } | undefined => {
  const moved = events.findLast((event) => event.kind === 'plan-moved');
  return moved?.kind === 'plan-moved' ? moved.plan : openedOf(events)?.plan;
};

/** @param planOf loads the text of a plan; a text that was good when the job was opened stays good */
export const jobShelf = (
  store: JobStore,
  planOf: (text: string, id: string) => Plan | undefined,
): JobShelf => {
  const shelf = new Map<string, ShelvedJob>();
  const plans = new Map<string, Plan>();

  const planFor = (text: string, id: string): Plan | undefined => {
    const key = `${id}\n${text}`;
    const known = plans.get(key);
    const plan = known ?? planOf(text, id);
    if (!plan) return undefined;
    plans.delete(key);
    plans.set(key, plan);
    for (const oldest of plans.keys()) {
      if (plans.size <= MOST_PLANS) break;
      plans.delete(oldest);
    }
    return plan;
  };

  return {
    get: async (job, around, now) => {
      const known = shelf.get(job);
      // Where several processes share the store, another one may have written the job since.
      const newest = known && store.shared ? await store.shared.versionOf(job) : known?.version;
      if (known && newest === known.version) {
        shelf.delete(job);
        shelf.set(job, known);
        return known;
      }
      const stored = await store.load(job);
      if (!stored || stored.events.length === 0) return undefined;
      const events = stored.events.map(({ event }) => event);
      const planText = planTextOf(events);
      const plan = planText ? planFor(planText.text, planText.id) : undefined;
      if (!plan) return undefined;
      const made: ShelvedJob = {
        state: { events, view: checkJob(plan, events, now, around) },
        version: stored.version,
        threads: stored.threads,
        posts: stored.posts,
      };
      shelf.set(job, made);
      for (const oldest of shelf.keys()) {
        if (shelf.size <= MOST) break;
        shelf.delete(oldest);
      }
      return made;
    },
    put: (job, shelved) => {
      shelf.delete(job);
      shelf.set(job, shelved);
    },
    drop: (job) => void shelf.delete(job),
  };
};

/** The line of the index for a job as it stands. */
export const indexEntryOf = (state: JobState, threads: readonly ThreadRef[]): IndexEntry => {
  const { view } = state;
  const closed = state.events.findLast(
    (event) => event.kind === 'job-closed' || event.kind === 'job-cancelled',
  );
  return {
    job: view.job,
    vehicle: view.opened.vehicle.name,
    ...(view.opened.vehicle.vin ? { vin: view.opened.vehicle.vin } : {}),
    plan: view.plan.plan,
    status: view.status,
    ...(view.technician ? { technician: view.technician } : {}),
    openedAt: view.opened.at,
    ...(view.status !== 'open' && closed ? { closedAt: closed.at } : {}),
    threads: [...threads],
  };
};
