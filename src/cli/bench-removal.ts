// What commands take out of the bench, wherever it is kept: in the data folder, or with a database on the shelf there.
import { join } from 'node:path';
import { removePersonFromPasses } from '../chat/bench/door/passes.ts';
import { removePersonFromTries } from '../chat/bench/door/tries.ts';
import { folderPapers } from '../chat/bench/kept/folder-papers.ts';
import { removeOldTalk, removePersonFromTalk } from '../chat/bench/talk/removal.ts';
import { removeOldTalkOnShelf, removePersonFromShelf } from '../chat/bench/talk/shelf-removal.ts';
import type { JobStore } from '../store/job-store.ts';
import { removeTakenIn } from './shared-workshop.ts';

type Store = Pick<JobStore, 'shared'>;

/** Takes a person out of the talk, the passes, the counts of wrong codes, and those who were taken in. @returns lines of the talk that were changed */
export const forgetOnBench = async (
  { shared }: Store,
  folder: string,
  names: readonly string[],
): Promise<number> => {
  const bench = join(folder, 'bench');
  const papers = shared?.shelf ?? folderPapers(bench);
  await removePersonFromPasses(papers, names);
  await removePersonFromTries(papers, names);
  if (shared === undefined) return removePersonFromTalk(bench, names);
  await removeTakenIn(shared.shelf, names);
  return removePersonFromShelf(shared.shelf, names);
};

/**
 * Takes the words out of what was said before a time.
 * @param kept roots of the threads that are left alone
 * @returns lines that were changed
 */
export const removeOldFromBench = (
  { shared }: Store,
  folder: string,
  before: string,
  kept: ReadonlySet<string>,
): Promise<number> =>
  shared === undefined
    ? removeOldTalk(join(folder, 'bench'), before, kept)
    : removeOldTalkOnShelf(shared.shelf, before, kept);
