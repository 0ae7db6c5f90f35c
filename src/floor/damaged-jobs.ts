// A job whose file cannot be read stops only itself: it is left out of lists, and the controller is told once.
import type { Card } from '../desk/card.ts';
import type { ShelvedJob } from './job-shelf.ts';

type Trouble = {
  readonly what?: string;
  readonly where?: string;
  readonly todo?: string;
  readonly message: string;
};

type Parts = {
  readonly shelved: (job: string) => Promise<ShelvedJob | undefined>;
  /** Posts a card in the common place of every channel, once for a key. */
  readonly tell: (key: string, card: Card) => Promise<void>;
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
};

/** What a store's trouble says of the file behind a job; undefined for a fault of the program. */
export const fileTrouble = (error: unknown): string | undefined => {
  const { what, where, todo } = error as Trouble;
  return what && todo ? `${what}${where ? ` ${where}` : ''}. ${todo}` : undefined;
};

/** Looks at a job; undefined where there is none, or where its file cannot be read. */
export const legibleJobs = ({
  shelved,
  tell,
  log,
}: Parts): ((job: string) => Promise<ShelvedJob | undefined>) => {
  const told = new Set<string>();
  return async (job) => {
    try {
      return await shelved(job);
    } catch (error) {
      const says = fileTrouble(error);
      if (says === undefined) throw error;
      if (!told.has(job)) {
        told.add(job);
        log('error', 'the file of a job cannot be read', { job, why: (error as Error).message });
        const text = `Job ${job} cannot be shown or recorded on: ${says} The other jobs go on.`;
        await tell(`damaged:${job}`, {
          text,
          level: 'stop',
          title: `Job ${job} cannot be read`,
          blocks: [{ kind: 'text', text }],
        });
      }
      return undefined;
    }
  };
};
