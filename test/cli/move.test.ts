// `move` to a database and back, and the other commands with the jobs in a database, each as its user gives it.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openPasses } from '../../src/chat/bench/door/passes.ts';
import { openTries, ownCodeKey } from '../../src/chat/bench/door/tries.ts';
import { benchInFolder } from '../../src/chat/bench/kept/in-folder.ts';
import { benchOnShelf } from '../../src/chat/bench/kept/on-shelf.ts';
import { openDatabase } from '../../src/store/postgres/database.ts';
import { postgresStore } from '../../src/store/postgres/postgres-store.ts';
import { floor as intake, post, said, takerOf, textsIn } from '../chat/bench/kept-contract.ts';
import { floorOn, keepingChannel, message, OPEN } from '../floor/workshop-floor.ts';
import {
  type Cluster,
  hasPostgres,
  startCluster,
  WITHOUT_POSTGRES,
} from '../store/postgres/cluster.ts';
import { runCommand } from './run-command.ts';

const NOW = '2026-03-10T08:00:00.000Z';
const SETTINGS = `workshop: Harrow Lane depot
zone: Europe/London
people:
  - { name: Ada, roles: [technician] }
  - { name: Robin, roles: [controller] }
`;

describe.skipIf(!hasPostgres)(`jobs in a database ${WITHOUT_POSTGRES}`, () => {
  let cluster: Cluster;
  let url = '';
  let data = '';
  let back = '';
  let root = '';
  let chains = '';
  const withDatabase = (...args: string[]) =>
    runCommand(args, { env: { CHARGEHAND_DATABASE: url } });
  const chainsIn = (out: string): string => out.split('\n').sort().join('\n');

  beforeAll(async () => {
    cluster = await startCluster();
    url = await cluster.database('moved');
    data = mkdtempSync(join(tmpdir(), 'chargehand-move-'));
    back = join(mkdtempSync(join(tmpdir(), 'chargehand-back-')), 'again');
    writeFileSync(join(data, 'settings.yaml'), SETTINGS);
    const channel = keepingChannel();
    const floor = await floorOn(join(data, 'jobs'), [channel]);
    for (const [n, job] of ['1042', '1043'].entries()) {
      await channel.intake().accept(message(`o${n}`, 'Robin', OPEN.replace('1042', job)));
      await floor.calm();
    }
    await floor.running.stop();
    const bench = await benchInFolder(join(data, 'bench'));
    root = await post(bench, '1042/sheet');
    await takerOf(bench).take(said(1, 'drained 28 L', root));
    // It ended between writing this down and handing it in.
    const ended = { ...intake(), accept: () => Promise.reject(new Error('It ended.')) };
    await takerOf(bench, ended).take(said(2, 'filled 30 L', root));
    await (await openPasses(bench.papers)).setOwnCode('Ada', 'spanner-19');
    await bench.photos.keep('photo-id-0123456789.jpg', Buffer.from([1, 2, 3]));
    await bench.close();
    chains = chainsIn(runCommand(['verify', '--data', data]).out);
  }, 120_000);
  afterAll(async () => {
    await cluster?.stop();
    rmSync(data, { recursive: true, force: true });
    rmSync(join(back, '..'), { recursive: true, force: true });
  }, 60_000);

  it('go there with their chains, and the bench with them', async () => {
    expect(chains).toMatch(/Job 1042: unbroken[\s\S]*Job 1043: unbroken/u);
    const moved = withDatabase('move', '--to', 'postgres', '--data', data);
    expect(moved.err).toBe('');
    expect(moved.out).toMatch(/^Moved [23] jobs with \d+ events/u);
    expect(moved.out).toContain('With them went 3 lines and 1 photos of the bench.');
    const verified = withDatabase('verify', '--data', data);
    expect(chainsIn(verified.out)).toBe(chains);
    expect(verified.code).toBe(0);
    const store = postgresStore({ url, workshop: 'Harrow Lane depot', clock: () => NOW });
    await store.open();
    const bench = await benchOnShelf(store.shared.shelf);
    expect(await textsIn(bench, root)).toEqual(['Card 1042/sheet.', 'drained 28 L', 'filled 30 L']);
    // What the floor may not have is handed in again, and shown then.
    expect(bench.arrivals.isHeldNew('bench:client-02')).toBe(true);
    const left = await store.shared.shelf.leftBehind(0);
    const arrivals = { ...bench.arrivals, left: async () => left.map((body) => JSON.parse(body)) };
    const taking = intake();
    await takerOf({ ...bench, arrivals }, taking).takeLeft();
    expect(taking.taken).toContain('bench:client-02');
    for (const id of ['bench:client-01', 'bench:client-02'])
      expect(bench.arrivals.isHeldNew(id)).toBe(false);
    expect(await store.shared.shelf.leftBehind(0)).toEqual([]);
    expect([...(await (await openPasses(bench.papers)).ownCodes(['Ada', 'Robin']))]).toEqual([
      'Ada',
    ]);
    await bench.close();
    await store.close();
  });

  it('are verified one by one, and a changed one is found', async () => {
    expect(withDatabase('verify', '1042', '--data', data).out).toMatch(/^Job 1042: unbroken/u);
    expect(withDatabase('verify', '9999', '--data', data)).toMatchObject({ code: 1 });
    const database = openDatabase(url);
    const change = (from: string, to: string) =>
      database.ask(
        `update chargehand.job_event set body = replace(body, $1, $2) where job = '1043' and n = 0`,
        [from, to],
      );
    await change('bus 17', 'bus 71');
    const broken = withDatabase('verify', '--data', data);
    expect(broken.out).toMatch(/Job 1043: (?:BROKEN at event 0|DAMAGED)/u);
    expect(broken.code).toBe(1);
    await change('bus 71', 'bus 17');
    await database.close();
  });

  it('give their record', () => {
    const { out, code } = withDatabase('record', '1042', '--format', 'json', '--data', data);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ job: { number: '1042' } });
  });

  it('are backed up and restored by the means of the database, which the commands say', () => {
    const backup = withDatabase('backup', join(data, 'copy'), '--data', data);
    expect([backup.code, backup.err]).toEqual([1, expect.stringContaining('pg_dump')]);
    const restore = withDatabase('restore', join(data, 'copy'), '--data', join(data, 'new'));
    expect([restore.code, restore.err]).toEqual([1, expect.stringContaining('pg_restore')]);
  });

  it('lose words and persons by command, and the chains hold', async () => {
    const store = postgresStore({ url, workshop: 'Harrow Lane depot', clock: () => NOW });
    await store.open();
    const { shelf } = store.shared;
    await (await openPasses(shelf)).invite({ kind: 'own', name: 'Ada' }, 'Robin', NOW);
    await openTries(shelf).take(ownCodeKey('Ada'), false, Date.parse(NOW));
    const papers = async () => (await shelf.papers('')).map(({ text }) => text).join('\n');
    expect((await papers()).split('Ada')).toHaveLength(4);
    const retained = withDatabase('retain', '--days', '1', '--data', data);
    expect(retained.code, retained.err).toBe(0);
    const forgotten = withDatabase('forget', 'Ada', '--data', data);
    expect(forgotten.out).toContain('Removed "Ada" from');
    expect(forgotten.out).toContain(' on the bench.');
    expect(withDatabase('verify', '--data', data).code).toBe(0);
    const bench = await benchOnShelf(shelf);
    const entries = (await bench.conversation.rollAt(root))?.entries() ?? [];
    expect(JSON.stringify(entries)).not.toContain('Ada');
    expect((await (await openPasses(bench.papers)).ownCodes(['Ada'])).size).toBe(0);
    expect(await papers()).not.toContain('Ada');
    await bench.close();
    await store.close();
  });

  it('come back into a folder with their chains', async () => {
    const before = chainsIn(withDatabase('verify', '--data', data).out);
    const moved = withDatabase('move', '--to', 'folder', '--into', back, '--data', data);
    expect(moved.err).toBe('');
    expect(chainsIn(runCommand(['verify', '--data', back]).out)).toBe(before);
    const bench = await benchInFolder(join(back, 'bench'));
    expect(await textsIn(bench, root)).toHaveLength(3);
    expect(await bench.photos.size('photo-id-0123456789.jpg')).toBe(3);
    await bench.close();
  });
});
