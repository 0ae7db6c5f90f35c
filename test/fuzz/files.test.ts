// Settings and the bench's own files changed byte by byte: complaints in words, or what is whole; never a crash.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openArrivals } from '../../src/chat/bench/talk/arrivals.ts';
import { openConversation } from '../../src/chat/bench/talk/conversation.ts';
import { readSettings } from '../../src/desk/settings-file.ts';
import { ROOT } from '../layout/sources.ts';
import { delivery } from '../store/sample.ts';
import { casesOf, SEED } from './wild.ts';

const scratches = fc.array(
  fc.record({
    at: fc.nat({ max: 1_000_000 }),
    take: fc.integer({ min: 0, max: 6 }),
    put: fc.uint8Array({ maxLength: 4 }),
  }),
  { minLength: 1, maxLength: 4 },
);
type Scratch = { readonly at: number; readonly take: number; readonly put: Uint8Array };

const scratched = (bytes: Buffer, changes: readonly Scratch[]): Buffer => {
  let out = bytes;
  for (const { at, take, put } of changes) {
    const place = at % (out.length + 1);
    out = Buffer.concat([out.subarray(0, place), put, out.subarray(place + take)]);
  }
  return out;
};

describe('settings changed byte by byte', () => {
  const whole = readFileSync(join(ROOT, 'data/demo/settings.yaml'));
  const runs = Math.max(300, Math.round(casesOf(0) / 20));
  it(`${runs} files: settings, or complaints that name a line and what to do`, () => {
    fc.assert(
      fc.property(scratches, (changes) => {
        const text = scratched(whole, changes).toString('utf8');
        const read = readSettings(text, 'settings.yaml');
        if (read.ok) {
          expect(read.settings.people.length).toBeGreaterThan(0);
          return;
        }
        expect(read.complaints.length).toBeGreaterThan(0);
        const lines = text.split('\n').length;
        for (const complaint of read.complaints) {
          const line = /^settings\.yaml:(\d+): ./u.exec(complaint)?.[1];
          expect(Number(line)).toBeGreaterThan(0);
          expect(Number(line)).toBeLessThanOrEqual(lines);
          expect(complaint).not.toMatch(/undefined|\[object|Invalid input/u);
        }
      }),
      { numRuns: runs, seed: SEED },
    );
  }, 600_000);
});

describe("the bench's files changed byte by byte", () => {
  const said = (n: number) => ({
    ...{ what: 'said', id: `m-${n}`, client: `client-${n}`, at: '2026-03-10T07:00:00.000Z' },
    ...{ by: 'Ada', text: `report ${n}` },
  });
  const lines = [1, 2, 3].map(said);
  const yard = Buffer.from(lines.map((line) => `${JSON.stringify(line)}\n`).join(''));
  const arrivals = Buffer.from(`${JSON.stringify(delivery(1))}\n${JSON.stringify(delivery(2))}\n`);
  const runs = Math.max(60, Math.round(casesOf(0) / 200));
  it(`${runs} folders open, with what is whole in them`, async () => {
    const folder = mkdtempSync(join(tmpdir(), 'bench-files-'));
    try {
      await fc.assert(
        fc.asyncProperty(scratches, scratches, async (inYard, inArrivals) => {
          rmSync(folder, { recursive: true });
          mkdirSync(folder);
          writeFileSync(join(folder, 'yard.jsonl'), scratched(yard, inYard));
          writeFileSync(join(folder, 'arrivals.jsonl'), scratched(arrivals, inArrivals));
          const conversation = await openConversation(folder);
          const held = await openArrivals(folder);
          try {
            expect(conversation.yard.entries().length).toBeLessThanOrEqual(
              lines.length + inYard.length * 2,
            );
            for (const each of await held.left())
              expect(each.channel).toMatch(/^(?:bench|slack|teams)$/u);
            // It goes on: what is added is there.
            await conversation.add(
              conversation.yard,
              said(9) as Parameters<typeof conversation.add>[1],
            );
            expect(conversation.yard.entry('m-9')?.text).toBe('report 9');
          } finally {
            await conversation.close();
            await held.close();
          }
        }),
        { numRuns: runs, seed: SEED },
      );
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }, 600_000);
});
