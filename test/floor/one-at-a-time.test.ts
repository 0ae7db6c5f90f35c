// One at a time over threads and processes: order, leases, and a failure that holds nobody up.
import { expect, it } from 'vitest';
import { oneAtATime } from '../../src/floor/one-at-a-time.ts';
import { queues } from '../../src/floor/queues.ts';

/** Leases as two processes see them. */
const leases = () => {
  const held = new Map<string, string>();
  return (holder: string) => ({
    lease: async (name: string) => {
      if (held.has(name) && held.get(name) !== holder) return false;
      held.set(name, holder);
      return true;
    },
    release: async (name: string) => {
      if (held.get(name) === holder) held.delete(name);
    },
  });
};

it('adds up what many do by reading and writing, in one process and in two', async () => {
  const of = leases();
  for (const shared of [undefined, of]) {
    const both = ['one', 'two'].map((name) => oneAtATime(queues(), shared?.(name)));
    const used = shared ? both : both.slice(0, 1);
    let kept = 0;
    await Promise.all(
      Array.from({ length: 10 }, (_, n) =>
        used[n % used.length]?.('stranger', async () => {
          const read = kept;
          for (let turns = 0; turns < 5; turns += 1) await Promise.resolve();
          kept = read + 1;
        }),
      ),
    );
    expect(kept).toBe(10);
  }
});

it('goes on after a failure, and gives the lease back', async () => {
  const of = leases();
  const [one, two] = ['one', 'two'].map((name) => oneAtATime(queues(), of(name)));
  await expect(
    one?.('stranger', async () => {
      throw new Error('the disk is full');
    }),
  ).rejects.toThrow('the disk is full');
  expect(await two?.('stranger', async () => 'done')).toBe('done');
});
