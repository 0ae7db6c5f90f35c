// Jobs that bear on each other: two on one vehicle, messages under the wrong one, a re-torque due when the bus is back.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/job/load-plan.ts';
import { ROOT } from '../layout/sources.ts';
import {
  floorOn,
  keepingChannel,
  message,
  pump,
  START,
  type TestFloor,
  temporaryFolder,
} from './workshop-floor.ts';

const wheel = (() => {
  const { plan } = loadPlan(
    readFileSync(join(ROOT, 'test/conversations/plans/wheel-change.yaml'), 'utf8'),
    'wheel-change.yaml',
  );
  if (!plan) throw new Error('The wheel change plan has errors.');
  return plan;
})();

let remove: () => Promise<void>;
let floor: TestFloor;
const bench = (() => {
  let made = keepingChannel();
  return { fresh: () => (made = keepingChannel()), now: () => made };
})();
let minute = 0;

beforeEach(async () => {
  const temporary = await temporaryFolder();
  remove = temporary.remove;
  minute = 0;
  floor = await floorOn(temporary.folder, [bench.fresh()], START, undefined, [pump, wheel]);
});
afterEach(async () => {
  await floor.running.stop();
  await remove();
});

/** Says something a minute later than the last thing, in the thread of a job where one is given. */
const say = async (by: string, text: string, job?: string): Promise<string> => {
  minute += 1;
  const at = new Date(Date.parse(START) + minute * 60_000).toISOString();
  await floor.clock.until(at, floor.calm);
  const thread = job ? (await floor.running.floor.shelved(job))?.threads[0]?.thread : undefined;
  const before = bench.now().texts().length;
  await bench
    .now()
    .intake()
    .accept(message(`m${minute}`, by, text, { at, ...(thread ? { thread } : {}) }));
  await floor.calm();
  return bench.now().texts().slice(before).join(' / ');
};
const view = async (job: string) => {
  const found = await floor.running.floor.shelved(job);
  if (!found) throw new Error(`Job ${job} is not there: ${bench.now().texts().join(' / ')}`);
  return found.state.view;
};
const sheet = (job: string): string =>
  bench
    .now()
    .texts()
    .find((text) => text.startsWith(`Job ${job} · `)) ?? '';
const wait = async (seconds: number): Promise<void> => {
  await floor.clock.until(
    new Date(Date.parse(floor.clock.now()) + seconds * 1000).toISOString(),
    floor.calm,
  );
  await floor.calm();
};

describe('two jobs on one vehicle', () => {
  const both = async (): Promise<void> => {
    await say('Robin', 'open job 1042 bus 17 change a wheel tech Ada');
    await say('Ada', 'wheels chocked', '1042');
    await say('Ada', 'jacked up', '1042');
    await say('Robin', 'open job 1043 bus 17 coolant pump tech Mo');
  };

  it('the sheet of the second shows at once what the first has opened', async () => {
    await both();
    expect(sheet('1042')).toContain('On the jack');
    expect(sheet('1043')).toContain('On the jack (job 1042)');
  });

  it('an engine start under one is a stop for what the other has open', async () => {
    await both();
    const said = await say('Mo', 'engine started', '1043');
    await wait(25);
    expect(said).toContain('STOP');
    expect(said).toContain('On the jack (job 1042)');
    const flag = (await view('1043')).flags.find(
      ({ rule, clearedBy }) => rule === 'unsafe-state' && !clearedBy,
    );
    expect(flag?.level).toBe('stop');
    expect((await view('1042')).flags.filter(({ rule }) => rule === 'unsafe-state')).toEqual([]);
  });

  it('the sheet of the second follows when the first closes its state', async () => {
    await both();
    await say('Ada', 'front left wheel swapped', '1042');
    await say('Ada', 'front right wheel swapped', '1042');
    await say('Ada', 'lowered to the ground', '1042');
    await floor.calm();
    expect(sheet('1043')).not.toContain('On the jack');
  });

  it('another vehicle is not concerned', async () => {
    await both();
    await say('Robin', 'open job 1044 bus 18 coolant pump tech Mo');
    expect(sheet('1044')).not.toContain('On the jack');
  });

  it('the vehicle is not released to the road while the other job has it open', async () => {
    await both();
    expect(await say('Robin', 'release to the road', '1043')).toContain(
      'Vehicle state open: On the jack (job 1042)',
    );
  });

  it('a job that was opened for the wrong vehicle is rid of its states', async () => {
    await both();
    await say('Robin', 'wrong bus, it is bus 19', '1043');
    expect(sheet('1043')).toContain('bus 19');
    expect((await floor.store.list()).find(({ job }) => job === '1043')?.vehicle).toBe('bus 19');
    expect(sheet('1043')).not.toContain('On the jack');
  });
});

describe('a message under the wrong job', () => {
  const two = async (): Promise<void> => {
    await say('Robin', 'open job 1042 bus 17 change a wheel tech Ada');
    await say('Robin', 'open job 1043 bus 18 change a wheel tech Ada');
  };
  const done = async (job: string): Promise<readonly string[]> =>
    (await view(job)).steps.filter(({ state }) => state === 'done').map(({ step }) => step);

  it('is moved to the job it was for, with its writer and its time, and read there', async () => {
    await two();
    await say('Ada', 'wheels chocked', '1042');
    const at = (await view('1042')).reports[0]?.posted;
    const said = await say('Ada', 'that was for 1043', '1042');
    expect(said).toContain('Moved to job 1043, bus 18: "wheels chocked".');
    expect(said).toContain('Moved here from job 1042 by Ada');
    expect(await done('1042')).toEqual([]);
    expect(await done('1043')).toEqual(['chock']);
    const [report] = (await view('1043')).reports;
    expect(report?.reporter).toBe('Ada');
    expect(Date.parse(report?.posted ?? '')).toBe(Date.parse(at ?? 'never'));
  });

  it('is moved back again', async () => {
    await two();
    await say('Ada', 'wheels chocked', '1042');
    await say('Ada', 'that was for 1043', '1042');
    await say('Robin', 'that was for 1042', '1043');
    expect(await done('1042')).toEqual(['chock']);
    expect(await done('1043')).toEqual([]);
  });

  it('several at once split a job', async () => {
    await two();
    await say('Ada', 'wheels chocked', '1042');
    await say('Ada', 'jacked up', '1042');
    await say('Ada', 'move the last 2 to 1043', '1042');
    expect(await done('1042')).toEqual([]);
    expect(await done('1043')).toEqual(['chock', 'jack-up']);
    expect(sheet('1043')).toContain('On the jack');
    expect(sheet('1042')).not.toContain('On the jack');
  });

  it('is left where it is when the other job is not open, or the message is not theirs', async () => {
    await two();
    await say('Ada', 'wheels chocked', '1042');
    await say('Robin', 'cancel job because opened twice', '1043');
    expect(await say('Ada', 'that was for 1043', '1042')).toContain('Job 1043 is not open');
    await say('Robin', 'reopen job because needed', '1043');
    expect(await say('Mo', 'that was for 1043', '1042')).toContain(
      'Mo may move only their own messages; this one is from Ada',
    );
    expect(await done('1042')).toEqual(['chock']);
  });

  it('said in the channel, the job of the writer is meant', async () => {
    await say('Robin', 'open job 1042 bus 17 change a wheel tech Ada');
    await say('Robin', 'open job 1043 bus 18 change a wheel tech Mo');
    await say('Ada', 'wheels chocked');
    expect(await done('1042')).toEqual(['chock']);
    await say('Ada', 'that was for 1043');
    expect(await done('1043')).toEqual(['chock']);
  });
});

describe('two jobs that are one', () => {
  it('are merged: the reports move, the doubled job is cancelled and says where they are', async () => {
    await say('Robin', 'open job 1042 bus 17 change a wheel tech Ada');
    await say('Robin', 'open job 1043 bus 17 change a wheel tech Ada');
    await say('Ada', 'wheels chocked', '1042');
    await say('Ada', 'jacked up', '1042');
    const said = await say('Robin', 'merge into 1043', '1042');
    expect(said).toContain('merged into job 1043');
    expect((await view('1042')).status).toBe('cancelled');
    const kept = await floor.store.load('1042');
    expect(kept?.events.map(({ event }) => event)).toContainEqual(
      expect.objectContaining({ kind: 'job-cancelled', reason: 'merged into job 1043' }),
    );
    expect((await view('1043')).vehicleState.map(({ state }) => state)).toEqual(['raised']);
  });

  it('are not merged across two vehicles', async () => {
    await say('Robin', 'open job 1042 bus 17 change a wheel tech Ada');
    await say('Robin', 'open job 1043 bus 18 change a wheel tech Ada');
    expect(await say('Robin', 'merge into 1043', '1042')).toContain('they are not one job');
    expect((await view('1042')).status).toBe('open');
  });
});

describe('said in the channel', () => {
  it('"give 1042 to Mo" changes that job', async () => {
    await say('Robin', 'open job 1042 bus 17 change a wheel tech Ada');
    await say('Robin', 'open job 1043 bus 18 change a wheel tech Ada');
    expect(await say('Robin', 'give 1042 to Mo')).toContain('Job 1042 is with Mo now');
    expect((await view('1042')).technician).toBe('Mo');
    expect((await view('1043')).technician).toBe('Ada');
  });

  it('under another job it changes nothing and says where', async () => {
    await say('Robin', 'open job 1042 bus 17 change a wheel tech Ada');
    await say('Robin', 'open job 1043 bus 18 change a wheel tech Ada');
    expect(await say('Robin', 'give 1042 to Mo', '1043')).toContain(
      'That names job 1042, and this is job 1043. Nothing was changed.',
    );
  });
});

describe('a follow-up after closing', () => {
  const closed = async (): Promise<void> => {
    await say('Robin', 'open job 1042 bus 17 change a wheel front left 100,000 km tech Ada');
    for (const text of [
      'wheels chocked',
      'jacked up',
      'front left wheel swapped',
      'lowered to the ground',
      'wheel nuts torqued',
    ])
      await say('Ada', text, '1042');
    await say('Robin', 'release', '1042');
    await say('Ada', 'people clear, checked', '1042');
    await say('Ada', 'brake test done', '1042');
    await say('Ada', 'close job at 100,010 km', '1042');
    expect((await view('1042')).status).toBe('closed');
  };

  it('is called overdue by distance when the bus is back with more on its clock', async () => {
    await closed();
    await say('Robin', 'open job 1050 bus 17 coolant pump 100,200 km tech Mo');
    await wait(1);
    expect(bench.now().texts().join(' / ')).toContain(
      'Overdue: "Re-torque the wheel nuts on the road"',
    );
  });

  it('is not called overdue within its distance', async () => {
    await closed();
    await say('Robin', 'open job 1050 bus 17 coolant pump 100,060 km tech Mo');
    await wait(1);
    expect(bench.now().texts().join(' / ')).not.toContain('Overdue');
  });

  it('is remembered across a restart and looked at no more once it is done', async () => {
    await closed();
    expect(JSON.parse((await floor.store.mark('follow-ups')) ?? '[]')).toEqual(['1042']);
    await say('Ada', 'nuts retorqued after the run on the road', '1042');
    expect(JSON.parse((await floor.store.mark('follow-ups')) ?? '[]')).toEqual([]);
  });
});
