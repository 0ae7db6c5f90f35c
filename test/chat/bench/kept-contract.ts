// What the bench keeps, whichever form it has: held for the folder of one process and for the shelf of several.
import { createHash, scryptSync } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import type { Delivery } from '../../../shared/delivery.ts';
import { openPasses } from '../../../src/chat/bench/door/passes.ts';
import { openTries, TRIES_EACH, TRIES_IN_ALL } from '../../../src/chat/bench/door/tries.ts';
import type { BenchKept } from '../../../src/chat/bench/kept/bench-kept.ts';
import { openHandIn } from '../../../src/chat/bench/talk/hand-in.ts';
import { openPhotos } from '../../../src/chat/bench/talk/photos.ts';
import { openPosting } from '../../../src/chat/bench/talk/posting.ts';
import { changePaper } from '../../../src/chat/change-paper.ts';
import type { Intake } from '../../../src/chat/channel.ts';

export type KeptHarness = {
  readonly kept: BenchKept;
  /** Stops it and opens it again; in the shared form as another process. */
  readonly again: () => Promise<BenchKept>;
  readonly end: () => Promise<void>;
};

const NOW = '2026-03-10T08:00:00.000Z';
const NOW_MS = Date.parse(NOW);
const YARD = { team: 'bench', place: 'yard' } as const;

export const said = (n: number, text: string, thread?: string, person = 'Ada') =>
  ({
    id: `bench:client-0${n}`,
    keys: [],
    channel: 'bench',
    ...YARD,
    ...(thread === undefined ? {} : { thread }),
    person,
    at: NOW,
    kind: 'message',
    message: `m-client-0${n}`,
    text,
  }) satisfies Delivery;

/** A floor that takes everything in, once. */
export const floor = (): Pick<Intake, 'accept' | 'formFor'> & { readonly taken: string[] } => {
  const taken: string[] = [];
  return {
    taken,
    accept: async ({ id }) => {
      if (taken.includes(id)) return 'seen';
      taken.push(id);
      return 'new';
    },
    formFor: async () => undefined,
  };
};

export const takerOf = (kept: BenchKept, intake = floor()) =>
  openHandIn(kept.conversation, kept.arrivals, intake);

export const post = async (kept: BenchKept, key: string, thread?: string): Promise<string> => {
  const posting = openPosting(kept.conversation, () => NOW);
  const card = { text: `Card ${key}.`, blocks: [] };
  const done = await posting.post({ ...YARD, ...(thread ? { thread } : {}) }, card, key);
  if (!done.ok) throw new Error('It was not posted.');
  return done.posted.message;
};

export const textsIn = async (kept: BenchKept, thread?: string): Promise<readonly string[]> =>
  ((await kept.conversation.rollAt(thread))?.entries() ?? []).map(
    ({ text, card }) => text ?? card?.text ?? '',
  );

export const benchKeptContract = (
  name: string,
  open: () => Promise<KeptHarness>,
  /** What ends with a restart: nothing where several processes share it. */
  forgets: boolean,
): void => {
  describe(`what the bench keeps: ${name}`, () => {
    it('keeps what is said and posted in order, in the yard and in a thread, over a restart', async () => {
      const { kept, again, end } = await open();
      const root = await post(kept, '1042/sheet');
      const taker = takerOf(kept);
      expect(await taker.take(said(1, 'in the yard'))).toBe('taken');
      expect(await taker.take(said(2, 'first', root))).toBe('taken');
      await post(kept, '1042/reply', root);
      expect(await taker.take(said(3, 'second', root))).toBe('taken');
      const yard = ['Card 1042/sheet.', 'in the yard'];
      const thread = ['Card 1042/sheet.', 'first', 'Card 1042/reply.', 'second'];
      expect(await textsIn(kept)).toEqual(yard);
      expect(await textsIn(kept, root)).toEqual(thread);
      const then = await again();
      expect(await textsIn(then)).toEqual(yard);
      expect(await textsIn(then, root)).toEqual(thread);
      expect(then.conversation.hasThread(root)).toBe(true);
      expect(await then.conversation.rollAt('p-nowhere')).toBeUndefined();
      await end();
    });

    it('takes what is sent twice once', async () => {
      const { kept, again, end } = await open();
      const intake = floor();
      const taker = takerOf(kept, intake);
      await Promise.all([1, 1, 1].map((n) => taker.take(said(n, 'drained 28 L'))));
      expect(intake.taken).toEqual(['bench:client-01']);
      expect(await textsIn(kept)).toEqual(['drained 28 L']);
      const then = await again();
      expect(await takerOf(then, intake).take(said(1, 'drained 28 L'))).toBe('taken');
      expect(await textsIn(then)).toEqual(['drained 28 L']);
      const other = await takerOf(then, intake).take(said(1, 'another', undefined, 'Bo'));
      expect(other).toMatchObject({ status: 409 });
      await end();
    });

    it('shows nothing that the floor has not taken in, and everything once it has', async () => {
      const { kept, end } = await open();
      let letIn: () => void = () => undefined;
      const gate = new Promise<void>((done) => {
        letIn = done;
      });
      const told: string[] = [];
      kept.conversation.onEntry(({ id }) => void told.push(id));
      const going = takerOf(kept, {
        ...floor(),
        accept: async () => {
          await gate;
          return 'new';
        },
      }).take(said(1, 'drained 28 L'));
      await expect.poll(() => kept.conversation.yard.entry('m-client-01')).toBeDefined();
      expect(kept.arrivals.isHeldNew('bench:client-01')).toBe(true);
      expect(told).toEqual([]);
      letIn();
      expect(await going).toBe('taken');
      expect(kept.arrivals.isHeldNew('bench:client-01')).toBe(false);
      expect(told).toEqual(['m-client-01']);
      await end();
    });

    it('changes, takes back, redraws, signs and pins what is there, over a restart', async () => {
      const { kept, again, end } = await open();
      const root = await post(kept, '1042/sheet');
      const taker = takerOf(kept);
      await taker.take(said(1, 'draned 28 L', root));
      await taker.take(said(2, 'wrong job', root));
      const { text: _, ...of } = said(3, '', root);
      await taker.take({ ...of, kind: 'edit', message: 'm-client-01', text: 'drained 28 L' });
      const { text: __, ...gone } = said(4, '', root);
      await taker.take({ ...gone, kind: 'delete', message: 'm-client-02' });
      const posting = openPosting(kept.conversation, () => NOW);
      const place = { ...YARD, thread: root };
      await posting.sign(place, 'm-client-01', 'recorded');
      await posting.edit({ place: YARD, message: root }, { text: 'Sheet, newer.', blocks: [] });
      await posting.pin({ place: YARD, message: root });
      for (const each of [kept, await again()]) {
        const roll = await each.conversation.rollAt(root);
        expect(roll?.entry('m-client-01')).toMatchObject({
          text: 'drained 28 L',
          mark: 'recorded',
        });
        expect(roll?.entry('m-client-02')?.takenBack).toBe(true);
        expect(roll?.entry(root)).toMatchObject({ card: { text: 'Sheet, newer.' }, pinned: true });
      }
      await end();
    });

    it('lets in by a code once, and keeps the pass over a restart', async () => {
      const { kept, again, end } = await open();
      const passes = await openPasses(kept.papers);
      const { code, token } = await passes.invite({ kind: 'own', name: 'Ada' }, 'Kim', NOW);
      const came = await Promise.all([code, token].map((given) => passes.enter(given, NOW)));
      const [entered] = came.filter((each) => each !== undefined);
      expect(came.filter((each) => each !== undefined)).toHaveLength(1);
      await passes.setOwnCode('Ada', 'spanner-19');
      const then = await openPasses((await again()).papers);
      expect((await then.passOf(entered?.secret ?? '', NOW))?.name).toBe('Ada');
      expect(await then.ownCodeFits('Ada', 'spanner-19')).toBe(true);
      expect(await then.ownCodeFits('Ada', 'spanner-17')).toBe(false);
      expect([...(await then.ownCodes(['Ada', 'Bo']))]).toEqual(['Ada']);
      await then.end(entered?.pass.id ?? '');
      expect(await then.passOf(entered?.secret ?? '', NOW)).toBeUndefined();
      await end();
    });

    it('keeps of a code only what takes long to try, and of its token a hash', async () => {
      const { kept, end } = await open();
      const passes = await openPasses(kept.papers);
      const { code, token } = await passes.invite({ kind: 'own', name: 'Ada' }, 'Kim', NOW);
      const typed = code.replace('-', '');
      const text = (await kept.papers.paper('invited'))?.text ?? '';
      const plain = (secret: string) => createHash('sha256').update(secret).digest('hex');
      for (const each of [code, typed, token, plain(code), plain(typed)])
        expect(text).not.toContain(each);
      const [invited] = JSON.parse(text) as readonly Readonly<Record<string, string>>[];
      const [salt = '', hash] = invited?.code?.split(':') ?? [];
      expect(salt).toMatch(/^[0-9a-f]{32}$/u);
      expect(hash).toBe(scryptSync(typed, salt, 32).toString('hex'));
      expect(invited?.token).toBe(plain(token));
      await end();
    });

    it('takes a code out of use after ten minutes, and with the next one for the same name', async () => {
      const { kept, end } = await open();
      const passes = await openPasses(kept.papers);
      const first = await passes.invite({ kind: 'own', name: 'Ada' }, 'Kim', NOW);
      const second = await passes.invite({ kind: 'own', name: 'Ada' }, 'Kim', NOW);
      expect(await passes.enter(first.code, NOW)).toBeUndefined();
      const late = new Date(NOW_MS + 10 * 60_000).toISOString();
      expect(await passes.enter(second.code, late)).toBeUndefined();
      await end();
    });

    it('counts wrong codes one by one though they come at once', async () => {
      const { kept, end } = await open();
      const tries = openTries(kept.papers);
      const all = await Promise.all(
        Array.from({ length: TRIES_EACH + 7 }, () => tries.take('in 10.0.0.9', true, NOW_MS)),
      );
      expect(all.filter((until) => until === undefined)).toHaveLength(TRIES_EACH);
      expect(await tries.take('in 10.0.0.8', true, NOW_MS)).toBeUndefined();
      await tries.right('in 10.0.0.8', NOW_MS);
      for (let n = TRIES_EACH; n < TRIES_IN_ALL; n += 1)
        expect(await tries.take(`in 10.0.1.${n}`, true, NOW_MS)).toBeUndefined();
      expect(await tries.take('in 10.0.2.1', true, NOW_MS)).toBe(NOW_MS + 15 * 60_000);
      // What does not count in all goes on.
      expect(await tries.take('own Ada', false, NOW_MS)).toBeUndefined();
      await end();
    });

    it(`${forgets ? 'forgets' : 'keeps'} codes and tries over a restart`, async () => {
      const { kept, again, end } = await open();
      const { code } = await (await openPasses(kept.papers)).invite(
        { kind: 'own', name: 'Ada' },
        'Kim',
        NOW,
      );
      for (let n = 0; n < TRIES_EACH; n += 1)
        await openTries(kept.papers).take('own Ada', false, NOW_MS);
      const { papers } = await again();
      const entered = await (await openPasses(papers)).enter(code, NOW);
      const until = await openTries(papers).take('own Ada', false, NOW_MS);
      expect([entered?.pass.name, until === undefined]).toEqual(
        forgets ? [undefined, true] : ['Ada', false],
      );
      await end();
    });

    it('changes a paper by all who change it at once', async () => {
      const { kept, end } = await open();
      await Promise.all(
        Array.from({ length: 12 }, () =>
          changePaper(kept.papers, 'tries', (text) => [`${Number(text ?? 0) + 1}`, undefined]),
        ),
      );
      expect((await kept.papers.paper('tries'))?.text).toBe('12');
      await end();
    });

    it('signs contacts with the same secret after a restart', async () => {
      const { kept, again, end } = await open();
      expect(kept.secret).toHaveLength(32);
      expect((await again()).secret.equals(kept.secret)).toBe(true);
      await end();
    });

    it('keeps a photo once under its sender’s own id', async () => {
      const { kept, again, end } = await open();
      const jpeg = Buffer.from([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3]);
      const id = 'photo-id-0123456789';
      const first = await openPhotos(kept.photos).keep(jpeg, id);
      await openPhotos(kept.photos).keep(Buffer.concat([jpeg, jpeg]), id);
      expect(first).toEqual({ name: `${id}.jpg` });
      const photos = openPhotos((await again()).photos);
      expect(await photos.about(`${id}.jpg`)).toEqual({ type: 'image/jpeg', bytes: 7 });
      expect(Buffer.from((await photos.read(`${id}.jpg`)) ?? []).equals(jpeg)).toBe(true);
      expect(await photos.read(`${id}.png`)).toBeUndefined();
      expect(await photos.read('../passes.json')).toBeUndefined();
      await end();
    });
  });
};
