// What processes that share a database keep in common beside the jobs: papers, one log, what is on its way in, bytes.
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PostgresStore } from '../../../src/store/postgres/postgres-store.ts';
import { type Cluster, hasPostgres, startCluster, WITHOUT_POSTGRES } from './cluster.ts';
import { postgresHarness } from './postgres-harness.ts';

describe.skipIf(!hasPostgres)(`the shelf in a database ${WITHOUT_POSTGRES}`, () => {
  let cluster: Cluster;
  let url = '';
  const ends: (() => Promise<void>)[] = [];
  beforeAll(async () => {
    cluster = await startCluster();
    url = await cluster.database('shelf');
  }, 60_000);
  afterAll(async () => {
    for (const end of ends) await end();
    await cluster?.stop();
  }, 60_000);

  const two = async (): Promise<readonly [PostgresStore, PostgresStore]> => {
    const { store, second, end } = await postgresHarness(url);
    ends.push(end);
    const other = second();
    await other.open();
    return [store, other];
  };
  const line = (body: string, roll = '', once?: string) => ({
    roll,
    about: body,
    ...(once === undefined ? {} : { once }),
    body,
  });

  it('changes a paper for one of two who made their change from the same text', async () => {
    const [one, other] = await two();
    expect(await one.shared.shelf.paper('passes')).toBeUndefined();
    const first = await Promise.all(
      [one, other].map((each, n) => each.shared.shelf.writePaper('passes', `from ${n}`, 0)),
    );
    expect(first.toSorted()).toEqual([false, true]);
    const read = await other.shared.shelf.paper('passes');
    expect(read?.text).toBe(`from ${first.indexOf(true)}`);
    const then = await Promise.all(
      [one, other].map((each, n) =>
        each.shared.shelf.writePaper('passes', `again ${n}`, read?.rev ?? 0),
      ),
    );
    expect(then.toSorted()).toEqual([false, true]);
    expect((await one.shared.shelf.paper('passes'))?.text).toBe(`again ${then.indexOf(true)}`);
  });

  it('lists papers by how their name begins, whatever signs are in it', async () => {
    const [one, other] = await two();
    for (const name of ['plan:b', 'plan:a', 'plan_x', 'planes', 'pl%n:\u0000'])
      await one.shared.shelf.writePaper(name, '{}', 0);
    const names = async (prefix: string) =>
      (await other.shared.shelf.papers(prefix)).map(({ name }) => name);
    expect(await names('plan:')).toEqual(['plan:a', 'plan:b']);
    expect(await names('plan_')).toEqual(['plan_x']);
    expect(await names('pl%')).toEqual(['pl%n:\u0000']);
    await other.shared.shelf.removePaper('plan:a');
    expect(await names('plan:')).toEqual(['plan:b']);
  });

  it('shows no line before an earlier one, though many are added at once', async () => {
    const [one, other] = await two();
    const seen: number[] = [];
    let done = false;
    const reading = (async () => {
      for (let last = 0; !done || last < 80; ) {
        const lines = await other.shared.shelf.linesSince(last, 7);
        for (const { n } of lines) seen.push(n);
        last = lines.at(-1)?.n ?? last;
      }
    })();
    await Promise.all(
      Array.from({ length: 80 }, (_, n) =>
        (n % 2 === 0 ? one : other).shared.shelf.addLine(line(`${n}`)),
      ),
    );
    done = true;
    await reading;
    expect(seen).toEqual(Array.from({ length: 80 }, (_, n) => n + 1));
    expect(await one.shared.shelf.head()).toEqual({ n: 80, epoch: 0 });
  });

  it('keeps a line with a mark once, whoever adds it again', async () => {
    const [one, other] = await two();
    await Promise.all(
      [one, other, one, other].map((each) =>
        each.shared.shelf.addLine(line('said', 'root', 'said:c-1')),
      ),
    );
    expect(await one.shared.shelf.linesSince(0, 10)).toHaveLength(1);
  });

  it('gives a roll with what the common one says of its root, up to a place', async () => {
    const [one] = await two();
    const { shelf } = one.shared;
    await shelf.addLine({ roll: '', about: 'p-1', body: 'posted' });
    await shelf.addLine({ roll: '', about: 'p-2', body: 'another' });
    await shelf.addLine({ roll: 'p-1', about: 'm-1', body: 'said' });
    const upTo = await shelf.addLine({ roll: '', about: 'p-1', body: 'redrawn' });
    await shelf.addLine({ roll: 'p-1', about: 'm-2', body: 'later' });
    expect((await shelf.linesOf('p-1', upTo)).map(({ body }) => body)).toEqual([
      'posted',
      'said',
      'redrawn',
    ]);
    expect(new Set(await shelf.rolls())).toEqual(new Set(['', 'p-1']));
  });

  it('writes lines anew and says that whoever holds some has to read them again', async () => {
    const [one, other] = await two();
    for (const body of ['Jo did it', 'Ada did it']) await one.shared.shelf.addLine(line(body));
    const count = await other.shared.shelf.rewriteLines(({ body }) => body.replace('Jo', 'X'));
    expect(count).toBe(1);
    expect((await one.shared.shelf.linesSince(0, 10)).map(({ body }) => body)).toEqual([
      'X did it',
      'Ada did it',
    ]);
    expect((await one.shared.shelf.head()).epoch).toBe(1);
    expect(await other.shared.shelf.rewriteLines(() => undefined)).toBe(0);
    expect((await one.shared.shelf.head()).epoch).toBe(1);
  });

  it('lets another process see to what one left behind on its way in', async () => {
    const [one, other] = await two();
    await one.shared.shelf.hold('bench:1', 'first');
    await one.shared.shelf.hold('bench:2', 'second');
    expect(await other.shared.shelf.leftBehind(60)).toEqual([]);
    // After no time at all everything counts as left.
    expect(await other.shared.shelf.leftBehind(0)).toEqual(['first', 'second']);
    await other.shared.shelf.rewriteHeld((body) => (body === 'second' ? 'changed' : undefined));
    await one.shared.shelf.letGo('bench:1', line('taken', '', 'taken:1'));
    expect(await other.shared.shelf.leftBehind(0)).toEqual(['changed']);
    expect((await other.shared.shelf.linesSince(0, 10)).map(({ body }) => body)).toEqual(['taken']);
    await other.shared.shelf.letGo('bench:2');
    expect(await one.shared.shelf.leftBehind(0)).toEqual([]);
  });

  it('keeps bytes under a name once, and for so many days', async () => {
    const [one, other] = await two();
    await one.shared.shelf.keepBytes('photo:a.jpg', Buffer.from([1, 2, 3]));
    await other.shared.shelf.keepBytes('photo:a.jpg', Buffer.from([4]));
    expect(await other.shared.shelf.sizeOf('photo:a.jpg')).toBe(3);
    expect(await other.shared.shelf.namesOfBytes('photo:')).toEqual(['photo:a.jpg']);
    expect(await other.shared.shelf.namesOfBytes('phot_:')).toEqual([]);
    expect([...((await other.shared.shelf.readBytes('photo:a.jpg')) ?? [])]).toEqual([1, 2, 3]);
    expect(await one.shared.shelf.readBytes('photo:b.jpg')).toBeUndefined();
    await one.shared.shelf.clearBytes('photo:', 1);
    expect(await one.shared.shelf.sizeOf('photo:a.jpg')).toBe(3);
    await one.shared.shelf.clearBytes('other:', 0);
    expect(await one.shared.shelf.sizeOf('photo:a.jpg')).toBe(3);
    await one.shared.shelf.clearBytes('photo:', 0);
    expect(await one.shared.shelf.sizeOf('photo:a.jpg')).toBeUndefined();
  });

  it('shows nothing of it to another workshop', async () => {
    const [one] = await two();
    const [another] = await two();
    await one.shared.shelf.writePaper('passes', 'x', 0);
    await one.shared.shelf.addLine(line('x'));
    await one.shared.shelf.keepBytes('x', Buffer.from('x'));
    expect(await another.shared.shelf.papers('')).toEqual([]);
    expect(await another.shared.shelf.linesSince(0, 10)).toEqual([]);
    expect(await another.shared.shelf.readBytes('x')).toBeUndefined();
  });
});
