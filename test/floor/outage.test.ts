// A chat platform that is away, slow, or talks nonsense: recording goes on, the bench goes on, posts wait in the order
// of their job, stops go first when it is back, nothing is dropped, and it is asked seldom meanwhile.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { PostFailure, PostResult } from '../../src/chat/channel.ts';
import {
  floorOn,
  type Keeping,
  keepingChannel,
  message,
  OPEN,
  START,
  type TestFloor,
  temporaryFolder,
} from './workshop-floor.ts';

let folder: string;
let remove: () => Promise<void>;
let floor: TestFloor;
let bench: Keeping;
let slack: Keeping;
/** Calls that reached Slack, whatever came of them. */
let calls: { readonly at: string; readonly key: string }[];
let answer: ((key: string) => PostFailure | 'hang' | undefined) | undefined;
let hanging: (() => void)[];

beforeEach(async () => {
  ({ folder, remove } = await temporaryFolder());
  bench = keepingChannel('bench');
  slack = keepingChannel('slack');
  calls = [];
  answer = undefined;
  hanging = [];
  const { post } = slack.channel;
  const through =
    <A extends unknown[]>(
      real: (...args: A) => Promise<PostResult>,
      keyOf: (...args: A) => string,
    ) =>
    async (...args: A): Promise<PostResult> => {
      calls.push({ at: floor.clock.now(), key: keyOf(...args) });
      const failure = answer?.(keyOf(...args));
      if (failure === 'hang') await new Promise<void>((done) => hanging.push(done));
      else if (failure) return { ok: false, failure };
      return real(...args);
    };
  Object.assign(slack.channel, {
    post: through(post, (_place, _card, key) => key),
    edit: through(slack.channel.edit, (posted) => `edit ${posted.message}`),
    sign: through(slack.channel.sign, (_place, on) => `sign ${on}`),
  });
  floor = await floorOn(folder, [bench, slack]);
});
afterEach(async () => {
  answer = undefined;
  for (const done of hanging) done();
  await floor.running.stop();
  await remove();
});

const say = async (delivery: Parameters<typeof message>): Promise<void> => {
  await bench.intake().accept(message(...delivery));
  await floor.running.idle();
};
const open = async (job: string, bus: string): Promise<string> => {
  await say([`open-${job}`, 'Robin', OPEN.replace('1042', job).replace('17', bus)]);
  await settled();
  return (
    bench.posted.find(({ key }) => key.startsWith(`${job}|`) && key.endsWith('sheet'))?.id ?? ''
  );
};
/** Waits until nothing moves any more: what is still to be posted waits for the clock, or hangs. */
const settled = async (): Promise<void> => {
  let [before, same] = ['', 0];
  for (let looks = 0; looks < 300 && same < 8; looks += 1) {
    await floor.running.idle();
    await new Promise((done) => setTimeout(done, 4));
    const now = [calls, bench.posted, slack.posted, slack.signs].map((list) => list.length).join();
    const state = `${now},${floor.running.backlog()}`;
    const rests =
      waitingOn('bench') === 0 &&
      (floor.running.backlog() === 0 || hanging.length > 0 || floor.clock.waitsFor('outbox'));
    same = rests && state === before ? same + 1 : 0;
    before = state;
  }
};
const until = async (at: string): Promise<void> => {
  await floor.clock.until(at, settled);
  await settled();
};
const waitingOn = (channel: string): number =>
  floor.running.backlogs().find((each) => each.channel === channel)?.posts ?? -1;
const minute = (minutes: number): string =>
  new Date(Date.parse(START) + minutes * 60_000).toISOString();
const UNREACHABLE: PostFailure = { kind: 'unclear', why: 'getaddrinfo ENOTFOUND slack.com' };

/** Reports of several jobs, one of which is followed by a stop in the channel. */
const work = async (): Promise<readonly string[]> => {
  const jobs = ['1042', '1043', '1044', '1045'];
  for (const [n, job] of jobs.entries()) {
    const thread = await open(job, String(17 + n));
    await say([`m-${job}-1`, 'Ada', 'battery isolated', { thread }]);
    await say([`m-${job}-2`, 'Ada', 'what next', { thread }]);
    if (job === '1044') await say([`m-${job}-3`, 'Ada', 'hoses off, 4 clips', { thread }]);
  }
  // A step that is skipped is held back for twenty seconds.
  await until(minute(1));
  return jobs;
};

describe('a platform that cannot be reached', () => {
  it('recording and the bench go on, it is asked at most once a minute, and all is posted once when it is back', async () => {
    answer = () => UNREACHABLE;
    const jobs = await work();
    for (const job of jobs) {
      const events = (await floor.store.load(job))?.events.map(({ event }) => event) ?? [];
      expect(events.filter(({ kind }) => kind === 'message-posted').length).toBeGreaterThan(1);
    }
    expect(bench.texts().filter((text) => text.startsWith('Next on job')).length).toBe(4);
    expect(waitingOn('bench')).toBe(0);
    const left = waitingOn('slack');
    expect(left).toBeGreaterThan(8);

    await until(minute(60));
    // 2, 4, 8, 16, 32 seconds apart, then 60: about one call a minute for all jobs together.
    expect(calls.length).toBeGreaterThan(20);
    expect(calls.length).toBeLessThan(60 + 10);
    // Only cards that a later one replaces are fewer.
    expect(waitingOn('slack')).toBeGreaterThan(left - 4);
    expect(slack.posted).toEqual([]);

    answer = undefined;
    calls.length = 0;
    await until(minute(70));
    expect(waitingOn('slack')).toBe(0);
    const keys = slack.posted.map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
    // The sheet is the root of its thread, so it comes before what stands in the thread.
    for (const job of jobs) {
      const mine = slack.posted.filter(({ key }) => key.startsWith(`${job}|`));
      const sheet = mine.findIndex(({ key }) => key.endsWith('sheet'));
      const first = mine.findIndex(({ place }) => place.thread !== undefined);
      expect(sheet).toBeGreaterThanOrEqual(0);
      expect(first === -1 || first > sheet).toBe(true);
    }
    const inChannel = slack.posted.findIndex(
      ({ place, card }) => place.thread === undefined && card.level === 'stop',
    );
    expect(inChannel).toBeGreaterThanOrEqual(0);
    // At most the one post that found the platform back goes before the stop.
    expect(inChannel).toBeLessThanOrEqual(1);
  });

  it('is kept over a restart, and posted once then', async () => {
    answer = () => UNREACHABLE;
    await work();
    const left = waitingOn('slack');
    await floor.running.stop();
    answer = undefined;
    floor = await floorOn(folder, [bench, slack], minute(5));
    await until(minute(10));
    expect(left).toBeGreaterThan(8);
    expect(waitingOn('slack')).toBe(0);
    const keys = slack.posted.map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
    expect(slack.posted.some(({ card }) => card.level === 'stop')).toBe(true);
  });
});

describe('a platform that is slow', () => {
  it('the bench does not wait for it', async () => {
    answer = () => 'hang';
    const thread = await open('1042', '17');
    expect(thread).not.toBe('');
    await say(['m1', 'Ada', 'what next', { thread }]);
    await settled();
    expect(bench.texts().some((text) => text.startsWith('Next on job 1042'))).toBe(true);
    expect(waitingOn('bench')).toBe(0);
    expect(calls.length).toBe(1);
    answer = undefined;
    for (const done of hanging.splice(0)) done();
    await settled();
    expect(waitingOn('slack')).toBe(0);
  });
});

describe('a platform that asks to wait', () => {
  it('no card is tried before the time it gave, by any job, and a sign may go', async () => {
    const thread = await open('1042', '17');
    answer = (key) => (key.startsWith('sign') ? undefined : { kind: 'wait', seconds: 90 });
    calls.length = 0;
    await say(['m1', 'Ada', 'what next', { thread }]);
    await open('1043', '18');
    await slack.intake().accept({
      ...message('m2', 'U0ADA', '#1042 drained 26 L of coolant'),
      ...{ id: 'slack:Ev1', channel: 'slack' as const, team: 'T1', place: 'C1' },
    });
    await settled();
    expect(calls.filter(({ key }) => !key.startsWith('sign')).length).toBe(1);
    expect(slack.signs.length).toBe(1);
    await until('2026-03-10T07:01:29.000Z');
    expect(calls.filter(({ key }) => !key.startsWith('sign')).length).toBe(1);
    answer = undefined;
    await until(minute(3));
    expect(waitingOn('slack')).toBe(0);
    const next = slack.posted.filter(({ card }) => card.text.startsWith('Next on job 1042'));
    expect(next.length).toBe(1);
  });
});

describe('a platform that answers with errors or nonsense', () => {
  it('one post that it cannot take holds up no other job for long', async () => {
    await open('1042', '17');
    answer = (key) =>
      key.startsWith('1043|') ? { kind: 'unclear', why: 'internal_error' } : undefined;
    calls.length = 0;
    await open('1043', '18');
    await open('1044', '19');
    await until(minute(2));
    expect(slack.posted.some(({ key }) => key.startsWith('1044|'))).toBe(true);
    expect(slack.posted.some(({ key }) => key.startsWith('1043|'))).toBe(false);
    await until(minute(60));
    // Every two minutes at last, 60 / 2 and the first few.
    expect(calls.filter(({ key }) => key.startsWith('1043|')).length).toBeLessThan(40);
    answer = undefined;
    await until(minute(70));
    expect(slack.posted.filter(({ key }) => key.startsWith('1043|')).length).toBeGreaterThan(0);
    expect(waitingOn('slack')).toBe(0);
  });

  it('a stop that is refused is tried for an hour, an ordinary card four times', async () => {
    answer = () => ({ kind: 'refused', why: 'The bot is not in the channel.' });
    await work();
    await until(minute(30));
    const tried = new Map<string, number>();
    for (const { key } of calls) tried.set(key, (tried.get(key) ?? 0) + 1);
    expect(Math.min(...tried.values())).toBeLessThanOrEqual(4);
    expect(Math.max(...tried.values())).toBeGreaterThan(8);
    answer = undefined;
    await until(minute(40));
    expect(slack.posted.some(({ card }) => card.level === 'stop')).toBe(true);
  });
});

describe('one number follows a message', () => {
  it('from its arrival over what is recorded to what is posted, and names neither text nor person', async () => {
    const thread = await open('1042', '17');
    floor.logged.length = 0;
    await say(['m1', 'Ada', 'what next', { thread }]);
    await floor.calm();
    await settled();
    const lines = floor.logged.map(({ what, more }) => ({
      what,
      trace: (more as { trace?: string } | undefined)?.trace,
    }));
    const number = lines.find(({ what }) => what === 'received')?.trace;
    expect(number).toMatch(/^[0-9a-f]{12}$/u);
    const mine = lines.filter(({ trace }) => trace === number).map(({ what }) => what);
    expect(mine.slice(0, 2)).toEqual(['received', 'recorded']);
    expect(mine.filter((what) => what === 'posted').length).toBeGreaterThan(0);
    expect(JSON.stringify(floor.logged)).not.toMatch(/what next|Ada/u);
  });
});

describe('a stop of the program', () => {
  it('posts what it began, keeps what the platform does not take, and works off at the next start what came late', async () => {
    const thread = await open('1042', '17');
    await bench.intake().accept(message('m1', 'Ada', 'what next', { thread }));
    const stopping = floor.running.stop();
    // While it stops a message still arrives: acknowledged, so it must not be lost.
    expect(await bench.intake().accept(message('m2', 'Ada', 'battery isolated', { thread }))).toBe(
      'new',
    );
    await stopping;
    expect(bench.texts().some((text) => text.startsWith('Next on job 1042'))).toBe(true);
    floor = await floorOn(folder, [bench, slack], minute(1));
    await settled();
    const events = (await floor.store.load('1042'))?.events.map(({ event }) => event) ?? [];
    expect(
      events.flatMap((event) => (event.kind === 'message-posted' ? [event.text] : [])),
    ).toContain('battery isolated');
  });
});
