// The list of the bench: as the jobs stand, also where only the other job on the vehicle changed.
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { BenchView } from '../../src/chat/bench/bench-view.ts';
import { benchViewOf } from '../../src/floor/bench-jobs.ts';
import {
  floorOn,
  keepingChannel,
  message,
  OPEN,
  pump,
  type TestFloor,
  temporaryFolder,
} from './workshop-floor.ts';

let folder: Awaited<ReturnType<typeof temporaryFolder>>;
let floor: TestFloor;
let view: BenchView;
const keeping = keepingChannel();
beforeEach(async () => {
  folder = await temporaryFolder();
  floor = await floorOn(folder.folder, [keeping]);
  view = benchViewOf(
    () => floor.running.floor,
    (listener) => floor.running.onChange(listener),
  );
});
afterEach(async () => {
  await floor.running.stop();
  await folder.remove();
});

let number = 0;
const say = async (person: string, text: string, job?: string): Promise<void> => {
  number += 1;
  const thread =
    job === undefined ? undefined : (await floor.running.floor.shelved(job))?.threads[0]?.thread;
  await keeping
    .intake()
    .accept(message(`m${number}`, person, text, thread === undefined ? {} : { thread }));
  await floor.calm();
};
const listed = async (job: string) => (await view.openJobs()).find((each) => each.job === job);

it('shows what is reported, and on every other job of the vehicle what it opened', async () => {
  await say('Robin', OPEN);
  await say('Robin', `open job 1043 bus 17 ${pump.title} tech Mo`);
  await say('Robin', `open job 1044 bus 18 ${pump.title} tech Mo`);
  expect((await listed('1042'))?.vehicleState).toEqual([]);
  expect((await listed('1043'))?.vehicleState).toEqual([]);
  const other = await listed('1044');
  await say('Ada', 'battery isolated', '1042');
  expect((await listed('1042'))?.vehicleState.join()).toMatch(/^Battery isolated/);
  expect((await listed('1043'))?.vehicleState.join()).toMatch(/^Battery isolated \(job 1042\)/);
  // Nothing happened to the other vehicle: it is not made anew.
  expect(await listed('1044')).toBe(other);
});

it('lets a closed job go, and says who may release a hold point', async () => {
  await say('Robin', OPEN);
  await say('Ada', 'pressure tested, 1.2 bar', '1042');
  const job = await listed('1042');
  expect(job?.holds).toEqual([{ step: 'pressure-test', position: null, who: ['Robin'] }]);
  const may = (name: string, roles: readonly ('technician' | 'controller' | 'manager')[]) =>
    view.may?.(
      { name, roles },
      { do: 'release', job: '1042', step: 'pressure-test', position: null },
      job,
    );
  expect([
    may('Robin', ['controller']),
    may('Ada', ['technician']),
    may('Kim', ['manager']),
  ]).toEqual([true, false, false]);
  // A button that is always refused is none: what is still open stands there.
  expect(job?.actions.map(({ intent }) => intent.do)).not.toContain('close-job');
  expect(job?.closeNeeds?.length).toBeGreaterThan(5);
  await say('Robin', 'cancel job because opened twice', '1042');
  expect(await view.openJobs()).toEqual([]);
});
