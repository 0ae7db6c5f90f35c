// Loads the demonstration into a workshop: its jobs are opened and its messages posted as if by their writers, each at
// its own time of the last shift, so that what is answered, asked and forgotten stands at its own time too.
import { DateTime } from 'luxon';
import type { Delivery } from '../../shared/delivery.ts';
import { openJob } from '../desk/opening/open-job.ts';
import { tick } from '../desk/turn/tick.ts';
import type { RunningFloor } from '../floor/floor.ts';
import { type DemoJob, demoJobs } from './demo.ts';

type Parts = {
  readonly running: RunningFloor;
  /** Says something in a person's name on the bench. */
  readonly handIn: (delivery: Delivery) => Promise<void>;
  /** Sets the clock of the workshop to a time of the demonstration; undefined gives it back the real one. */
  readonly clockAt: (iso: string | undefined) => void;
};

type Moment = {
  readonly at: string;
  readonly job: string;
  readonly happens: () => Promise<void>;
};

/** The demonstration's times moved by whole days, so that its shift was the last one before now. */
const moved = (lastLine: string, now: string, zone: string): ((iso: string) => string) => {
  const days = Math.floor(DateTime.fromISO(now).diff(DateTime.fromISO(lastLine), 'days').days);
  return (iso) => DateTime.fromISO(iso, { zone }).plus({ days }).toISO() ?? iso;
};

/** Seconds after a line at which the jobs are looked at: longer than a skipped step is held back. */
const LOOK_SECONDS = 25;
const LOOK_AGAIN_MINUTES = 15;
/** So long after the last line, open questions have lapsed. */
const SETTLED_MINUTES = 70;

const BENCH = { keys: [], channel: 'bench' as const, team: 'bench', place: 'yard' };

/**
 * Every message goes the way of a real one: kept, shown, read, checked. A job that is there already is left alone.
 * Nothing else should be going on in the workshop meanwhile: its clock is that of the demonstration.
 */
export const loadDemoInto = async (parts: Parts): Promise<void> => {
  const { floor } = parts.running;
  const now = floor.clock();
  const jobs: DemoJob[] = [];
  for (const job of await demoJobs()) if (!(await floor.shelved(job.job))) jobs.push(job);
  const lines = jobs.flatMap(({ transcript }) => transcript.map((line) => line.at)).sort();
  const last = lines.at(-1);
  if (last === undefined) return;
  const when = moved(last, now, floor.workshop.settings.zone);
  const moments = jobs
    .flatMap((job) => momentsOf(parts, job, when))
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  const opened = jobs.map(({ job }) => job);
  try {
    let at = Date.parse(moments[0]?.at ?? now);
    let lately: readonly string[] = [];
    for (const moment of moments) {
      await pass(parts, { lately, all: opened }, at, Date.parse(moment.at));
      at = Date.parse(moment.at);
      lately = [moment.job];
      await moment.happens();
      await calm(parts.running);
    }
    const end = Math.min(Date.parse(now), at + SETTLED_MINUTES * 60_000);
    await pass(parts, { lately, all: opened }, at, end);
  } finally {
    parts.clockAt(undefined);
  }
};

const momentsOf = (
  parts: Parts,
  job: DemoJob,
  when: (iso: string) => string,
): readonly Moment[] => {
  const first = job.transcript[0];
  if (first === undefined) return [];
  return [
    { at: when(first.at), job: job.job, happens: () => openDemoJob(parts, job, when) },
    ...job.transcript.map((line) => ({
      at: when(line.at),
      job: job.job,
      happens: async () => {
        const thread = await threadOf(parts.running, job.job);
        if (thread === undefined) return;
        const base = {
          ...BENCH,
          id: `bench:demo-${line.id}`,
          thread,
          person: line.by,
          at: when(line.at),
        };
        const { text = '', deletes, edits } = line;
        if (deletes !== undefined)
          await parts.handIn({ ...base, kind: 'delete', message: `demo-${deletes}` });
        else if (edits !== undefined)
          await parts.handIn({ ...base, kind: 'edit', message: `demo-${edits}`, text });
        else await parts.handIn({ ...base, kind: 'message', message: `demo-${line.id}`, text });
      },
    })),
  ];
};

const openDemoJob = async (
  { running: { floor } }: Parts,
  job: DemoJob,
  when: (iso: string) => string,
): Promise<void> => {
  const controller = floor.workshop.settings.people.find(({ roles }) =>
    roles.includes('controller'),
  );
  const at = floor.clock();
  if (!controller) return;
  const opening: Delivery = {
    ...BENCH,
    id: `demo:${job.job}:open`,
    person: controller.name,
    at,
    kind: 'command',
    text: 'open the demonstration',
  };
  await floor.store.accept(opening, at);
  const technician = job.transcript.find(
    (line) => (line.role ?? 'technician') === 'technician',
  )?.by;
  const asked = {
    job: job.job,
    vehicle: job.vehicle,
    plan: job.plan,
    positions: job.positions,
    ...(job.reading ? { reading: job.reading } : {}),
    ...(job.complaint ? { complaint: job.complaint } : {}),
    ...(technician ? { technician } : {}),
    ...(job.promised ? { promised: when(job.promised) } : {}),
  };
  const by = { id: opening.id, by: controller.name, roles: controller.roles, at };
  await floor.newJob(job.job, opening, (moment) => openJob(asked, by, moment));
};

/**
 * Lets the clock of the workshop run from one time to another, in milliseconds since 1970. The job of the last line is
 * looked at soon after it, every job now and then.
 */
const pass = async (
  { running, clockAt }: Parts,
  jobs: { readonly lately: readonly string[]; readonly all: readonly string[] },
  from: number,
  until: number,
): Promise<void> => {
  const iso = (ms: number): string => new Date(ms).toISOString();
  const look = async (at: number, which: readonly string[]): Promise<void> => {
    if (at >= until) return;
    clockAt(iso(at));
    for (const job of which)
      await running.floor.onJob(job, undefined, (known, moment) => tick(known.state, moment));
    await calm(running);
  };
  await look(from + LOOK_SECONDS * 1000, jobs.lately);
  const often = LOOK_AGAIN_MINUTES * 60_000;
  for (let at = from + often; at < until; at += often) await look(at, jobs.all);
  clockAt(iso(until));
};

/** Waits until everything is worked off and posted, in a bounded number of looks. */
const calm = async (running: RunningFloor): Promise<void> => {
  for (let looks = 0; looks < 400; looks += 1) {
    await running.idle();
    if (running.backlog() === 0) return;
    await new Promise((done) => setTimeout(done, 5));
  }
};

/** The thread of a job, once its sheet is posted. */
const threadOf = async (running: RunningFloor, job: string): Promise<string | undefined> =>
  (await running.floor.shelved(job))?.threads.find(({ channel }) => channel === 'bench')?.thread;
