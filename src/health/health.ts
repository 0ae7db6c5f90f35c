// How the program is: since when it runs, what waits, when something last came in and went out, room on the disk.
// Counts and times only, nothing of a job or a person.
import { statfs } from 'node:fs/promises';
import type { Step } from '../floor/trail.ts';
import { VERSION } from './version.ts';

export type ChannelHealth = {
  readonly channel: string;
  /** Posts that wait to go out. */
  readonly waiting: number;
  /** Seconds for which the oldest of them has waited; 0 where none waits. */
  readonly oldestSeconds: number;
  /** ISO; undefined where nothing came in, or went out, since the start. */
  readonly lastDelivery?: string;
  readonly lastPost?: string;
  /** What the platform last did instead of taking a post; gone once one goes out. */
  readonly holdsUp?: 'wait' | 'unclear' | 'refused';
};

export type Health = {
  readonly state: 'well' | 'look';
  /** What to look at, a sentence each, with what to do. */
  readonly look: readonly string[];
  readonly version: string;
  readonly node: string;
  readonly since: string;
  readonly uptimeSeconds: number;
  readonly channels: readonly ChannelHealth[];
  /** Deliveries kept and not worked off. */
  readonly inbox: number;
  readonly jobs: { readonly open: number; readonly over: number };
  readonly disk?: { readonly freeBytes: number; readonly ofBytes: number };
  readonly memoryBytes: number;
};

/** What the health is made from; the floor and the store fit it. */
export type HealthSources = {
  readonly clock: () => string;
  readonly folder: string;
  readonly backlogs: () => readonly {
    readonly channel: string;
    readonly posts: number;
    readonly since: string;
  }[];
  readonly inbox: () => Promise<number>;
  readonly jobs: () => Promise<readonly { readonly status: string }[]>;
};

export type HealthWatch = {
  readonly count: (step: Step) => void;
  readonly trouble: (kind: string) => void;
  readonly now: (sources: HealthSources) => Promise<Health>;
};

/** Below this free room somebody should look, in bytes. */
const LITTLE_ROOM = 200 * 1024 * 1024;
/** A post that has waited longer is an outage to look at, in seconds. */
const LONG_WAIT = 300;
/** Troubles of the disk are shown for so long after they were last met, in milliseconds. */
const TROUBLE_SHOWN = 15 * 60_000;

const TROUBLES: Readonly<Record<string, string>> = {
  'disk-full': 'The disk was full. Make room on it.',
  'read-only': 'The data folder could not be written. Let this account write there.',
  'folder-gone': 'The data folder was gone. Put it back or mount its disk again.',
  disk: 'The disk refused a file. Look into the log and the system log.',
  damaged:
    'A stored file was damaged. "npx chargehand verify" names it; put it back from a backup.',
  missing: 'A stored file is missing. "npx chargehand verify" names it; put it back from a backup.',
  'newer-format': 'A stored file is of a newer version. Use that version of the program.',
  'clock-back': "This machine's clock went back. Set it, and keep it by a time service.",
};

const room = async (folder: string): Promise<Health['disk']> => {
  try {
    const { bavail, blocks, bsize } = await statfs(folder);
    return { freeBytes: bavail * bsize, ofBytes: blocks * bsize };
  } catch {
    return undefined;
  }
};

/** @param clock ISO time now, for the start */
export const healthWatch = (clock: () => string): HealthWatch => {
  const since = clock();
  const lastDelivery = new Map<string, string>();
  const lastPost = new Map<string, string>();
  const holdsUp = new Map<string, 'wait' | 'unclear' | 'refused'>();
  const troubles = new Map<string, number>();
  let notWorkedOff = 0;
  return {
    count: (step) => {
      if (step.step === 'accepted') {
        if (step.kept !== 'not-kept') lastDelivery.set(step.channel, clock());
      } else if (step.step === 'posted') {
        lastPost.set(step.channel, clock());
        holdsUp.delete(step.channel);
      } else if (step.step === 'put-off') holdsUp.set(step.channel, step.why);
      else if (step.step === 'worked-off' && !step.well) notWorkedOff += 1;
    },
    trouble: (kind) => void troubles.set(kind, Date.parse(clock())),
    now: async (sources) => {
      const nowMs = Date.parse(sources.clock());
      const disk = await room(sources.folder);
      const jobs = await sources.jobs();
      const open = jobs.filter(({ status }) => status === 'open').length;
      const channels = sources.backlogs().map(({ channel, posts, since: from }): ChannelHealth => {
        const delivery = lastDelivery.get(channel);
        const post = lastPost.get(channel);
        const held = posts > 0 ? holdsUp.get(channel) : undefined;
        return {
          channel,
          waiting: posts,
          oldestSeconds: posts > 0 ? Math.max(0, Math.round((nowMs - Date.parse(from)) / 1000)) : 0,
          ...(delivery === undefined ? {} : { lastDelivery: delivery }),
          ...(post === undefined ? {} : { lastPost: post }),
          ...(held === undefined ? {} : { holdsUp: held }),
        };
      });
      const look = [
        ...[...troubles]
          .filter(([, at]) => nowMs - at < TROUBLE_SHOWN)
          .map(([kind]) => TROUBLES[kind] ?? 'The store met a trouble. Look into the log.'),
        ...channels
          .filter(({ oldestSeconds }) => oldestSeconds > LONG_WAIT)
          .map(
            ({ channel, waiting }) =>
              `${waiting} ${waiting === 1 ? 'post waits' : 'posts wait'} for ${channel}. Nothing is lost; look whether the platform can be reached from here.`,
          ),
        ...(disk !== undefined && disk.freeBytes < LITTLE_ROOM
          ? ['Less than 200 MB are free on the disk of the data folder. Make room.']
          : []),
        ...(disk === undefined
          ? ['The data folder cannot be looked at. Put it back or mount its disk.']
          : []),
        ...(notWorkedOff > 0
          ? [
              `${notWorkedOff} ${notWorkedOff === 1 ? 'delivery was' : 'deliveries were'} kept but could not be worked off. Look into the log, mend the cause and start again.`,
            ]
          : []),
      ];
      return {
        state: look.length === 0 ? 'well' : 'look',
        look,
        version: VERSION,
        node: process.version,
        since,
        uptimeSeconds: Math.max(0, Math.round((nowMs - Date.parse(since)) / 1000)),
        channels,
        inbox: await sources.inbox(),
        jobs: { open, over: jobs.length - open },
        ...(disk === undefined ? {} : { disk }),
        memoryBytes: process.memoryUsage.rss(),
      };
    },
  };
};
