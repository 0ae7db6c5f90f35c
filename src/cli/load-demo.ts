// Loads the demonstration into an empty workshop: its jobs are opened and its messages posted as if by their writers.

import { openJob } from '../desk/opening/open-job.ts';
import type { RunningFloor } from '../floor/floor.ts';
import { demoJobs } from './demo.ts';

/** Every message goes the way of a real one: accepted, kept, read, checked. */
export const loadDemoInto = async ({
  running,
}: {
  readonly running: RunningFloor;
}): Promise<void> => {
  const { floor, intake } = running;
  const open = new Set((await floor.openJobs()).map((entry) => entry.job));
  for (const job of await demoJobs()) {
    if (open.has(job.job)) continue;
    const first = job.transcript[0];
    const controller = floor.workshop.settings.people.find((person) =>
      person.roles.includes('controller'),
    );
    if (!first || !controller) continue;
    const delivery = {
      id: `demo:${job.job}:open`,
      keys: [],
      channel: 'bench' as const,
      team: 'bench',
      place: 'yard',
      person: controller.name,
      at: first.at,
      kind: 'command' as const,
      text: '',
    };
    const technician = job.transcript.find(
      (line) => (line.role ?? 'technician') === 'technician',
    )?.by;
    await floor.store.accept({ ...delivery }, floor.clock());
    await floor.newJob(job.job, delivery, (moment) =>
      openJob(
        {
          job: job.job,
          vehicle: job.vehicle,
          plan: job.plan,
          positions: job.positions,
          ...(job.reading ? { reading: job.reading } : {}),
          ...(job.complaint ? { complaint: job.complaint } : {}),
          ...(technician ? { technician } : {}),
          ...(job.promised ? { promised: job.promised } : {}),
        },
        { id: delivery.id, by: controller.name, roles: controller.roles, at: first.at },
        moment,
      ),
    );
    const thread = await threadOf(running, job.job);
    if (thread === undefined) continue;
    for (const line of job.transcript) {
      const base = {
        id: `demo:${line.id}`,
        keys: [],
        channel: 'bench' as const,
        team: 'bench',
        place: 'yard',
        thread,
        person: line.by,
        at: line.at,
      };
      if (line.deletes !== undefined)
        await intake.accept({ ...base, kind: 'delete', message: `demo-${line.deletes}` });
      else if (line.edits !== undefined)
        await intake.accept({
          ...base,
          kind: 'edit',
          message: `demo-${line.edits}`,
          text: line.text ?? '',
        });
      else
        await intake.accept({
          ...base,
          kind: 'message',
          message: `demo-${line.id}`,
          text: line.text ?? '',
        });
    }
  }
  await running.idle();
};

/** Waits, in a bounded number of looks, until the job's sheet is posted and its thread known. */
const threadOf = async (running: RunningFloor, job: string): Promise<string | undefined> => {
  for (let looks = 0; looks < 200; looks += 1) {
    const found = await running.floor.shelved(job);
    const thread = found?.threads.find((each) => each.channel === 'bench')?.thread;
    if (thread !== undefined) return thread;
    await new Promise((done) => setTimeout(done, 25));
  }
  return undefined;
};
