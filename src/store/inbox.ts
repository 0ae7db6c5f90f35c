// Deliveries kept before they are acknowledged, the keys against doubles, and which jobs have to be looked at after a
// start. One append-only file, so that keeping a delivery costs one small synced write.
import { Delivery } from '../../shared/delivery.ts';
import { clockWatch } from './clock-watch.ts';
import type { FileSeam } from './file-seam.ts';
import { type InboxLine, type InboxMemory, keysOf, readLines, snapshotOf } from './inbox-lines.ts';
import type { Waiting } from './job-store.ts';
import { type Journal, openJournal, readJournal } from './journal.ts';
import type { OpenedLines } from './sealed-line.ts';
import { StoreTrouble } from './store-trouble.ts';

/** After so many lines the file is written anew without what is settled. */
const LINES_BEFORE_REWRITE = 10_000;
export type Inbox = {
  readonly accept: (delivery: Delivery, acceptedAt: string) => Promise<'new' | 'seen'>;
  readonly waiting: () => readonly Waiting[];
  readonly settle: (id: string) => Promise<void>;
  /** The delivery is settled in a job's file already; noted here without waiting for the disk. */
  readonly settledInJob: (id: string) => void;
  /** Takes in fingerprints of deliveries that jobs have settled, where the file that knew them is gone. */
  readonly remember: (fingerprints: Iterable<string>) => void;
  /** Fingerprints of all ids and keys that are remembered. */
  readonly seen: () => Iterable<string>;
  /** Resolves once the disk knows that this job has to be looked at after a start. */
  readonly wake: (job: string) => Promise<void>;
  readonly awake: () => ReadonlySet<string>;
  /** The job's file, the index and the settled lines say all there is to say; noted without waiting. */
  readonly sleep: (job: string) => void;
  /** Drops what is settled from the disk. */
  readonly rewrite: () => Promise<void>;
  readonly close: () => Promise<void>;
};

/**
 * Opens the inbox file, or begins one.
 * @param incomplete called with the damaged lines before the file is written anew without them, and with none where
 * it was not there.
 * @throws StoreTrouble where the disk refuses or a newer version wrote it.
 */
export async function openInbox(
  files: FileSeam,
  path: string,
  onTrouble: (trouble: StoreTrouble) => void,
  incomplete: (damaged: OpenedLines['damaged']) => Promise<void>,
): Promise<{ readonly inbox: Inbox; readonly absent: boolean }> {
  const lines = await readJournal(files, path);
  const absent = lines === 'absent';
  const memory = readLines(absent ? [] : lines.values, path);
  const whole = !absent && lines.damaged.length === 0;
  if (!whole) await incomplete(absent ? [] : lines.damaged);
  const journal = openJournal(
    files,
    path,
    () => snapshotOf(memory),
    whole ? { length: lines.good, lines: lines.values.length } : undefined,
  );
  await journal.sync();
  return { inbox: inboxOver(journal, memory, path, onTrouble), absent };
}

function inboxOver(
  journal: Journal,
  memory: InboxMemory,
  path: string,
  onTrouble: (trouble: StoreTrouble) => void,
): Inbox {
  const pending = new Map<string, Promise<void>>();
  const waking = new Map<string, Promise<void>>();
  const watchClock = clockWatch(
    path,
    onTrouble,
    Math.max(0, ...[...memory.unsettled.values()].map((w) => Date.parse(w.acceptedAt))),
  );
  let rewriting = false;

  const note = (line: InboxLine): void => {
    // What a note says can be found out again at the next start, so a failure is told and not waited for.
    journal.note(line).catch((error: unknown) => {
      if (error instanceof StoreTrouble) onTrouble(error);
    });
  };

  const rewriteWhenLong = (): void => {
    if (rewriting || journal.lines() < LINES_BEFORE_REWRITE) return;
    if (journal.lines() < 2 * (memory.unsettled.size + memory.awake.size)) return;
    rewriting = true;
    journal
      .rewrite()
      .catch((error: unknown) => {
        if (error instanceof StoreTrouble) onTrouble(error);
      })
      .finally(() => {
        rewriting = false;
      });
  };

  const accept: Inbox['accept'] = async (delivery, acceptedAt) => {
    const fits = Delivery.safeParse(delivery);
    if (!fits.success) {
      const first = fits.error.issues[0];
      throw new StoreTrouble(
        'not-fitting',
        `A delivery does not have the form it is kept in (${first?.path.join('.')}: ${first?.message}):`,
        path,
        'The channel that translated it has to be mended; the delivery was not kept.',
      );
    }
    const keys = keysOf(delivery);
    for (;;) {
      if (keys.some((key) => memory.seen.has(key))) return 'seen';
      const other = keys.map((key) => pending.get(key)).find((p) => p !== undefined);
      if (other === undefined) break;
      // A double of one that is just being written is known only once that one is on the disk.
      await other.catch(() => undefined);
    }
    watchClock(acceptedAt);
    const written = journal
      .add({ k: 'accepted', at: acceptedAt, delivery: fits.data } satisfies InboxLine)
      .then(() => {
        for (const key of keys) memory.seen.add(key);
        memory.unsettled.set(delivery.id, { delivery: fits.data, acceptedAt });
      })
      .finally(() => {
        for (const key of keys) pending.delete(key);
      });
    for (const key of keys) pending.set(key, written);
    await written;
    rewriteWhenLong();
    return 'new';
  };

  const wake: Inbox['wake'] = (job) => {
    if (memory.awake.has(job)) return Promise.resolve();
    const already = waking.get(job);
    if (already !== undefined) return already;
    const written = journal
      .add({ k: 'awake', job } satisfies InboxLine)
      .then(() => {
        memory.awake.add(job);
      })
      .finally(() => waking.delete(job));
    waking.set(job, written);
    return written;
  };

  return {
    accept,
    waiting: () => [...memory.unsettled.values()],
    settle: async (id) => {
      if (!memory.unsettled.has(id)) return;
      await journal.add({ k: 'settled', id } satisfies InboxLine);
      memory.unsettled.delete(id);
    },
    settledInJob: (id) => {
      if (memory.unsettled.delete(id)) note({ k: 'settled', id });
    },
    remember: (fingerprints) => {
      for (const key of fingerprints) memory.seen.add(key);
    },
    seen: () => memory.seen,
    wake,
    awake: () => memory.awake,
    sleep: (job) => {
      if (memory.awake.delete(job)) note({ k: 'asleep', job });
    },
    rewrite: journal.rewrite,
    close: journal.close,
  };
}
