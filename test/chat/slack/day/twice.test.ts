// The judge of the day's "no message twice" is judged itself: it sees what stands twice, and lets pass what has a reason.
import { describe, expect, it } from 'vitest';
import type { StoredJob } from '../../../../src/store/job-store.ts';
import type { Standing } from './day-platform.ts';
import { saidTwice } from './twice.ts';

const SKIPPED = 'STOP. Skipped: "Drain the coolant". "Open the hose" is reported. Job 1042, 09:00.';
const post = (turn: string, text: string, more: Partial<Standing> = {}): Standing => ({
  message: `${turn}.1`,
  thread: 'root',
  byBot: true,
  key: `1042|slack|d|0|reply:${turn}`,
  text,
  deleted: false,
  signs: [],
  buttons: [],
  ...more,
});
const announced = (turn: string, kind: 'flag-announced' | 'flag-withdrawn' = 'flag-announced') => ({
  event: {
    id: `${turn}:${kind === 'flag-announced' ? 'announced' : 'withdrawn'}:skipped|drain||`,
    at: '2026-03-10T09:00:00.000Z',
    by: 'chargehand',
    kind,
    flag: 'skipped|drain||',
    level: 'stop',
    says: SKIPPED.slice('STOP. '.length),
  },
});
const judged = (standing: readonly Standing[], events: readonly unknown[] = []) =>
  saidTwice(
    {
      standing,
      ids: new Map([[1, '20.2']]),
      jobs: new Map([['1042', { events } as unknown as StoredJob]]),
    },
    {
      happenings: [
        {
          does: 'say',
          n: 1,
          at: '2026-03-10T09:00:00.000Z',
          job: '1042',
          by: 'Ada',
          text: 'where are we',
          expected: 'plain',
        },
      ],
    },
  );

describe('said twice', () => {
  it.each([
    ['is an answer under another key to the same message', 'a:10.1', 'a:10.1'],
    ['is what the clock brought twice', 'tick:10', 'tick:11'],
  ])('%s', (_what, one, other) => {
    expect(judged([post(one, 'Which side?'), post(other, 'Which side?')])).toHaveLength(1);
  });

  it('is not an answer to two messages, in two threads, of two kinds, or one that was deleted', () => {
    expect(judged([post('a:10.1', 'Next: drain'), post('a:11.1', 'Next: drain')])).toEqual([]);
    expect(
      judged([post('a:10.1', 'Which side?'), post('a:10.1', 'Which side?', { thread: 'other' })]),
    ).toEqual([]);
    expect(
      judged([
        post('a:10.1', 'Gone'),
        post('a:10.1', 'Gone', { thread: undefined, key: '1042|slack|d|0|stops:a:10.1' }),
      ]),
    ).toEqual([]);
    expect(
      judged([post('a:10.1', 'Which side?'), post('a:10.1', 'Which side?', { deleted: true })]),
    ).toEqual([]);
  });

  it('is a flag in two replies that was raised once', () => {
    const twice = [post('a:10.1', SKIPPED), post('a:11.1', `No longer standing: ${SKIPPED}`)];
    expect(judged(twice, [announced('a:10.1')])).toEqual([
      '1042: Skipped: "Drain the coolant" is said in 2 posts of the thread, with reason in 1',
    ]);
    expect(judged(twice.slice(0, 1), [announced('a:10.1')])).toEqual([]);
  });

  it('is a flag in two cards of the channel that was raised once, although it was withdrawn', () => {
    const card = (turn: string): Standing =>
      post(turn, SKIPPED, { thread: undefined, key: `1042|slack|d|0|stops:${turn}` });
    const events = [announced('a:10.1'), announced('a:10.5', 'flag-withdrawn')];
    expect(judged([card('a:10.1')], events)).toEqual([]);
    expect(judged([card('a:10.1'), card('a:10.5')], events)).toHaveLength(1);
  });

  it('is not the word that it stands no longer', () => {
    const events = [announced('a:10.1'), announced('a:10.5', 'flag-withdrawn')];
    const gone = post('a:10.5', `No longer standing: ${SKIPPED} Done before.`);
    expect(judged([post('a:10.1', SKIPPED), gone], events)).toEqual([]);
    expect(judged([post('a:10.1', SKIPPED), gone, post('a:10.9', SKIPPED)], events)).toHaveLength(
      1,
    );
  });

  it('is not a flag that was withdrawn and raised again, nor the answer to who asks', () => {
    const again = [announced('a:10.1'), announced('a:10.5', 'flag-withdrawn'), announced('a:11.1')];
    expect(judged([post('a:10.1', SKIPPED), post('a:11.1', SKIPPED)], again)).toEqual([]);
    expect(
      judged([post('a:10.1', SKIPPED), post('a:20.2', SKIPPED)], [announced('a:10.1')]),
    ).toEqual([]);
  });

  it('is told of a post whose key says nothing', () => {
    expect(judged([post('a:10.1', 'Hello', { key: undefined })])).toHaveLength(1);
  });
});
