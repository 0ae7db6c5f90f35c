// `chargehand demo`: the demonstration shift, job by job in the order of posting, then the flags and the summary.
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parse } from 'yaml';
import { z } from 'zod';
import { TranscriptLine } from '../../shared/replay.ts';
import { summaryCard } from '../desk/answers/summary.ts';
import { type Replayed, type ReplayMoment, replay } from '../desk/replay.ts';
import { loadPlan } from '../job/load-plan.ts';
import { DATA, settingsIn } from '../main.ts';
import { flagLines, momentLines } from './show-conversation.ts';

const DemoJobs = z.object({
  jobs: z.array(
    z.object({
      job: z.string(),
      plan: z.string(),
      vehicle: z.string(),
      reading: z.object({ value: z.number(), unit: z.enum(['km', 'mi', 'h']) }).optional(),
      complaint: z.string().optional(),
      positions: z.array(z.string()),
      options: z.array(z.string()),
      promised: z.union([z.string(), z.date().transform((date) => date.toISOString())]).optional(),
      lines: z.string(),
    }),
  ),
});

export type DemoJob = z.infer<typeof DemoJobs>['jobs'][number] & {
  readonly transcript: readonly TranscriptLine[];
};

/** The demonstration's jobs with their messages. */
export const demoJobs = async (): Promise<readonly DemoJob[]> => {
  const folder = join(DATA, 'demo');
  const { jobs } = DemoJobs.parse(parse(await readFile(join(folder, 'jobs.yaml'), 'utf8')));
  return Promise.all(
    jobs.map(async (job) => ({
      ...job,
      transcript: (await readFile(join(folder, job.lines), 'utf8'))
        .split('\n')
        .filter((row) => row.trim() !== '')
        .map((row) => TranscriptLine.parse(JSON.parse(row))),
    })),
  );
};

/** Replays every job of the demonstration. */
export const replayDemo = async (): Promise<
  readonly { readonly job: DemoJob; readonly replayed: Replayed }[]
> => {
  const settings = await settingsIn(join(DATA, 'demo'));
  const made: { job: DemoJob; replayed: Replayed }[] = [];
  for (const job of await demoJobs()) {
    const file = join(DATA, 'plans', `${job.plan}.yaml`);
    const { plan } = loadPlan(await readFile(file, 'utf8'), file);
    if (!plan) throw new Error(`The plan ${file} has errors.`);
    made.push({
      job,
      replayed: replay(plan, job.transcript, {
        job: job.job,
        vehicle: job.vehicle,
        positions: job.positions,
        options: job.options,
        settings,
        ...(job.reading ? { reading: job.reading } : {}),
        ...(job.complaint ? { complaint: job.complaint } : {}),
        ...(job.promised ? { promised: job.promised } : {}),
      }),
    });
  }
  return made;
};

export const demoText = async (): Promise<string> => {
  const jobs = await replayDemo();
  const settings = await settingsIn(join(DATA, 'demo'));
  const moments = jobs
    .flatMap(({ job, replayed }) => replayed.moments.map((moment) => ({ job: job.job, moment })))
    .sort((a, b) => Date.parse(a.moment.at) - Date.parse(b.moment.at));
  const last = moments.at(-1)?.moment.at ?? '';
  const lines = [
    `${settings.workshop}: a demonstration shift with ${jobs.length} jobs. Invented depot, people and machines; every limit is a demonstration value.`,
    ...jobs.map(
      ({ job, replayed }) => `Job ${job.job}, ${job.vehicle}: ${replayed.view.plan.title}.`,
    ),
    '',
    ...moments.flatMap(({ job, moment }: { job: string; moment: ReplayMoment }) =>
      momentLines(moment, job),
    ),
    '',
    'Flags of the shift',
    ...jobs.flatMap(({ job, replayed }) => {
      const flags = flagLines(replayed.result);
      return flags.length > 0 ? [`Job ${job.job}`, ...flags] : [`Job ${job.job}: none`];
    }),
    '',
    summaryCard(
      jobs.map(({ replayed }) => replayed.view),
      { ask: 'jobs', states: [] },
      { settings, now: last, hours: true },
    ).text,
    '',
  ];
  return lines.join('\n');
};

export const run = async (): Promise<number> => {
  process.stdout.write(await demoText());
  return 0;
};
