// What the page is told of a filled opening form: the job, the form again, or nothing in time.
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { BenchParts } from '../../../src/chat/bench/door/bench-parts.ts';
import { openingOutcome } from '../../../src/chat/bench/door/opening-outcome.ts';
import type { Heard } from '../../../src/chat/bench/talk/conversation.ts';
import type { Card } from '../../../src/desk/card.ts';
import { OPEN_FORM } from './fake-view.ts';

afterEach(() => {
  vi.useRealTimers();
});

const DELIVERY = 'bench:aaaaaaaa1';

/** Only what the outcome listens to. */
const listened = () => {
  const answeredOnPage = new Map<string, (card: Card) => void>();
  const jobs = new Set<(job: string) => void>();
  const entries = new Set<(heard: Heard) => void>();
  const parts = {
    answeredOnPage,
    conversation: {
      onEntry: (listener: (heard: Heard) => void) => {
        entries.add(listener);
        return () => entries.delete(listener);
      },
    },
    options: {
      view: {
        onChange: (listener: (job: string) => void) => {
          jobs.add(listener);
          return () => jobs.delete(listener);
        },
      },
    },
  } as unknown as BenchParts;
  return {
    parts,
    answer: (card: Card) => answeredOnPage.get(DELIVERY)?.(card),
    change: (job: string) => {
      for (const tell of jobs) tell(job);
    },
    /** A card that another process posts. */
    post: (key: string, card: Card) => {
      const entry = { id: 'p-1', thread: null, at: '2025-03-04T10:42:00.000Z', key, card };
      for (const tell of entries) tell({ thread: null, id: entry.id, entry, n: 1 });
    },
    listeners: () => answeredOnPage.size + jobs.size + entries.size,
  };
};

const refusal: Card = {
  text: 'The job is not open yet. Give it a job number.',
  blocks: [],
  actions: [{ label: 'Open a job', weight: 'main', intent: { do: 'open-job' }, form: OPEN_FORM }],
};

describe('openingOutcome', () => {
  it('gives the form again with what is wrong', async () => {
    const bench = listened();
    const outcome = openingOutcome(bench.parts, DELIVERY, '1042');
    bench.answer(refusal);
    const { form, what } = await outcome;
    expect(what).toBe(refusal.text);
    expect(form).toContain('name="vehicle"');
    expect(bench.listeners()).toBe(0);
  });

  it('says what another process answered in the yard', async () => {
    const bench = listened();
    const outcome = openingOutcome(bench.parts, DELIVERY, '1042');
    bench.post('bench|_|reply:bench:another', { text: 'Not this one.', blocks: [] });
    bench.post(`bench|_|reply:${DELIVERY}`, refusal);
    expect((await outcome).what).toBe(refusal.text);
    expect(bench.listeners()).toBe(0);
  });

  it('says what is wrong where no form can put it right', async () => {
    const bench = listened();
    const outcome = openingOutcome(bench.parts, DELIVERY, '1042');
    bench.answer({ text: 'Job 1042 is there already.', blocks: [] });
    expect(await outcome).toEqual({ what: 'Job 1042 is there already.' });
  });

  it('names the job once it is there, and no other', async () => {
    const bench = listened();
    const outcome = openingOutcome(bench.parts, DELIVERY, ' 1042 ');
    bench.change('1041');
    bench.change('1042');
    expect(await outcome).toEqual({ opened: '1042' });
  });

  it('keeps nobody waiting for ever', async () => {
    vi.useFakeTimers();
    const bench = listened();
    const outcome = openingOutcome(bench.parts, DELIVERY, '1042');
    await vi.advanceTimersByTimeAsync(10_000);
    expect(await outcome).toEqual({});
    expect(bench.listeners()).toBe(0);
  });
});
