import { describe, expect, it } from 'vitest';
import type { DocumentBlock } from '../../src/report/document.ts';
import { documentText } from '../../src/report/document-text.ts';
import { jobRecord } from '../../src/report/job-record.ts';
import { recordDocument } from '../../src/report/record-document.ts';
import { END, OPTIONS, PHOTO, PLAN, viewOf, WORK } from './story.ts';

const document = recordDocument(jobRecord(viewOf(WORK), WORK, OPTIONS));
const text = documentText(document);

type Table = Extract<DocumentBlock, { kind: 'table' }>;
/** Tables under a heading of the second level. */
const tablesUnder = (title: string): readonly Table[] => {
  const from = document.blocks.findIndex(
    (block) => block.kind === 'heading' && block.level === 2 && block.text === title,
  );
  expect(from, title).toBeGreaterThan(-1);
  const rest = document.blocks.slice(from + 1);
  const to = rest.findIndex((block) => block.kind === 'heading' && block.level === 2);
  return rest
    .slice(0, to === -1 ? rest.length : to)
    .filter((block): block is Table => block.kind === 'table');
};

describe('the record as a document', () => {
  it('begins with what a reader must not miss', () => {
    const notice = document.blocks.find((block) => block.kind === 'notice');
    expect(notice?.title).toBe('12 of 13 steps on record as done');
    expect(notice?.lines).toEqual(
      expect.arrayContaining([
        'Flags let be by a controller, with a reason: 1.',
        'Figures out of limits: Fit the clamp, cylinder 3 and Set the valve clearance, cylinder 3.',
        "Figures nobody said, the plan's value stands for them: 1.",
      ]),
    );
  });

  it('sets planned beside said, with the source of each limit and marks what is out', () => {
    const [table] = tablesUnder('Tightening and loosening');
    expect(table?.rows).toEqual([
      [
        'cylinder 1 and 3',
        '1',
        '20 N·m, from 18 to 22 N·m [1]',
        '20 N·m',
        'yes',
        '12 May 08:00 Sam',
        'not said',
      ],
      [
        'cylinder 1',
        '2',
        '90°, from 85 to 95° [1]',
        '90° (assumed)',
        'assumed',
        '12 May 08:20 Sam',
        'AG-01',
      ],
      ['cylinder 3', '2', '90°, from 85 to 95° [1]', '110°', 'NO', '12 May 08:20 Sam', 'not said'],
    ]);
    expect(table?.marked).toEqual([2]);
    expect(text).toContain('[1] demonstration value; [2] the plate on the demonstration engine.');
  });

  it('shows the notice of the plan beside its limits', () => {
    expect(text.split(PLAN.notice).length - 1).toBeGreaterThanOrEqual(2);
  });

  it('has a row of its own for each thing that is not alike', () => {
    expect(
      tablesUnder('Clearances')[0]?.rows.map(([at, , , , said, within]) => [at, said, within]),
    ).toEqual([
      ['cylinder 1', '0.3 mm', 'yes'],
      ['cylinder 3', '0.37 mm', 'NO'],
    ]);
    expect(tablesUnder('Component codes')[0]?.rows.map((row) => row.at(-1))).toEqual(['yes', 'NO']);
    expect(tablesUnder('Fluids')[0]?.rows).toEqual([
      ['coolant', '28 L', '26.5 L', '1.5 L', '1.4 L', 'NOT accounted for'],
    ]);
  });

  it('says how each flag was settled', () => {
    const [table] = tablesUnder('Flags and how they were settled');
    const skipped = table?.rows.find(([, says]) =>
      says?.startsWith('Skipped: "Drain the coolant"'),
    );
    expect(skipped?.[0]).toBe('CAUTION');
    expect(skipped?.[2]).toBe('withdrawn 12 May 08:50 Sam; acknowledged 12 May 08:05 Wen');
    expect(text).toContain('Wen, 12 May 08:06: "drained on the night shift, I saw the container"');
  });

  it('has releases, findings, questions and photos', () => {
    expect(tablesUnder('Hold points')[0]?.rows).toEqual([
      ['Second person looks at the clamps', 'released', '12 May 09:35 Wen (controller)', ''],
    ]);
    expect(tablesUnder('Findings and extra work')[0]?.rows[0]?.[2]).toBe(
      'approved 12 May 08:35 Wen: "new sleeve is in the stores"',
    );
    expect(tablesUnder('Questions asked')[0]?.rows[0]?.[2]).toBe('cylinder 3 (12 May 09:42 Ade)');
    expect(tablesUnder('Photos')[0]?.rows[0]).toContain(PHOTO);
  });

  it('puts sign-off, plan and the end of the chain on a page of their own, last', () => {
    const from = document.blocks.findIndex(({ kind }) => kind === 'new-page');
    const last = documentText({ ...document, blocks: document.blocks.slice(from) });
    expect(last).toContain(
      'Independent check: Second person looks at the clamps: Ade, 12 May 2026 09:30',
    );
    expect(last).toContain(PLAN.hash);
    expect(last).toContain(END);
    expect(last).toContain('events was changed, left out, added or put in another order');
  });

  it('shows times on the clocks of the workshop', () => {
    const tokyo = recordDocument(jobRecord(viewOf(WORK), WORK, { ...OPTIONS, zone: 'Asia/Tokyo' }));
    // 08:00 at +02:00 is 15:00 at +09:00.
    expect(documentText(tokyo)).toContain('12 May 15:00 Sam');
  });
});
