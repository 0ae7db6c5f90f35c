// The retention rule while it runs: once a day the talk of the bench is gone through too.
import { expect, it } from 'vitest';
import { retentionRule } from '../../src/floor/retention.ts';
import { START } from './workshop-floor.ts';

it('goes through the talk a day after the start and each day, with the threads of jobs that are not over', async () => {
  const day = 24 * 3_600_000;
  const after = (days: number): string => new Date(Date.parse(START) + days * day).toISOString();
  let now = after(0);
  let daily: (() => void) | undefined;
  const asked: (readonly [string, readonly string[]])[] = [];
  const thread = (root: string) => [
    { channel: 'bench' as const, team: 'bench', place: 'yard', thread: root },
  ];
  const job = { vehicle: 'Bus 7', plan: 'p', openedAt: START };
  retentionRule(30, {
    store: {
      list: async () => [
        { ...job, job: '1', status: 'open', threads: thread('open') },
        {
          ...{ ...job, job: '2', status: 'closed', threads: thread('over') },
          closedAt: '2020-01-01T00:00:00.000Z',
        },
      ],
      mark: async () => undefined,
      setMark: async () => undefined,
      removeTexts: async () => 0,
    },
    schedule: {
      at: () => undefined,
      cancel: () => undefined,
      stop: () => undefined,
      every: (_name, milliseconds, run) => {
        expect(milliseconds).toBe(day);
        daily = run;
      },
    },
    clock: () => now,
    log: () => undefined,
    forget: () => undefined,
    talk: async (before, kept) => {
      asked.push([before, [...kept]]);
      return 1;
    },
  });
  expect(asked).toEqual([]);
  for (const days of [1, 2]) {
    now = after(days);
    daily?.();
    await expect.poll(() => asked.length).toBe(days);
  }
  expect(asked).toEqual([
    [after(1 - 30), ['open']],
    [after(2 - 30), ['open']],
  ]);
});
