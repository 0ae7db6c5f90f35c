// Questions about the workshop through a floor with a folder store: closed jobs, hours for one pair of eyes, restarts.
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/job/load-plan.ts';
import type { Plan } from '../../src/job/plan.ts';
import {
  floorOn,
  type Keeping,
  keepingChannel,
  message,
  OPEN,
  pump,
  SETTINGS,
  type TestFloor,
  temporaryFolder,
} from './workshop-floor.ts';

/** A plan of one step, so that a job can be closed in a line. */
const small: Plan = (() => {
  const { plan } = loadPlan(
    [
      'plan: wiper',
      'title: Renew the wiper blade',
      'machine: an invented bus',
      'notice: Demonstration values.',
      'source: demonstration value',
      'parts: {wiper blade: {words: [blade, wiper]}}',
      'steps:',
      '  - {id: fit-blade, title: Fit the wiper blade, phase: refit, words: [blade fitted]}',
      '',
    ].join('\n'),
    'wiper.yaml',
  );
  if (!plan) throw new Error('The plan of the test has errors.');
  return plan;
})();

let folder: string;
let remove: () => Promise<void>;
let floor: TestFloor | undefined;
let keeping: Keeping;
let number = 0;

beforeEach(async () => {
  ({ folder, remove } = await temporaryFolder());
  keeping = keepingChannel();
});
afterEach(async () => {
  await floor?.running.stop();
  floor = undefined;
  await remove();
});

const start = async (at = '2026-03-10T07:00:00.000Z', settings = SETTINGS): Promise<TestFloor> => {
  await floor?.running.stop();
  floor = await floorOn(folder, [keeping], at, undefined, [pump, small], settings);
  await floor.calm();
  return floor;
};

/** Says something in the channel; what was posted for it. */
const say = async (who: string, text: string): Promise<readonly string[]> => {
  if (!floor) throw new Error('The floor is not started.');
  number += 1;
  const before = keeping.posted.length;
  await keeping.intake().accept(message(`q${number}`, who, text, { at: floor.clock.now() }));
  await floor.calm();
  return keeping.posted.slice(before).map(({ card }) => card.text);
};

const closeOne = async (): Promise<void> => {
  await say('Robin', 'open job 990 bus 17 wiper blade tech Ada');
  await say('Ada', '#990 blade fitted');
  await say('Ada', '#990 found a crack in the wiper arm');
  await say('Robin', 'decline');
  const closed = await say('Robin', 'close job without reading');
  expect(closed.join()).toContain('closed');
};

describe('what was done before', () => {
  it('answers from jobs that are closed, with what they found', async () => {
    await start();
    await closeOne();
    const [last] = await say('Robin', 'last job on bus 17');
    expect(last).toContain('Job 990, Renew the wiper blade');
    expect(last).toContain('crack in the wiper arm');
    const [when] = await say('Kim', 'when did we last do the wiper on bus 17');
    expect(when).toContain('Job 990');
    const [never] = await say('Kim', 'when did we last do the clutch on bus 17');
    expect(never).toContain('No closed job on bus 17 did "clutch" is on record');
  });

  it('flags the same work that is back within the days of the settings, with what the last one found', async () => {
    const running = await start();
    await closeOne();
    await running.clock.until('2026-03-20T07:00:00.000Z', running.calm);
    const again = (await say('Robin', 'open job 1050 bus 17 wiper blade tech Ada')).join(' ');
    expect(again).toContain('Back again: bus 17. Job 990 was the same work');
    expect(again).toContain('It found: a crack in the wiper arm');
    await running.clock.until('2026-05-20T07:00:00.000Z', running.calm);
    expect(
      (await say('Robin', 'open job 1060 bus 17 wiper blade tech Ada')).join(' '),
    ).not.toContain('Job 990 was the same work');
  });

  it('answers for the week in which it was closed', async () => {
    const running = await start();
    await closeOne();
    await running.clock.until('2026-03-17T07:00:00.000Z', running.calm);
    const [week] = await say('Kim', 'how did last week go');
    expect(week).toContain('Week of Mon 9 Mar 2026 to Sun 15 Mar 2026. 1 opened, 1 closed');
    expect(week).toContain('990 bus 17, Renew the wiper blade · closed');
  });
});

describe('hours of people', () => {
  it('are told to the asker alone, and only to whom the settings say', async () => {
    await start();
    await say('Robin', OPEN);
    await say('Ada', '2.5 h on 1042');
    const before = keeping.posted.length;
    await say('Robin', 'hours this week');
    const told = keeping.posted
      .slice(before)
      .filter(({ card }) => card.text.includes('2 h 30 min'));
    expect(told.map(({ place }) => place)).toEqual([
      { team: 'bench', place: 'yard', person: 'Robin' },
    ]);
    expect(told[0]?.card.text).toContain('Ada: 2 h 30 min (2 h 30 min on 1042)');
    expect((await say('Mo', 'hours this week')).join()).toContain(
      'shown to the roles that the settings name',
    );
    expect((await say('Mo', "Ada's hours")).join()).not.toContain('2 h 30 min');
    expect((await say('Ada', 'my hours')).join()).toContain('Ada: 2 h 30 min');
  });

  it('asked in the thread of a job go to the asker alone too', async () => {
    await start();
    await say('Robin', OPEN);
    await say('Ada', '2.5 h on 1042');
    const thread = keeping.posted[0]?.id ?? '';
    const before = keeping.posted.length;
    await keeping.intake().accept(message('in-thread', 'Robin', 'hours this week', { thread }));
    await floor?.calm();
    const said = keeping.posted.slice(before);
    expect(said.map(({ place, card }) => [place.person, card.text.includes('2 h 30 min')])).toEqual(
      [
        ['Robin', true],
        [undefined, false],
      ],
    );
  });

  it('go to the job that is named, or to the only one of the writer', async () => {
    const running = await start();
    await say('Robin', OPEN);
    await say('Ada', 'start');
    await running.clock.until('2026-03-10T09:00:00.000Z', running.calm);
    await say('Ada', 'stop');
    expect((await say('Robin', 'hours on 1042')).join()).toContain('2 h booked on job 1042');
  });
});

describe('a number that is no open job', () => {
  it('is named, with those that are open', async () => {
    await start();
    await say('Robin', OPEN);
    expect((await say('Ada', '#9999 drained 5 L')).join()).toBe(
      'Job 9999 is not open, so nothing was recorded. Open: 1042 (bus 17). Write the right number in front, or open the job.',
    );
  });
});

describe('a stop nobody acknowledged', () => {
  it('goes to the next after a restart, once', async () => {
    await start('2026-03-10T07:00:00.000Z');
    await say('Robin', OPEN);
    await say('Ada', '#1042 cap off');
    await floor?.clock.until('2026-03-10T07:01:00.000Z', floor.calm);
    expect(keeping.texts().join()).toContain('Then Kim, if nobody acknowledges it');
    const passed = (): number =>
      keeping.texts().filter((text) => text.startsWith('Not acknowledged for 10 minutes')).length;
    await start('2026-03-10T07:05:00.000Z');
    expect(passed()).toBe(0);
    await start('2026-03-10T07:16:00.000Z');
    await floor?.clock.until('2026-03-10T07:17:00.000Z', floor.calm);
    expect(passed()).toBe(1);
    await start('2026-03-10T07:30:00.000Z');
    await floor?.clock.until('2026-03-10T07:50:00.000Z', floor.calm);
    expect(passed()).toBe(1);
  });
});
