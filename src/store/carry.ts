// Carrying everything that is stored from one store to another: jobs with their chains, posts still to be made,
// deliveries still waiting, marks, kept files, and what is known of deliveries against doubles.
import { verifyChain } from './chain.ts';
import type { JobData } from './job-form.ts';
import type { Waiting } from './job-store.ts';
import { StoreTrouble } from './store-trouble.ts';

export type KeptFile = { readonly job: string; readonly name: string; readonly bytes: Uint8Array };

/** What a store gives and takes when it is carried over. */
export type Carry = {
  readonly where: string;
  readonly jobs: () => Promise<readonly string[]>;
  readonly job: (job: string) => Promise<JobData | undefined>;
  /** Takes a job that is not there yet, with its events as they are. */
  readonly takeJob: (data: JobData) => Promise<void>;
  readonly marks: () => Promise<readonly (readonly [name: string, value: string])[]>;
  readonly takeMark: (name: string, value: string) => Promise<void>;
  readonly waiting: () => Promise<readonly Waiting[]>;
  readonly takeWaiting: (waiting: Waiting) => Promise<void>;
  /** Fingerprints of the ids and keys of deliveries that were seen. */
  readonly seen: () => Promise<readonly string[]>;
  readonly takeSeen: (fingerprints: readonly string[]) => Promise<void>;
  readonly files: (job: string) => AsyncIterable<KeptFile>;
  readonly takeFile: (file: KeptFile) => Promise<void>;
};

export type Carried = {
  readonly jobs: number;
  readonly events: number;
  readonly waiting: number;
  readonly files: number;
};

/**
 * Carries all of it over, and follows each chain in the place it was carried to.
 * @throws StoreTrouble where the place is not empty, a job cannot be read, or a chain ends otherwise than before.
 */
export async function carryOver(from: Carry, to: Carry): Promise<Carried> {
  if ((await to.jobs()).length > 0 || (await to.waiting()).length > 0)
    throw new StoreTrouble(
      'not-fitting',
      'There are jobs already where these are to go:',
      to.where,
      'Carry them to an empty place, so that nothing is mixed.',
    );
  let events = 0;
  let files = 0;
  const jobs = await from.jobs();
  for (const job of jobs) {
    const data = await from.job(job);
    if (data === undefined)
      throw new StoreTrouble(
        'missing',
        `Job ${job} is known and not there:`,
        from.where,
        'Put it back from a backup first; nothing of the other place is used meanwhile.',
      );
    await to.takeJob(data);
    for await (const file of from.files(job)) {
      await to.takeFile(file);
      files += 1;
    }
    events += data.events.length;
    await sameChain(data, await to.job(job), to.where);
  }
  for (const [name, value] of await from.marks()) await to.takeMark(name, value);
  const waiting = await from.waiting();
  for (const each of waiting) await to.takeWaiting(each);
  await to.takeSeen(await from.seen());
  return { jobs: jobs.length, events, waiting: waiting.length, files };
}

async function sameChain(
  before: JobData,
  after: JobData | undefined,
  where: string,
): Promise<void> {
  const was = verifyChain(before.events);
  const is = after === undefined ? undefined : verifyChain(after.events);
  const ends = (check: typeof is): string =>
    check === undefined ? 'nothing' : check.good ? (check.end ?? '') : `broken at ${check.at}`;
  if (ends(was) === ends(is) && before.events.length === after?.events.length) return;
  throw new StoreTrouble(
    'damaged',
    `Job ${before.job} did not arrive as it was (${ends(was)}, now ${ends(is)}):`,
    where,
    'Do not use that place; the first one is as it was.',
  );
}
