import { describe, expect, it } from 'vitest';
import { jobRecord } from '../../src/report/job-record.ts';
import { recordCsv } from '../../src/report/record-csv.ts';
import { says } from '../job/story.ts';
import { END, OPTIONS, SOURCE, viewOf, WORK } from './story.ts';

/** A reader of its own, by the grammar in RFC 4180 section 2. */
const parsed = (text: string): readonly (readonly string[])[] => {
  const rows: string[][] = [];
  let row: string[] = [];
  for (let at = 0; at < text.length; ) {
    let value = '';
    if (text[at] === '"') {
      for (at += 1; text[at] !== '"' || text[at + 1] === '"'; at += text[at] === '"' ? 2 : 1)
        value += text[at];
      at += 1;
    } else
      for (; at < text.length && text[at] !== ',' && text[at] !== '\r'; at += 1) value += text[at];
    row.push(value);
    if (text[at] === ',') at += 1;
    else {
      expect(text.slice(at, at + 2)).toBe('\r\n');
      at += 2;
      rows.push(row);
      row = [];
    }
  }
  return rows;
};

const rowsOf = (events: typeof WORK): readonly Readonly<Record<string, string>>[] => {
  const [head = [], ...rows] = parsed(recordCsv(jobRecord(viewOf(events), events, OPTIONS)));
  return rows.map((row) => {
    expect(row).toHaveLength(head.length);
    return Object.fromEntries(head.map((name, index) => [name, row[index] ?? '']));
  });
};

describe('the record as CSV', () => {
  const rows = rowsOf(WORK);

  it('has one row for each figure, with limit and source', () => {
    expect(rows.filter(({ fact, step }) => fact === 'figure' && step === 'drain')).toMatchObject([
      {
        what: 'coolant drained',
        value: '28',
        unit: 'L',
        min: '25',
        max: '30',
        source: SOURCE,
        within: 'yes',
        assumed: 'no',
        by: 'Sam',
        message: 'm6',
      },
    ]);
  });

  it('has a row for every message, photo, override and hold point', () => {
    const count = (fact: string): number => rows.filter((row) => row.fact === fact).length;
    expect(
      ['message', 'photo', 'override', 'hold point', 'finding', 'question'].map(count),
    ).toEqual([11, 1, 1, 1, 1, 1]);
  });

  it('ends with the end of the chain', () => {
    expect(rows.at(-1)).toMatchObject({ fact: 'chain end', says: END, value: String(WORK.length) });
  });

  it('keeps a figure below zero a number', () => {
    expect(rows.find(({ what }) => what === 'coolant unaccounted')).toMatchObject({
      min: '-1.4',
      max: '1.4',
    });
  });

  it.each([
    ['=HYPERLINK("http://x","y")', '\'=HYPERLINK("http://x","y")'],
    ['+49 30 1', "'+49 30 1"],
    ['-2+3', "'-2+3"],
    ['@SUM(A1)', "'@SUM(A1)"],
    ['  =1+1', "'  =1+1"],
    ['＝1+1', "'＝1+1"],
    ['\t=1+1', "'\t=1+1"],
    ['two\nlines, and "quotes"', 'two\nlines, and "quotes"'],
    ['a = b', 'a = b'],
    ['Öl überprüft', 'Öl überprüft'],
  ])('keeps %j from being taken for a formula, and its words whole', (text, shown) => {
    const events = [...WORK, ...says('x', '09:59', 'Sam', [], { text })];
    expect(
      rowsOf(events).filter(({ message, fact }) => message === 'x' && fact === 'message'),
    ).toMatchObject([{ says: shown }]);
  });
});
