// A bench on loopback with a fake view and a fake floor, for tests that talk to it.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Delivery } from '../../../shared/delivery.ts';
import { type BenchChannel, benchChannel } from '../../../src/chat/bench/bench-channel.ts';
import type { BenchOptions } from '../../../src/chat/bench/bench-options.ts';
import type { Intake } from '../../../src/chat/channel.ts';
import type { Form } from '../../../src/desk/card.ts';
import { type FakeView, fakeView } from './fake-view.ts';

export const NOW = '2025-03-04T10:42:00.000Z';
export const YARD = { team: 'bench', place: 'yard' } as const;

export type FakeFloor = Intake & {
  readonly taken: Delivery[];
  /** Awaited before a delivery is taken in; a test may hold it back or let it fail. */
  gate: (delivery: Delivery) => Promise<void>;
  form: Form | undefined;
  /** What every delivery holds that only counts as a person's own word. */
  ownWord: string | undefined;
};

export function fakeFloor(): FakeFloor {
  const ids = new Set<string>();
  const floor: FakeFloor = {
    taken: [],
    gate: async () => {},
    form: undefined,
    ownWord: undefined,
    ownWordIn: async () => floor.ownWord,
    accept: async (delivery) => {
      await floor.gate(delivery);
      if (ids.has(delivery.id)) return 'seen';
      ids.add(delivery.id);
      floor.taken.push(delivery);
      return 'new';
    },
    formFor: async () => floor.form,
  };
  return floor;
}

export type BenchRun = {
  readonly bench: BenchChannel;
  readonly floor: FakeFloor;
  readonly view: FakeView;
  readonly folder: string;
  readonly address: string;
  /** Fetches as the named person. */
  readonly get: (path: string, who?: string) => Promise<Response>;
  readonly post: (path: string, body: unknown, who?: string) => Promise<Response>;
  /** Stops the bench and starts another one on the same folder. */
  readonly again: () => Promise<BenchRun>;
  readonly end: () => Promise<void>;
};

/** Starts a bench in a folder of its own. */
export async function runBench(
  more: Partial<BenchOptions> = {},
  view: FakeView = fakeView(),
  folder?: string,
): Promise<BenchRun> {
  const home = folder ?? (await mkdtemp(path.join(tmpdir(), 'bench-')));
  const floor = fakeFloor();
  const options: BenchOptions = {
    folder: home,
    port: 0,
    host: '127.0.0.1',
    view,
    clock: () => NOW,
    ...more,
  };
  const bench = benchChannel(options);
  await bench.start(floor);
  const address = bench.address();
  const cookie = (who?: string): Record<string, string> =>
    who === undefined ? {} : { cookie: `chargehand-who=${encodeURIComponent(who)}` };
  return {
    bench,
    floor,
    view,
    folder: home,
    address,
    get: (where, who) => fetch(new URL(where, address), { headers: cookie(who) }),
    post: (where, body, who) =>
      fetch(new URL(where, address), {
        method: 'POST',
        headers: { 'content-type': 'application/json', ...cookie(who) },
        body: JSON.stringify(body),
      }),
    again: async () => {
      await bench.stop();
      return runBench(more, view, home);
    },
    end: async () => {
      await bench.stop();
      await rm(home, { recursive: true, force: true });
    },
  };
}

/** Posts a job's first card in the yard and gives the thread that hangs from it. */
export async function openThread(run: BenchRun, job = '1042'): Promise<string> {
  const result = await run.bench.post(
    YARD,
    {
      text: `Job ${job} is open.`,
      title: `Job ${job}: Bus 27`,
      blocks: [{ kind: 'facts', rows: [['Plan', 'Renew injectors']] }],
    },
    `${job}/sheet`,
  );
  if (!result.ok) throw new Error('The first card was not posted.');
  await run.bench.post(
    { ...YARD, thread: result.posted.message },
    { text: 'Next: drain the coolant.', blocks: [] },
    `${job}/hello`,
  );
  return result.posted.message;
}
