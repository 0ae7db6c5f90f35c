import { describe, expect, it } from 'vitest';
import { documentPdf } from '../../src/chat/document-pdf.ts';
import type { DocumentBlock, PrintDocument } from '../../src/report/document.ts';
import { jobRecord } from '../../src/report/job-record.ts';
import { recordDocument } from '../../src/report/record-document.ts';
import { END, OPTIONS, viewOf, WORK } from '../report/story.ts';
import { pdfPages } from './pdf-pages.ts';

const documentOf = (blocks: readonly DocumentBlock[]): PrintDocument => ({
  title: 'A record',
  running: 'Job 7, Bus 7',
  made: '2026-05-12T10:00:00+02:00',
  blocks,
});
const latin1 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');
const record = recordDocument(jobRecord(viewOf(WORK), WORK, OPTIONS));

describe('a document as PDF', () => {
  it.each([
    // ISO 216 A4 is 210 by 297 mm at 72/25.4 points a mm; Letter is 8.5 by 11 in at 72 points an inch.
    ['A4', '[0 0 595.28 841.89]'],
    ['LETTER', '[0 0 612 792]'],
  ] as const)('is printed on %s', async (paper, box) => {
    const file = latin1(await documentPdf(record, paper));
    expect(file.startsWith('%PDF-1.')).toBe(true);
    expect(
      new Set([...file.matchAll(/\/MediaBox (\[[^\]]*\])/gu)].map(([, found]) => found)),
    ).toEqual(new Set([box]));
  });

  it('numbers its pages, and names the job on each', async () => {
    const pages = pdfPages(await documentPdf(record));
    expect(pages.length).toBeGreaterThan(2);
    pages.forEach((page, index) => {
      expect(page).toContain(`page ${index + 1} of ${pages.length}`);
      expect(page).toContain('Job 1042, Bus 7. Record made 12 May 2026 10:00 (Europe/Berlin)');
    });
  });

  it('ends with the end of the chain and what it proves', async () => {
    const last = (pdfPages(await documentPdf(record)).at(-1) ?? '').replaceAll('\n', ' ');
    expect(last).toContain(END);
    expect(last).toContain('events was changed, left out, added or put in another order');
    expect(last).toContain('Sign-off');
  });

  it('has every word of the record on some page', async () => {
    const all = pdfPages(await documentPdf(record))
      .join(' ')
      .replaceAll(/\s+/gu, ' ');
    const cells = record.blocks.flatMap((block) =>
      block.kind === 'table' ? block.rows.flat() : [],
    );
    const short = cells.filter((cell) => cell !== '' && cell.length < 20);
    expect(short.length).toBeGreaterThan(50);
    expect(
      short.filter((cell) => !all.includes(cell.replaceAll(/\s+/gu, ' ')) && !cell.includes(' ')),
    ).toEqual([]);
  });

  it('has the characters of a workshop', async () => {
    const [page] = pdfPages(
      await documentPdf(
        documentOf([
          {
            kind: 'text',
            text: '45 N·m ±5 %, 90°, 4 × Ölfilter für Getriebe, weiß, 3 µm, 2 kΩ, ≥ 5',
          },
        ]),
      ),
    );
    expect(page).toContain('45 N·m ±5 %, 90°, 4 × Ölfilter für Getriebe, weiß, 3 µm, 2 kOhm, >= 5');
    expect(page).not.toContain('stand as "?"');
  });

  it('says so where it cannot show a character', async () => {
    const [page] = pdfPages(
      await documentPdf(documentOf([{ kind: 'text', text: 'done 👍 готово' }])),
    );
    expect(page).toContain('done ? ??????');
    expect(page?.replaceAll('\n', ' ')).toContain(
      '7 characters that these fonts do not have stand as "?"',
    );
  });

  it('carries the head of a table to every page it runs over', async () => {
    const rows = Array.from({ length: 120 }, (_, index) => [`row ${index}`, 'x']);
    const pages = pdfPages(
      await documentPdf(
        documentOf([
          {
            kind: 'table',
            columns: [
              { title: 'Number', share: 1 },
              { title: 'Letter', share: 1 },
            ],
            rows,
          },
        ]),
      ),
    );
    expect(pages.length).toBeGreaterThan(1);
    for (const page of pages) expect(page).toContain('Number\nLetter');
    for (const [row = ''] of rows)
      expect(pages.filter((page) => page.split('\n').includes(row))).toHaveLength(1);
  });

  it('prints a cell that is higher than a page, all of it', async () => {
    const words = Array.from({ length: 3000 }, (_, index) => `w${index}`);
    const pages = pdfPages(
      await documentPdf(
        documentOf([
          {
            kind: 'table',
            columns: [{ title: 'Says', share: 1 }],
            rows: [[words.join(' ')], ['after']],
          },
        ]),
      ),
    );
    const all = new Set(pages.join(' ').split(/\s+/u));
    expect(words.filter((word) => !all.has(word))).toEqual([]);
    expect(pages.at(-1)).toContain('after');
  });

  it('is the same file for the same document, dated by it and not by the clock', async () => {
    const [one, two] = [await documentPdf(record), await documentPdf(record)];
    expect(Buffer.compare(one, two)).toBe(0);
    const file = latin1(one);
    const reference = /\/CreationDate (\d+) 0 R/u.exec(file)?.[1] ?? '';
    // 10:00 two hours east of UTC.
    expect(file).toContain(`\n${reference} 0 obj\n(D:20260512080000Z)\nendobj`);
  });
});
