// Loads the demonstration into a workshop: its jobs are opened and its messages posted as if by their writers.
import { DateTime } from 'luxon';
import type { Delivery } from '../../shared/delivery.ts';
import { openJob } from '../desk/opening/open-job.ts';
import type { RunningFloor } from '../floor/floor.ts';
import { demoJobs } from './demo.ts';

type Parts = {
  readonly running: RunningFloor;
  /** Says something in a person's name on the bench. */
  readonly handIn: (delivery: Delivery) => Promise<void>;
};

/** The demonstration's times moved by whole days, so that its shift was the last one before now. */
const moved = (lastLine: string, now: string, zone: string): ((iso: string) => string) => {
  const days = Math.floor(DateTime.fromISO(now).diff(DateTime.fromISO(lastLine), 'days').days);
  return (iso) => DateTime.fromISO(iso, { zone }).plus({ days }).toISO() ?? iso;
};

/** Every message goes the way of a real one: kept, shown, read, checked. A job that is there already is left alone. */
export const loadDemoInto = async ({ running, handIn }: Parts): Promise<void> => {
  const { floor } = running;
  const { settings } = floor.workshop;
  const jobs = await demoJobs();
  const last = jobs
    .flatMap((job) => job.transcript.map((line) => line.at))
    .sort()
    .at(-1);
  const when = moved(last ?? floor.clock(), floor.clock(), settings.zone);
  const controller = settings.people.find((person) => person.roles.includes('controller'));
  if (!controller) return;
  for (const job of jobs) {
    const first = job.transcript[0];
    if (!first || (await floor.shelved(job.job))) continue;
    const bench = { keys: [], channel: 'bench' as const, team: 'bench', place: 'yard' };
    const opening: Delivery = {
      ...bench,
      id: `demo:${job.job}:open`,
      person: controller.name,
      at: when(first.at),
      kind: 'command',
      text: 'open the demonstration',
    };
    await floor.store.accept(opening, floor.clock());
    const technician = job.transcript.find(
      (line) => (line.role ?? 'technician') === 'technician',
    )?.by;
    await floor.newJob(job.job, opening, (moment) =>
      openJob(
        {
          job: job.job,
          vehicle: job.vehicle,
          plan: job.plan,
          positions: job.positions,
          ...(job.reading ? { reading: job.reading } : {}),
          ...(job.complaint ? { complaint: job.complaint } : {}),
          ...(technician ? { technician } : {}),
          ...(job.promised ? { promised: when(job.promised) } : {}),
        },
        { id: opening.id, by: controller.name, roles: controller.roles, at: when(first.at) },
        moment,
      ),
    );
    const thread = await threadOf(running, job.job);
    if (thread === undefined) continue;
    for (const line of job.transcript) {
      const base = {
        ...bench,
        id: `bench:demo-${line.id}`,
        thread,
        person: line.by,
        at: when(line.at),
      };
      if (line.deletes !== undefined)
        await handIn({ ...base, kind: 'delete', message: `demo-${line.deletes}` });
      else if (line.edits !== undefined)
        await handIn({
          ...base,
          kind: 'edit',
          message: `demo-${line.edits}`,
          text: line.text ?? '',
        });
      else
        await handIn({
          ...base,
          kind: 'message',
          message: `demo-${line.id}`,
          text: line.text ?? '',
        });
      await running.idle();
    }
  }
};

/** Waits, in a bounded number of looks, until the job's sheet is posted and its thread known. */
const threadOf = async (running: RunningFloor, job: string): Promise<string | undefined> => {
  for (let looks = 0; looks < 400; looks += 1) {
    const found = await running.floor.shelved(job);
    const thread = found?.threads.find((each) => each.channel === 'bench')?.thread;
    if (thread !== undefined) return thread;
    await new Promise((done) => setTimeout(done, 25));
  }
  return undefined;
};
