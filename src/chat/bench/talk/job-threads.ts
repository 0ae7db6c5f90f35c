// Which thread on the bench is a job's: told by the store where it can, else seen from the posts themselves.
import type { Card } from '../../../desk/card.ts';
import type { Conversation } from './conversation.ts';
import type { Entry } from './entry.ts';

/** The jobs a card speaks of: in what its buttons mean, else in its title or its text's first words. */
function jobsOf(card: Card): ReadonlySet<string> {
  const jobs = new Set<string>();
  for (const { intent } of card.actions ?? []) {
    if ('job' in intent && intent.job !== undefined) jobs.add(intent.job);
  }
  for (const text of [card.title ?? '', card.text.slice(0, 200)]) {
    for (const [, job] of text.matchAll(/\bjob\s+([\p{L}\p{N}][\p{L}\p{N}/_-]*)/giu)) {
      if (job !== undefined) jobs.add(job);
    }
  }
  return jobs;
}

export type JobThreads = {
  readonly threadOf: (job: string) => Promise<string | undefined>;
  /** The job whose thread hangs from this entry of the yard. */
  readonly jobOfRoot: (entry: string) => string | undefined;
};

export function openJobThreads(
  conversation: Conversation,
  told?: (job: string) => Promise<string | undefined>,
): JobThreads {
  const rootsOf = new Map<string, string[]>();
  const jobAt = new Map<string, string>();
  const see = (entry: Entry) => {
    if (entry.thread !== null || entry.card === undefined || entry.only !== undefined) return;
    for (const job of jobsOf(entry.card)) {
      const roots = rootsOf.get(job) ?? [];
      if (!roots.includes(entry.id)) roots.push(entry.id);
      rootsOf.set(job, roots);
    }
  };
  for (const entry of conversation.yard.entries()) see(entry);
  conversation.onEntry(({ entry }) => entry && see(entry));

  const threadOf = async (job: string): Promise<string | undefined> => {
    const known = await told?.(job);
    const roots = rootsOf.get(job) ?? [];
    const root =
      known !== undefined && conversation.yard.entry(known) !== undefined
        ? known
        : // The first post about a job is the one its thread hangs from, unless a later one has a thread already.
          (roots.find((id) => conversation.hasThread(id)) ?? roots[0]);
    if (root !== undefined) jobAt.set(root, job);
    return root;
  };

  return {
    threadOf,
    jobOfRoot: (id) => {
      if (!conversation.hasThread(id)) return undefined;
      const known = jobAt.get(id);
      if (known !== undefined) return known;
      const entry = conversation.yard.entry(id);
      const [job] = entry?.card === undefined ? [] : jobsOf(entry.card);
      return job;
    },
  };
}
