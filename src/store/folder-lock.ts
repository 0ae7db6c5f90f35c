// One process at a time on a data folder. The lock says who has it; one left by a dead process is taken over.
import { randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';
import type { FileSeam } from './file-seam.ts';
import { codeOf, diskTrouble, StoreTrouble } from './store-trouble.ts';

const Holder = z.strictObject({
  pid: z.number().int(),
  host: z.string(),
  since: z.string(),
  /** Tells this start of the machine from earlier ones, and the process from a later one with the same number. */
  boot: z.string(),
  started: z.string(),
  token: z.string(),
});
export type Holder = z.infer<typeof Holder>;

/** What the machine says about its processes; replaced in tests. */
export type Processes = {
  readonly pid: number;
  readonly host: string;
  readonly boot: string;
  readonly alive: (pid: number) => boolean;
  /** When a process started, in whatever the system counts; empty where it does not tell. */
  readonly started: (pid: number) => string;
};

function textOf(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
}

export const thisMachine: Processes = {
  pid: process.pid,
  host: hostname(),
  boot: textOf('/proc/sys/kernel/random/boot_id').trim(),
  alive: (pid) => {
    try {
      process.kill(pid, 0);
      return true;
    } catch (error) {
      // Not ours to signal, so it is there.
      return codeOf(error) === 'EPERM';
    }
  },
  // Field 22 of /proc/PID/stat, counted behind the name, which may hold spaces and brackets.
  started: (pid) => {
    const stat = textOf(`/proc/${pid}/stat`);
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19] ?? '';
  },
};

/** Locks held by this very process, also where the module is loaded twice. */
const HELD = Symbol.for('chargehand.store.locks');
function heldHere(): Set<string> {
  const place = globalThis as { [HELD]?: Set<string> };
  place[HELD] ??= new Set();
  return place[HELD];
}

function isDead(holder: Holder, machine: Processes): boolean {
  if (holder.host !== machine.host) return false;
  if (holder.boot !== machine.boot) return true;
  if (holder.pid === machine.pid && !heldHere().has(holder.token)) return true;
  if (!machine.alive(holder.pid)) return true;
  const started = machine.started(holder.pid);
  return started !== '' && holder.started !== '' && started !== holder.started;
}

async function holderOf(files: FileSeam, path: string): Promise<Holder | 'none' | 'unreadable'> {
  let text: string;
  try {
    text = Buffer.from(await files.read(path)).toString('utf8');
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return 'none';
    throw error;
  }
  try {
    return Holder.parse(JSON.parse(text));
  } catch {
    return 'unreadable';
  }
}

function refused(path: string, holder: Holder | 'unreadable'): StoreTrouble {
  if (holder === 'unreadable') {
    return new StoreTrouble(
      'locked',
      'The data folder has a lock that does not say who holds it:',
      path,
      'Make sure that no other Chargehand works on this folder, then remove that file and start again.',
    );
  }
  return new StoreTrouble(
    'locked',
    `The data folder is in use by process ${holder.pid} on ${holder.host} since ${holder.since}:`,
    path,
    `Stop that one first, or give this one a folder of its own. If ${holder.host} is no longer running, remove that file and start again.`,
  );
}

export type FolderLock = { readonly release: () => Promise<void> };

/**
 * Takes the lock of a folder.
 * @throws StoreTrouble naming the holder where another process has it.
 */
export async function lockFolder(
  files: FileSeam,
  folder: string,
  now: string,
  machine: Processes = thisMachine,
): Promise<FolderLock> {
  const path = join(folder, 'lock.json');
  const token = randomBytes(12).toString('hex');
  const mine: Holder = {
    pid: machine.pid,
    host: machine.host,
    since: now,
    boot: machine.boot,
    started: machine.started(machine.pid),
    token,
  };
  const waiting = join(folder, `.lock-${token}.tmp`);
  heldHere().add(token);
  try {
    const file = await files.open(waiting, 'new');
    try {
      await file.write(Buffer.from(`${JSON.stringify(mine)}\n`));
      await file.sync();
    } finally {
      await file.close();
    }
    await claim(files, path, waiting, machine);
  } catch (error) {
    heldHere().delete(token);
    throw diskTrouble(error, 'Locking the data folder', path);
  } finally {
    await files.remove(waiting).catch(() => undefined);
  }
  return {
    release: async () => {
      heldHere().delete(token);
      try {
        const holder = await holderOf(files, path);
        if (typeof holder === 'object' && holder.token === token) await files.remove(path);
      } catch (error) {
        throw diskTrouble(error, 'Giving the lock back', path);
      }
    },
  };
}

/**
 * A second name for the prepared file: of two that try, the system lets one have it, with its content complete.
 * A dead holder's lock may be replaced only by who has the lock for doing so, which is taken in the same way.
 */
async function claim(
  files: FileSeam,
  path: string,
  waiting: string,
  machine: Processes,
): Promise<void> {
  for (let tries = 0; tries < 5; tries++) {
    try {
      await files.link(waiting, path);
      return;
    } catch (error) {
      if (codeOf(error) !== 'EEXIST') throw error;
    }
    const holder = await holderOf(files, path);
    if (holder === 'none') continue;
    if (holder === 'unreadable' || !isDead(holder, machine)) throw refused(path, holder);
    const turn = `${path}.next-${holder.token}`;
    await claim(files, turn, waiting, machine);
    const still = await holderOf(files, path);
    if (typeof still === 'object' && still.token === holder.token) {
      await files.rename(turn, path);
      return;
    }
    await files.remove(turn);
  }
  const holder = await holderOf(files, path);
  throw refused(path, holder === 'none' ? 'unreadable' : holder);
}
