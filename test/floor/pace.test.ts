// Posts of one place follow each other at the pace the platform takes; stops go first; other places do not wait.
import { describe, expect, it } from 'vitest';
import type { Channel } from '../../src/chat/channel.ts';
import { outbox } from '../../src/floor/outbox.ts';
import { pace } from '../../src/floor/pace.ts';
import { trail } from '../../src/floor/trail.ts';
import type { OutboxEntry } from '../../src/store/job-store.ts';
import { stoppedClock } from '../conversations/stopped-clock.ts';
import { keepingChannel, START } from './workshop-floor.ts';

describe('the pace of a place', () => {
  const at = (seconds: number): string =>
    new Date(Date.parse('2026-03-10T07:00:00.000Z') + seconds * 1000).toISOString();

  it('is kept by each place for itself', () => {
    let now = at(0);
    const made = pace(() => now);
    expect(made.wait('a', 1)).toBe(0);
    made.used('a');
    expect(made.wait('a', 1)).toBe(1);
    expect(made.wait('b', 1)).toBe(0);
    expect(made.wait('a', undefined)).toBe(0);
    now = at(0.4);
    expect(made.wait('a', 1)).toBeCloseTo(0.6);
    now = at(1);
    expect(made.wait('a', 1)).toBe(0);
  });

  it('holds nothing for longer than itself when the clock is set back', () => {
    let now = at(3600);
    const made = pace(() => now);
    made.used('a');
    now = at(0);
    expect(made.wait('a', 1)).toBe(1);
  });
});

describe('the outbox', () => {
  const entry = (number: number, place: string, urgent = false): OutboxEntry => ({
    id: `bench|${number}`,
    job: `10${number}`,
    channel: 'bench',
    post: {
      key: `k${number}`,
      to: urgent ? { where: 'channel' } : { where: 'reply', delivery: place },
      card: { text: urgent ? 'STOP' : `answer ${number}`, blocks: [] },
      edit: false,
      urgent,
    },
    madeAt: START,
    tries: 0,
    state: 'waiting',
  });

  it('posts one a second in a place, a stop before what waited longer, and no other place waits', async () => {
    const clock = stoppedClock(START);
    const posted: { readonly at: number; readonly place: string; readonly text: string }[] = [];
    const { channel } = keepingChannel('bench');
    const paced: Channel = {
      ...channel,
      paceSeconds: 1,
      post: async (place, card) => {
        const at = (Date.parse(clock.now()) - Date.parse(START)) / 1000;
        posted.push({ at, place: place.place, text: card.text });
        return { ok: true, posted: { message: String(posted.length), place } };
      },
    };
    const out = outbox(
      {
        store: { settlePost: async () => undefined, keepPost: async () => undefined } as never,
        channels: new Map([['bench', paced]]),
        schedule: clock.schedule,
        clock: clock.now,
        trail: trail(() => undefined),
        homeOf: async () => ({ team: 'bench', place: 'yard' }),
        refsOf: async () => ({ threads: [], posts: [] }),
        threadOpened: async () => undefined,
        placeOfDelivery: async (place) => ({ team: 'bench', place }),
        personOn: () => undefined,
      },
      [],
    );
    out.add([1, 2, 3, 4].map((number) => entry(number, 'yard')));
    await out.drained();
    out.add([entry(5, 'yard', true), entry(6, 'elsewhere')]);
    await out.drained();
    await clock.until(new Date(Date.parse(START) + 10_000).toISOString(), out.drained);
    expect(posted).toEqual([
      { at: 0, place: 'yard', text: 'answer 1' },
      { at: 0, place: 'elsewhere', text: 'answer 6' },
      { at: 1, place: 'yard', text: 'STOP' },
      { at: 2, place: 'yard', text: 'answer 2' },
      { at: 3, place: 'yard', text: 'answer 3' },
      { at: 4, place: 'yard', text: 'answer 4' },
    ]);
    expect(out.backlog()).toBe(0);
    await out.stop();
  });
});
