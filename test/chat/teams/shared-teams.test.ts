// Teams at two processes of one database: where conversations are reached, and pictures that either of them is asked for.
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addressBook } from '../../../src/chat/teams/address-book.ts';
import { sharedPictures } from '../../../src/chat/teams/picture-shelf.ts';
import {
  type Cluster,
  hasPostgres,
  startCluster,
  WITHOUT_POSTGRES,
} from '../../store/postgres/cluster.ts';
import { postgresHarness } from '../../store/postgres/postgres-harness.ts';

describe.skipIf(!hasPostgres)(`Teams at two processes ${WITHOUT_POSTGRES}`, () => {
  let cluster: Cluster;
  let url = '';
  beforeAll(async () => {
    cluster = await startCluster();
    url = await cluster.database('teams');
  }, 60_000);
  afterAll(() => cluster?.stop(), 60_000);

  it('posts of its own accord where the other one was written to, at the newest address', async () => {
    const { store, second, end } = await postgresHarness(url);
    const other = second();
    await other.open();
    const [here, there] = [addressBook(store, true), addressBook(other, true)];
    await here.note('19:abc', { serviceUrl: 'https://one.example/', group: 'g-1' });
    await here.noteDirect('29:ada', 'a:direct');
    expect(await there.of('19:abc')).toEqual({ serviceUrl: 'https://one.example/', group: 'g-1' });
    expect(await there.directOf('29:ada')).toBe('a:direct');
    await there.note('19:abc', { serviceUrl: 'https://two.example/' });
    expect(await here.of('19:abc')).toEqual({ serviceUrl: 'https://two.example/', group: 'g-1' });
    await end();
  });

  it('shows a picture whichever of them is asked for it, for so many days', async () => {
    const { store, second, end } = await postgresHarness(url);
    const other = second();
    await other.open();
    const name = await sharedPictures(store.shared.shelf).keep(Buffer.from([1, 2, 3]), 'png');
    expect(name).toMatch(/^[0-9a-f]{64}\.png$/u);
    const taken = await sharedPictures(other.shared.shelf).take(name);
    expect(taken && [taken.type, ...taken.bytes]).toEqual(['image/png', 1, 2, 3]);
    expect(await sharedPictures(other.shared.shelf).take(`${'0'.repeat(64)}.png`)).toBeUndefined();
    expect(await sharedPictures(other.shared.shelf).take('../passes.png')).toBeUndefined();
    await sharedPictures(other.shared.shelf).clear(0);
    expect(await sharedPictures(store.shared.shelf).take(name)).toBeDefined();
    await end();
  });
});
