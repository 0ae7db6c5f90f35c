// Deliveries kept before they are acknowledged, the keys against doubles, and which jobs have to be looked at after a
// start. One append-only file, so that keeping a delivery costs one small synced write.
import { createHash } from 'node:crypto';
import { z } from 'zod';
import { Delivery } from '../../shared/delivery.ts';
import type { FileSeam } from './file-seam.ts';
import type { Waiting } from './job-store.ts';
import { type Journal, openJournal, readJournal } from './journal.ts';
import type { OpenedLines } from './sealed-line.ts';
import { StoreTrouble } from './store-trouble.ts';

/**
 * So many ids and keys are remembered at the least, the newest ones. At three for a delivery and 500 deliveries a day
 * that is 40 days; the platforms deliver again within hours.
 */
export const REMEMBERED_KEYS = 60_000;
/** After so many lines the file is written anew without what is settled. */
const LINES_BEFORE_REWRITE = 10_000;
/** A clock that goes back further than this is reported; small steps are usual when it is set by the network. */
const CLOCK_SLACK_MS = 60_000;

const Line = z.discriminatedUnion('k', [
  z.strictObject({ k: z.literal('format'), format: z.literal(1) }),
  z.strictObject({ k: z.literal('seen'), keys: z.array(z.string()) }),
  z.strictObject({ k: z.literal('accepted'), at: z.string(), delivery: Delivery }),
  z.strictObject({ k: z.literal('settled'), id: z.string() }),
  z.strictObject({ k: z.literal('awake'), job: z.string() }),
  z.strictObject({ k: z.literal('asleep'), job: z.string() }),
]);
type Line = z.infer<typeof Line>;

/** 96 bits of a delivery's id or key: enough against chance, and short enough to keep many. */
export const fingerprint = (key: string): string =>
  createHash('sha256').update(key).digest('base64url').slice(0, 16);

export type Inbox = {
  readonly accept: (delivery: Delivery, acceptedAt: string) => Promise<'new' | 'seen'>;
  readonly waiting: () => readonly Waiting[];
  readonly settle: (id: string) => Promise<void>;
  /** The delivery is settled in a job's file already; noted here without waiting for the disk. */
  readonly settledInJob: (id: string) => void;
  /** Takes in fingerprints of deliveries that jobs have settled, where the file that knew them is gone. */
  readonly remember: (fingerprints: Iterable<string>) => void;
  /** Resolves once the disk knows that this job has to be looked at after a start. */
  readonly wake: (job: string) => Promise<void>;
  readonly awake: () => ReadonlySet<string>;
  /** The job's file, the index and the settled lines say all there is to say; noted without waiting. */
  readonly sleep: (job: string) => void;
  /** Drops what is settled from the disk. */
  readonly rewrite: () => Promise<void>;
  readonly close: () => Promise<void>;
};

export type InboxFound = {
  readonly inbox: Inbox;
  readonly absent: boolean;
  readonly damaged: OpenedLines['damaged'];
};

type Memory = {
  readonly seen: Set<string>;
  readonly unsettled: Map<string, Waiting>;
  readonly awake: Set<string>;
};

function readLines(values: readonly unknown[], path: string): Memory {
  const memory: Memory = { seen: new Set(), unsettled: new Map(), awake: new Set() };
  for (const value of values) {
    const parsed = Line.safeParse(value);
    if (!parsed.success) throw newerFormat(path);
    take(memory, parsed.data);
  }
  return memory;
}

const newerFormat = (path: string): StoreTrouble =>
  new StoreTrouble(
    'newer-format',
    'This file holds lines that this version does not know:',
    path,
    'It was written by a newer version of the program; start that one.',
  );

function take(memory: Memory, line: Line): void {
  switch (line.k) {
    case 'format':
      return;
    case 'seen':
      for (const key of line.keys) memory.seen.add(key);
      return;
    case 'accepted':
      for (const key of keysOf(line.delivery)) memory.seen.add(key);
      memory.unsettled.set(line.delivery.id, { delivery: line.delivery, acceptedAt: line.at });
      return;
    case 'settled':
      memory.unsettled.delete(line.id);
      return;
    case 'awake':
      memory.awake.add(line.job);
      return;
    case 'asleep':
      memory.awake.delete(line.job);
      return;
  }
}

const keysOf = (delivery: Delivery): readonly string[] =>
  [delivery.id, ...delivery.keys].map(fingerprint);

function* snapshotOf(memory: Memory): Generator<Line> {
  yield { k: 'format', format: 1 };
  const keys = [...memory.seen];
  const kept = keys.slice(-REMEMBERED_KEYS);
  for (const key of keys.slice(0, keys.length - kept.length)) memory.seen.delete(key);
  for (let i = 0; i < kept.length; i += 1000) yield { k: 'seen', keys: kept.slice(i, i + 1000) };
  for (const job of memory.awake) yield { k: 'awake', job };
  for (const { delivery, acceptedAt } of memory.unsettled.values()) {
    yield { k: 'accepted', at: acceptedAt, delivery };
  }
}

/**
 * Opens the inbox file, or begins one.
 * @throws StoreTrouble where the disk refuses or a newer version wrote it.
 */
export async function openInbox(
  files: FileSeam,
  path: string,
  onTrouble: (trouble: StoreTrouble) => void,
): Promise<InboxFound> {
  const read = await readJournal(files, path);
  const lines = read === 'absent' ? undefined : read;
  const memory = readLines(lines?.values ?? [], path);
  const damaged = lines?.damaged ?? [];
  const journal = openJournal(
    files,
    path,
    () => snapshotOf(memory),
    lines === undefined || damaged.length > 0
      ? undefined
      : { length: lines.good, lines: lines.values.length },
  );
  await journal.sync();
  return { inbox: inboxOver(journal, memory, path, onTrouble), absent: read === 'absent', damaged };
}

function inboxOver(
  journal: Journal,
  memory: Memory,
  path: string,
  onTrouble: (trouble: StoreTrouble) => void,
): Inbox {
  const pending = new Map<string, Promise<void>>();
  const waking = new Map<string, Promise<void>>();
  let newest = Math.max(0, ...[...memory.unsettled.values()].map((w) => Date.parse(w.acceptedAt)));
  let toldOfClock = false;
  let rewriting = false;

  const note = (line: Line): void => {
    // What a note says can be found out again at the next start, so a failure is told and not waited for.
    journal.note(line).catch((error: unknown) => {
      if (error instanceof StoreTrouble) onTrouble(error);
    });
  };

  const watchClock = (acceptedAt: string): void => {
    const at = Date.parse(acceptedAt);
    if (at >= newest) {
      newest = at;
      toldOfClock = false;
    } else if (at < newest - CLOCK_SLACK_MS && !toldOfClock) {
      toldOfClock = true;
      const seconds = Math.round((newest - at) / 1000);
      onTrouble(
        new StoreTrouble(
          'clock-back',
          `The clock of this machine went back by ${seconds} s, to ${acceptedAt}:`,
          path,
          'Set the clock. Messages stay in the order in which they arrived; times given from now on are as the clock says.',
        ),
      );
    }
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
      .add({ k: 'accepted', at: acceptedAt, delivery: fits.data } satisfies Line)
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
      .add({ k: 'awake', job } satisfies Line)
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
      await journal.add({ k: 'settled', id } satisfies Line);
      memory.unsettled.delete(id);
    },
    settledInJob: (id) => {
      if (memory.unsettled.delete(id)) note({ k: 'settled', id });
    },
    remember: (fingerprints) => {
      for (const key of fingerprints) memory.seen.add(key);
    },
    wake,
    awake: () => memory.awake,
    sleep: (job) => {
      if (memory.awake.delete(job)) note({ k: 'asleep', job });
    },
    rewrite: journal.rewrite,
    close: journal.close,
  };
}
