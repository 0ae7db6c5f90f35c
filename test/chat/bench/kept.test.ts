// The bench in the folder of one process and on the shelf of several, and what several make of it.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openPasses, removePersonFromPasses } from '../../../src/chat/bench/door/passes.ts';
import { openTries, TRIES_EACH } from '../../../src/chat/bench/door/tries.ts';
import type { BenchKept } from '../../../src/chat/bench/kept/bench-kept.ts';
import { benchInFolder } from '../../../src/chat/bench/kept/in-folder.ts';
import { benchOnShelf } from '../../../src/chat/bench/kept/on-shelf.ts';
import { openPosting } from '../../../src/chat/bench/talk/posting.ts';
import {
  removeOldTalkOnShelf,
  removePersonFromShelf,
} from '../../../src/chat/bench/talk/shelf-removal.ts';
import {
  type Cluster,
  hasPostgres,
  startCluster,
  WITHOUT_POSTGRES,
} from '../../store/postgres/cluster.ts';
import { postgresHarness } from '../../store/postgres/postgres-harness.ts';
import {
  benchKeptContract,
  floor,
  type KeptHarness,
  post,
  said,
  takerOf,
  textsIn,
} from './kept-contract.ts';

benchKeptContract(
  'in a folder',
  async () => {
    const folder = await mkdtemp(join(tmpdir(), 'bench-kept-'));
    let kept = await benchInFolder(folder);
    return {
      kept,
      again: async () => {
        await kept.close();
        kept = await benchInFolder(folder);
        return kept;
      },
      end: async () => {
        await kept.close();
        await rm(folder, { recursive: true, force: true });
      },
    };
  },
  true,
);

describe.skipIf(!hasPostgres)(`on a shelf in a database ${WITHOUT_POSTGRES}`, () => {
  let cluster: Cluster;
  let url = '';
  beforeAll(async () => {
    cluster = await startCluster();
    url = await cluster.database('bench');
  }, 60_000);
  afterAll(() => cluster?.stop(), 60_000);

  const open = async (): Promise<KeptHarness & { readonly shelf: ShelfOf }> => {
    const { store, second, end } = await postgresHarness(url);
    const kept: BenchKept[] = [await benchOnShelf(store.shared.shelf)];
    return {
      shelf: store.shared.shelf,
      kept: kept[0] as BenchKept,
      again: async () => {
        const other = second();
        await other.open();
        const next = await benchOnShelf(other.shared.shelf);
        kept.push(next);
        return next;
      },
      end: async () => {
        for (const each of kept) await each.close();
        await end();
      },
    };
  };
  type ShelfOf = Awaited<ReturnType<typeof postgresHarness>>['store']['shared']['shelf'];

  benchKeptContract('on a shelf', open, false);

  describe('several processes', () => {
    it('show each other what is said, told in the same order', async () => {
      const { kept: one, again, end } = await open();
      const two = await again();
      const heard: Record<string, string[]> = { one: [], two: [] };
      one.conversation.onEntry(({ id }) => void heard.one?.push(id));
      two.conversation.onEntry(({ id }) => void heard.two?.push(id));
      const root = await post(one, '1042/sheet');
      const intake = floor();
      await Promise.all(
        Array.from({ length: 9 }, (_, n) =>
          takerOf(n % 2 === 0 ? one : two, intake).take(said(n, `line ${n}`, root)),
        ),
      );
      await Promise.all([one, two].map((each) => each.conversation.refresh()));
      expect(await textsIn(one, root)).toEqual(await textsIn(two, root));
      expect(await textsIn(two, root)).toHaveLength(10);
      expect(heard.one).toEqual(heard.two);
      expect(new Set(heard.two).size).toBe(10);
      await end();
    });

    it('take a message once that a page sent to two of them', async () => {
      const { kept: one, again, end } = await open();
      const two = await again();
      const intake = floor();
      const answers = await Promise.all(
        [one, two].map((each) => takerOf(each, intake).take(said(1, 'drained 28 L'))),
      );
      expect(answers).toEqual(['taken', 'taken']);
      expect(intake.taken).toHaveLength(1);
      expect(await textsIn(two)).toEqual(['drained 28 L']);
      await end();
    });

    it('hide what another one has not handed in yet, and see to it when that one is gone', async () => {
      const { kept: one, again, end, shelf } = await open();
      const two = await again();
      // It dies between writing it down and handing it in.
      void takerOf(one, { ...floor(), accept: () => new Promise(() => undefined) }).take(
        said(1, 'drained 28 L'),
      );
      await expect.poll(() => textsIn(two)).toEqual(['drained 28 L']);
      expect(two.arrivals.isHeldNew('bench:client-01')).toBe(true);
      expect(await two.arrivals.left()).toEqual([]);
      // A quarter of a minute later, by the database's clock.
      const left = {
        ...two.arrivals,
        left: async () => (await shelf.leftBehind(0)).map((body) => JSON.parse(body)),
      };
      const intake = floor();
      await takerOf({ ...two, arrivals: left }, intake).takeLeft();
      expect(intake.taken).toEqual(['bench:client-01']);
      expect(two.arrivals.isHeldNew('bench:client-01')).toBe(false);
      expect(await shelf.leftBehind(0)).toEqual([]);
      await end();
    });

    it('let in by a code that another one gave, once, and end a pass for all', async () => {
      const { kept: one, again, end } = await open();
      const two = await again();
      const [here, there] = [await openPasses(one.papers), await openPasses(two.papers)];
      const { code } = await here.invite({ kind: 'own', name: 'Ada' }, 'Kim', NOW);
      const came = await Promise.all([here, there].map((each) => each.enter(code, NOW)));
      const [entered] = came.filter((each) => each !== undefined);
      expect(came.filter((each) => each !== undefined)).toHaveLength(1);
      expect((await here.passOf(entered?.secret ?? '', NOW))?.name).toBe('Ada');
      expect((await there.passOf(entered?.secret ?? '', NOW))?.name).toBe('Ada');
      await there.end(entered?.pass.id ?? '');
      expect(await here.passOf(entered?.secret ?? '', NOW)).toBeUndefined();
      await end();
    });

    it('count wrong codes together', async () => {
      const { kept: one, again, end } = await open();
      const two = await again();
      const all = await Promise.all(
        Array.from({ length: TRIES_EACH * 2 }, (_, n) =>
          openTries((n % 2 === 0 ? one : two).papers).take('own Ada', false, Date.parse(NOW)),
        ),
      );
      expect(all.filter((until) => until === undefined)).toHaveLength(TRIES_EACH);
      await end();
    });

    it('draw a root anew wherever its thread is open, and find a post by its key', async () => {
      const { kept: one, again, end } = await open();
      const two = await again();
      const root = await post(one, '1042/sheet');
      expect(await textsIn(two, root)).toEqual(['Card 1042/sheet.']);
      const posting = openPosting(one.conversation, () => NOW);
      await posting.edit({ place: YARD, message: root }, { text: 'Newer.', blocks: [] });
      expect(await textsIn(two, root)).toEqual(['Newer.']);
      const there = openPosting(two.conversation, () => NOW);
      expect((await there.find(YARD, '1042/sheet'))?.message).toBe(root);
      await end();
    });

    it('take out a person and old words for all, whoever has them open', async () => {
      const { kept: one, again, end, shelf } = await open();
      const two = await again();
      const root = await post(one, '1042/sheet');
      await takerOf(one).take(said(1, 'Jo drained it', root, 'Jo'));
      await takerOf(one).take(said(2, 'cheers', undefined, 'Bo'));
      expect(await textsIn(two, root)).toEqual(['Card 1042/sheet.', 'Jo drained it']);
      expect(await removePersonFromShelf(shelf, ['Jo'])).toBe(1);
      await Promise.all([one, two].map((each) => each.conversation.refresh()));
      for (const each of [one, two]) {
        expect((await textsIn(each, root)).join()).not.toContain('Jo');
        expect((await each.conversation.rollAt(root))?.entry('m-client-01')?.by).not.toBe('Jo');
      }
      const later = '2026-06-01T00:00:00.000Z';
      expect(await removeOldTalkOnShelf(shelf, later, new Set([root]))).toBe(1);
      expect(await textsIn(two)).toEqual(['Card 1042/sheet.', '(removed)']);
      expect((await textsIn(two, root))[1]).toContain('drained it');
      expect(await removeOldTalkOnShelf(shelf, NOW, new Set())).toBe(0);
      const passes = await openPasses(one.papers);
      await passes.setOwnCode('Jo', 'spanner-19');
      expect(await removePersonFromPasses(two.papers, ['Jo'])).toBe(1);
      expect((await passes.ownCodes(['Jo'])).size).toBe(0);
      await end();
    });
  });
});

const NOW = '2026-03-10T08:00:00.000Z';
const YARD = { team: 'bench', place: 'yard' } as const;
