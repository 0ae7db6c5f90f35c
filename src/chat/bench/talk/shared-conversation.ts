// The conversation of a bench that several processes serve: folded from the one log that they share, and kept up with what any
// of them adds. What a person says is shown once the floor has it, at every process.
import { z } from 'zod';
import type { LogLine, SharedShelf } from '../../../store/shared-shelf.ts';
import type { BenchLog } from '../bench-options.ts';
import type { Conversation, Heard } from './conversation.ts';
import { Line } from './entry.ts';
import { type Fold, foldRoll, type Roll } from './roll.ts';

/** The floor has what was said under this id. */
const Taken = z.strictObject({ what: z.literal('taken'), id: z.string(), client: z.string() });
export type Taken = z.infer<typeof Taken>;
const Logged = z.union([Line, Taken]);

export type SharedConversation = Conversation & {
  /** Said, and not known to be taken in by the floor. */
  readonly isHeld: (client: string) => boolean;
};

type Shelf = Pick<SharedShelf, 'head' | 'addLine' | 'linesSince' | 'linesOf' | 'rolls'>;

/** Threads kept folded at once; the ones looked at longest ago are let go first. */
const KEPT_OPEN = 256;
const SHARE = 500;
const SAFE = /^[a-z0-9-]{1,80}$/;
const YARD = '';

/** Lets calls join the next run that has not begun yet: it sees all that was there when they were made. */
const joining = (work: () => Promise<void>): (() => Promise<void>) => {
  let running: Promise<void> | undefined;
  let next: Promise<void> | undefined;
  const begin = (): Promise<void> => {
    const run = work().finally(() => {
      if (running === run) running = undefined;
    });
    running = run;
    return run;
  };
  return () => {
    if (running === undefined) return begin();
    next ??= running
      .catch(() => undefined)
      .then(() => {
        next = undefined;
        return begin();
      });
    return next;
  };
};

export async function openSharedConversation(
  shelf: Shelf,
  log?: BenchLog,
): Promise<SharedConversation> {
  let yardFold = foldRoll(null);
  let upTo = 0;
  let epoch = 0;
  let begun = new Set<string>();
  const opened = new Set<string>();
  const open = new Map<string, Fold>();
  const held = new Set<string>();
  const listeners = new Set<(heard: Heard) => void>();
  let turn: Promise<unknown> = Promise.resolve();

  /** Reading threads and keeping up take turns, so that no line falls between them. */
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const mine = turn.catch(() => undefined).then(work);
    turn = mine;
    return mine;
  };

  const lineIn = ({ n, body }: LogLine): z.infer<typeof Logged> | undefined => {
    let value: unknown;
    try {
      value = JSON.parse(body);
    } catch {
      value = undefined;
    }
    const line = Logged.safeParse(value);
    if (line.success) return line.data;
    log?.warn({ n }, 'A line in an unknown form was passed over');
    return undefined;
  };

  const foldIn = (fold: Fold, logged: LogLine): void => {
    const line = lineIn(logged);
    if (line === undefined) return;
    if (line.what === 'taken') {
      held.delete(line.client);
      return;
    }
    if ('client' in line) held.add(line.client);
    fold.take(line, logged.roll === YARD ? null : logged.roll);
  };

  const hear = (logged: LogLine): void => {
    const { n, roll } = logged;
    const thread = roll === YARD ? null : roll;
    const line = lineIn(logged);
    if (line === undefined) return;
    if (thread !== null) begun.add(thread);
    if (line.what === 'taken') held.delete(line.client);
    else {
      if ('client' in line) held.add(line.client);
      if (thread === null) {
        yardFold.take(line);
        open.get(line.id)?.take(line, null);
      } else open.get(thread)?.take(line);
      // Told once the floor has it.
      if ('client' in line) return;
    }
    const fold = thread === null ? yardFold : open.get(thread);
    const entry = fold?.entry(line.id);
    for (const listener of listeners) listener({ thread, id: line.id, entry, n });
  };

  /** Reads everything anew: at the start, and when lines were changed. */
  const readAll = async (): Promise<void> => {
    const head = await shelf.head();
    const rolls = await shelf.rolls();
    const lines = await shelf.linesOf(YARD, head.n);
    const fold = foldRoll(null);
    for (const line of lines) foldIn(fold, line);
    yardFold = fold;
    open.clear();
    begun = new Set(rolls.filter((roll) => roll !== YARD));
    upTo = head.n;
    epoch = head.epoch;
  };

  const keepUp = joining(() =>
    inTurn(async () => {
      const head = await shelf.head();
      if (head.epoch !== epoch) return readAll();
      while (upTo < head.n) {
        const lines = await shelf.linesSince(upTo, SHARE);
        for (const line of lines) hear(line);
        upTo =
          lines.length === SHARE
            ? (lines.at(-1)?.n ?? head.n)
            : Math.max(head.n, lines.at(-1)?.n ?? 0);
      }
    }),
  );

  const yard: Roll = {
    thread: null,
    entries: () => yardFold.entries(),
    entry: (id) => yardFold.entry(id),
    byClient: (client) => yardFold.byClient(client),
    add: async (line) => {
      await put(null, line);
      return yardFold.entry(line.id);
    },
    close: async () => undefined,
  };

  const rollFrom = (root: string, fold: Fold): Roll => ({
    thread: root,
    entries: fold.entries,
    entry: fold.entry,
    byClient: fold.byClient,
    add: async (line) => {
      await put(root, line);
      return (open.get(root) ?? (await thread(root)))?.entry(line.id);
    },
    close: async () => undefined,
  });

  const thread = async (root: string): Promise<Roll | undefined> => {
    if (!SAFE.test(root)) return undefined;
    await keepUp();
    if (yardFold.entry(root) === undefined) return undefined;
    opened.add(root);
    const known = open.get(root);
    if (known !== undefined) {
      open.delete(root);
      open.set(root, known);
      return rollFrom(root, known);
    }
    return inTurn(async () => {
      const meanwhile = open.get(root);
      if (meanwhile !== undefined) return rollFrom(root, meanwhile);
      const fold = foldRoll(root);
      for (const line of await shelf.linesOf(root, upTo)) foldIn(fold, line);
      open.set(root, fold);
      for (const [oldest] of open) {
        if (open.size <= KEPT_OPEN) break;
        open.delete(oldest);
      }
      return rollFrom(root, fold);
    });
  };

  const put = async (roll: string | null, line: Line): Promise<void> => {
    await shelf.addLine({
      roll: roll ?? YARD,
      about: line.id,
      ...('client' in line ? { once: `${line.what}:${line.client}` } : {}),
      body: JSON.stringify(line),
    });
    await keepUp();
  };

  const rollAt = async (root: string | null | undefined): Promise<Roll | undefined> => {
    if (root !== null && root !== undefined) return thread(root);
    await keepUp();
    return yard;
  };

  await readAll();
  return {
    yard,
    thread,
    rollAt,
    rollOf: async (root, message) => {
      await keepUp();
      return begun.has(message) ? ((await thread(message)) ?? yard) : rollAt(root);
    },
    add: (roll, line) => roll.add(line),
    // Everybody is told from the log.
    tell: () => undefined,
    hasThread: (root) => begun.has(root) || opened.has(root),
    refresh: keepUp,
    upTo: () => upTo,
    onEntry: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    isHeld: (client) => held.has(client),
    close: async () => {
      await turn.catch(() => undefined);
      listeners.clear();
    },
  };
}
