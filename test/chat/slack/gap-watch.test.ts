// Over HTTP nothing says that a delivery was lost; what points to it makes the history be read, and nothing else does.
import type { App, Receiver } from '@slack/bolt';
import { beforeEach, describe, expect, it } from 'vitest';
import { gapWatch } from '../../../src/chat/slack/gap-watch.ts';
import { type StoppedClock, stoppedClock } from '../../conversations/stopped-clock.ts';

const START = '2026-03-02T09:00:00.000Z';
let clock: StoppedClock;
/** Minutes since the start at which the history was read, and at which a gap was only noted. */
let read: number[];
let held: number[];
let app: App;
let fails: boolean;
let stopped: boolean;

const minutes = (): number => (Date.parse(clock.now()) - Date.parse(START)) / 60_000;
const rest = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
const at = (minute: number): Promise<void> =>
  clock.until(new Date(Date.parse(START) + minute * 60_000).toISOString(), rest);
const arrives = (retryNum?: number): Promise<void> =>
  app.processEvent({
    body: {},
    ack: async () => undefined,
    ...(retryNum === undefined ? {} : { retryNum }),
  });

beforeEach(() => {
  clock = stoppedClock(START);
  read = [];
  held = [];
  fails = false;
  stopped = false;
  let waits = 0;
  const receiver: Receiver = {
    init: (given) => {
      app = given;
    },
    start: async () => undefined,
    stop: async () => undefined,
  };
  gapWatch({
    clock: clock.now,
    wait: (seconds) =>
      new Promise((resolve) => {
        waits += 1;
        const when = new Date(Date.parse(clock.now()) + seconds * 1000).toISOString();
        clock.schedule.at(`wait ${waits}`, when, resolve);
      }),
    stopped: () => stopped,
    hold: () => held.push(minutes()),
    onGap: () => read.push(minutes()),
  })
    .over(receiver)
    .init({
      processEvent: async () => {
        if (fails) throw new Error('the disk is full');
      },
    } as unknown as App);
});

describe('the history is read', () => {
  it('not while deliveries come every five minutes', async () => {
    for (let minute = 0; minute <= 60; minute += 5) {
      await at(minute);
      await arrives();
    }
    expect(read).toEqual([]);
    expect(held).toEqual([]);
  });

  it('once something arrives after a silence in which a delivery may have been given up', async () => {
    await at(4);
    await arrives();
    await at(12);
    await arrives();
    expect(read).toEqual([12]);
  });

  it('at most every quarter of an hour for silence alone; the place to read from is kept meanwhile', async () => {
    for (const minute of [6, 12, 18]) {
      await at(minute);
      await arrives();
    }
    expect(read).toEqual([6]);
    expect(held).toEqual([12, 18]);
    await at(25);
    expect(read).toEqual([6, 21]);
  });

  it('when a delivery comes again, once for the repeats of one gap', async () => {
    await arrives();
    await arrives(1);
    await arrives(2);
    expect(read).toEqual([0]);
    await at(2);
    await arrives(3);
    expect(read).toEqual([0, 2]);
  });

  it('after one that could not be kept, with the next that arrives', async () => {
    fails = true;
    await expect(arrives()).rejects.toThrow('full');
    expect(read).toEqual([]);
    fails = false;
    await at(1);
    await arrives();
    expect(read).toEqual([1]);
    await at(2);
    await arrives();
    expect(read).toEqual([1]);
  });

  it('while nothing arrives at all after 15 minutes, then after 30, 60 and 120 more, then every four hours', async () => {
    await at(24 * 60);
    // 15 + 30 + 60 + 120 = 225, then 240 minutes apart.
    expect(read).toEqual([15, 45, 105, 225, 465, 705, 945, 1185, 1425]);
  });

  it('no more once it is stopped', async () => {
    stopped = true;
    await at(60);
    expect(read).toEqual([]);
  });
});
