// A trouble of the disk is said in every channel, past the outbox, and again until it is taken.
import { describe, expect, it } from 'vitest';
import { type Trouble, troubleTeller } from '../../src/floor/tell-trouble.ts';
import { stoppedClock } from '../conversations/stopped-clock.ts';
import { keepingChannel, START } from './workshop-floor.ts';

const FULL: Trouble = {
  kind: 'disk-full',
  what: 'Keeping a delivery failed: the disk is full:',
  where: '/data/inbox.jsonl',
  todo: 'Free some space on it.',
};

const setUp = () => {
  const [bench, slack] = [keepingChannel('bench'), keepingChannel('slack')];
  const clock = stoppedClock(START);
  const logged: string[] = [];
  const teller = troubleTeller({
    channels: () => [bench.channel, slack.channel],
    homes: { bench: { team: 'bench', place: 'yard' }, slack: { team: 'T1', place: 'C1' } },
    schedule: clock.schedule,
    clock: clock.now,
    log: (_level, what) => void logged.push(what),
  });
  const settled = () => new Promise<void>((done) => setTimeout(done, 20));
  return { bench, slack, clock, logged, teller, settled };
};

describe('a trouble of the disk', () => {
  it('is said in every channel as a stop: what, where, what to do', async () => {
    const { bench, slack, teller, settled } = setUp();
    teller.begin();
    teller.tell(FULL);
    await settled();
    for (const channel of [bench, slack]) {
      expect(channel.texts().length).toBe(1);
      expect(channel.texts()[0]).toContain('the disk is full: /data/inbox.jsonl. Free some space');
      expect(channel.posted[0]?.card.level).toBe('stop');
    }
  });

  it('what is met while the program starts is said as one, once the channels are joined', async () => {
    const { bench, teller, settled } = setUp();
    teller.tell(FULL);
    teller.tell({ ...FULL, kind: 'damaged', what: 'The file of job 1042 is damaged:' });
    await settled();
    expect(bench.texts()).toEqual([]);
    teller.begin();
    await settled();
    expect(bench.texts().length).toBe(1);
    expect(bench.texts()[0]).toContain('job 1042 is damaged');
    // From now on a damaged job is said where it is looked at.
    teller.tell({ ...FULL, kind: 'damaged' });
    await settled();
    expect(bench.texts().length).toBe(1);
  });

  it('a channel that does not take it, or throws, is told a minute later, and once', async () => {
    const { bench, slack, clock, logged, teller, settled } = setUp();
    teller.begin();
    bench.failures.push({ ok: false, failure: { kind: 'unclear', why: 'no disk' } });
    const real = slack.channel.post;
    Object.assign(slack.channel, {
      post: () => {
        throw new Error('not started');
      },
    });
    teller.tell(FULL);
    await settled();
    expect([bench.texts().length, slack.texts().length, logged.length]).toEqual([0, 0, 2]);
    Object.assign(slack.channel, { post: real });
    await clock.until('2026-03-10T07:00:59.000Z', settled);
    expect(bench.texts().length).toBe(0);
    await clock.until('2026-03-10T07:05:00.000Z', settled);
    expect([bench.texts().length, slack.texts().length]).toEqual([1, 1]);
  });
});
