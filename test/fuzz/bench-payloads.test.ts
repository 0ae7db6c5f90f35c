// What the bench's page sends, with missing, extra and wrong-typed parts: refused in words or kept as a delivery in the
// strict form; never a fault of the bench, and the next proper message is taken and shown.
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Delivery } from '../../shared/delivery.ts';
import { type BenchRun, runBench } from '../chat/bench/bench-run.ts';
import { casesOf, mutated, mutations, SEED, wildText } from './wild.ts';

const CLOCKS = { typed: 1_741_084_000_000, sent: 1_741_084_001_000, contact: 'x y' };
const SAMPLES = [
  ['/api/message', { id: 'm-00000001', thread: null, text: 'drained 28 L' }],
  ['/api/message', { id: 'm-00000002', thread: null, text: 'drained', clocks: CLOCKS, photos: [] }],
  ['/api/tap', { id: 't-00000001', thread: null, intent: { do: 'open-job' } }],
  [
    '/api/tap',
    {
      ...{ id: 't-00000002', thread: null, message: 'p-1', times: ['promised'] },
      intent: { do: 'answer', job: '1042', question: 'q', choice: 1 },
      fields: { job: '1042', positions: ['cylinder 3'], promised: '2026-03-12T14:00' },
    },
  ],
  ['/api/form', { intent: { do: 'override', job: '1042', flag: 'skipped|x||' } }],
  ['/api/change', { id: 'c-00000001', thread: null, message: 'm-00000001', text: '26 L' }],
  ['/api/take-back', { id: 'b-00000001', thread: null, message: 'm-00000001' }],
  ['/api/who', { name: 'Sam' }],
] as const;

let run: BenchRun;
beforeEach(async () => {
  run = await runBench();
});
afterEach(() => run.end());

describe('over HTTP', () => {
  const runs = Math.max(200, Math.round(casesOf(0) / 40));
  it(`${runs} requests are answered, keep only deliveries, and leave the next message its way`, async () => {
    let number = 0;
    const statuses = new Set<number>();
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...SAMPLES), mutations, async ([path, sample], changes) => {
        const answer = await run.post(path, mutated(sample, changes), 'Sam');
        const body = await answer.text();
        statuses.add(answer.status);
        expect([path, answer.status < 500, body]).toEqual([path, true, body]);
        if (answer.status >= 400) {
          const { what, doThis } = JSON.parse(body);
          expect(what.length > 3 && doThis.length > 3).toBe(true);
          expect(body).not.toMatch(/Invalid|ZodError|at .*\.ts:/u);
        }
        for (const taken of run.floor.taken) Delivery.parse(taken);
        number += 1;
        if (number % 20 !== 0) return;
        const id = `proper-${String(number).padStart(8, '0')}`;
        const proper = await run.post('/api/message', { id, thread: null, text: id }, 'Sam');
        expect(proper.status).toBe(200);
        expect(run.floor.taken.filter((each) => 'text' in each && each.text === id).length).toBe(1);
      }),
      { numRuns: runs, seed: SEED },
    );
    expect(statuses.size).toBeGreaterThan(1);
  }, 600_000);

  it('texts of any Unicode are taken word for word or refused, and shown without becoming markup', async () => {
    let number = 0;
    await fc.assert(
      fc.asyncProperty(wildText, async (text) => {
        number += 1;
        const id = `text-${String(number).padStart(8, '0')}`;
        const answer = await run.post('/api/message', { id, thread: null, text }, 'Sam');
        await answer.arrayBuffer();
        const taken = run.floor.taken.filter((each) => each.id === `bench:${id}`);
        if (answer.status !== 200) {
          expect(taken).toEqual([]);
          return;
        }
        // What JSON carries: a lone half of a pair goes as it is.
        expect(taken.map((each) => 'text' in each && each.text)).toEqual([
          JSON.parse(JSON.stringify(text)),
        ]);
      }),
      { numRuns: Math.max(60, Math.round(casesOf(0) / 200)), seed: SEED },
    );
    const page = await (await run.get('/?all=yes', 'Sam')).text();
    expect(page).not.toMatch(/<script>|<!channel>/u);
  }, 600_000);

  const runsOfAddresses = Math.max(100, Math.round(casesOf(0) / 100));
  it(`${runsOfAddresses} addresses: a page, a redirection or a refusal`, async () => {
    const piece = fc.oneof(
      fc.constantFrom(
        'job',
        'photo',
        'picture',
        'page',
        'parts',
        'live',
        'wall',
        '..',
        '%2e%2e',
        '%00',
        '%ff',
        '1042',
        'card',
      ),
      fc.webSegment({ size: 'small' }).filter((segment) => segment !== ''),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.array(piece, { maxLength: 4 }),
        fc.webQueryParameters({ size: 'small' }),
        async (path, query) => {
          const answer = await run.get(`/${path.join('/')}?${query}`, 'Sam');
          // What goes on living has no end to wait for, whichever way led there.
          if (answer.headers.get('content-type')?.startsWith('text/event-stream'))
            await answer.body?.cancel();
          else await answer.arrayBuffer();
          expect([path.join('/'), answer.status < 500]).toEqual([path.join('/'), true]);
        },
      ),
      { numRuns: runsOfAddresses, seed: SEED },
    );
  }, 600_000);
});
