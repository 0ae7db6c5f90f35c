import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { diskFiles } from '../../src/store/file-seam.ts';
import { lockFolder, type Processes, thisMachine } from '../../src/store/folder-lock.ts';
import { newFolder } from './file-harness.ts';

const NOW = '2031-05-06T06:30:00.000Z';

describe('the lock of a data folder', () => {
  let folder: string;
  let living: Map<number, string>;
  const machine = (pid: number, over: Partial<Processes> = {}): Processes => ({
    pid,
    host: 'bay-pc',
    boot: 'boot-1',
    alive: (other) => living.has(other),
    started: (other) => living.get(other) ?? '',
    ...over,
  });
  const lock = (who: Processes) => lockFolder(diskFiles, folder, NOW, who);

  beforeEach(async () => {
    folder = await newFolder();
    living = new Map([
      [100, 'started 1'],
      [200, 'started 2'],
    ]);
  });

  it('names process, machine, time and file, and what to do', async () => {
    await lock(machine(100));
    await expect(lock(machine(200))).rejects.toMatchObject({
      kind: 'locked',
      what: `The data folder is in use by process 100 on bay-pc since ${NOW}:`,
      where: join(folder, 'lock.json'),
      todo: expect.stringContaining('Stop that one first'),
    });
  });

  it('is free again after it was given back', async () => {
    const first = await lock(machine(100));
    await first.release();
    await (await lock(machine(200))).release();
  });

  it('is refused to the same process a second time', async () => {
    await lock(machine(100));
    await expect(lock(machine(100))).rejects.toThrow('process 100');
  });

  it.each<[string, () => void, Partial<Processes>]>([
    ['a dead process', () => living.delete(100), {}],
    ['a process whose number another one has now', () => living.set(100, 'started 9'), {}],
    ['a process from before the machine was started again', () => undefined, { boot: 'boot-2' }],
  ])('is taken over from %s', async (_who, happens, over) => {
    await lock(machine(100));
    happens();
    await lock(machine(200, over));
    expect(JSON.parse(await readFile(join(folder, 'lock.json'), 'utf8'))).toMatchObject({
      pid: 200,
    });
  });

  it('is not taken over from another machine, of which nobody here knows whether it lives', async () => {
    await lock(machine(100));
    living.delete(100);
    await expect(lock(machine(200, { host: 'office-pc' }))).rejects.toThrow(
      /bay-pc is no longer running, remove/,
    );
  });

  it.each(Array.from({ length: 20 }, (_, i) => i))(
    'try %i: goes to one of many that find it stale at the same moment',
    async () => {
      await lock(machine(100));
      living.delete(100);
      const pids = Array.from({ length: 12 }, (_, i) => 300 + i);
      for (const pid of pids) living.set(pid, `started ${pid}`);
      const tries = await Promise.allSettled(pids.map((pid) => lock(machine(pid))));
      expect(tries.filter((t) => t.status === 'fulfilled')).toHaveLength(1);
    },
  );

  it('a lock that says nothing is not taken over, and the file is named', async () => {
    await writeFile(join(folder, 'lock.json'), '');
    await expect(lock(machine(100))).rejects.toThrow(join(folder, 'lock.json'));
  });

  it('giving back does not take the lock from one who has it now', async () => {
    const first = await lock(machine(100));
    living.delete(100);
    await lock(machine(200));
    await first.release();
    expect(await readFile(join(folder, 'lock.json'), 'utf8')).toContain('"pid":200');
  });

  it('this machine tells when this process started, or nothing', () => {
    expect(thisMachine.started(process.pid)).toMatch(/^\d*$/);
    expect(thisMachine.alive(process.pid)).toBe(true);
    expect(thisMachine.alive(2 ** 30)).toBe(false);
  });
});
