// Who is told of troubles, and how often; and the troubles that are found in more than one place.
import { StoreTrouble } from './store-trouble.ts';

export type Teller = {
  readonly tell: (trouble: StoreTrouble) => void;
  /** Does the work and tells of the trouble it throws; `wrote`: where it goes well, the disk is in order again. */
  readonly telling: <T>(work: () => Promise<T>, wrote: boolean) => Promise<T>;
};

/** A full disk fails every message; it is told once, and again only after something worked. */
export function teller(onTrouble: (trouble: StoreTrouble) => void): Teller {
  const told = new Set<string>();
  const tell = (trouble: StoreTrouble): void => {
    const key = `${trouble.kind} ${trouble.where}`;
    if (told.has(key)) return;
    // The clock goes back once at a time, and each time is worth telling.
    if (trouble.kind !== 'clock-back') told.add(key);
    onTrouble(trouble);
  };
  return {
    tell,
    telling: async (work, wrote) => {
      try {
        const result = await work();
        if (wrote) told.clear();
        return result;
      } catch (error) {
        if (error instanceof StoreTrouble && error.kind !== 'closed') tell(error);
        throw error;
      }
    },
  };
}

export const jobMissing = (job: string, path: string): StoreTrouble =>
  new StoreTrouble(
    'missing',
    `The file of job ${job} is not there; if it was damaged it is in set-aside:`,
    path,
    'Stop the program, put the file back from a backup and start again, or go on under another job number.',
  );

export const inboxMissing = (path: string): StoreTrouble =>
  new StoreTrouble(
    'missing',
    'The file of messages waiting to be read was gone and was begun anew:',
    path,
    'Look whether messages of the last minutes before the stop are missing from their jobs, and post those again.',
  );
