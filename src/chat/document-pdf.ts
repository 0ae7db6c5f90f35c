// Prints a document as PDF with the library's standard fonts. The same document gives the same bytes.
import PDFDocument from 'pdfkit';
import type { Column, DocumentBlock, PrintDocument } from '../report/document.ts';
import { winAnsi } from './win-ansi.ts';

export type Paper = 'A4' | 'LETTER';

const PLAIN = 'Helvetica';
const BOLD = 'Helvetica-Bold';
const CODE = 'Courier';
const INK = '#15181d';
const QUIET = '#4a4f57';
const RULE = '#9aa0a8';
const MARGIN = 48;
const FOOT = 40;
const CELL = 4;
const BODY = 9.5;
const TABLE = 8;

type Doc = PDFKit.PDFDocument;
type Page = {
  readonly doc: Doc;
  readonly width: number;
  readonly left: number;
  /** The last y at which something may end. */
  readonly bottom: number;
  readonly say: (text: string) => string;
};

/** @param paper A4 or US Letter @returns the bytes of the PDF */
export const documentPdf = async (
  given: PrintDocument,
  paper: Paper = 'A4',
): Promise<Uint8Array> => {
  // A text is measured before it is drawn; what it lacks is counted once.
  const said = new Map<string, ReturnType<typeof winAnsi>>();
  const say = (text: string): string => {
    const shown = said.get(text) ?? winAnsi(text);
    said.set(text, shown);
    return shown.text;
  };
  const made = new Date(given.made);
  const doc = new PDFDocument({
    size: paper,
    margins: { top: MARGIN + 18, bottom: MARGIN + FOOT - 20, left: MARGIN, right: MARGIN },
    bufferPages: true,
    lang: 'en',
    displayTitle: true,
    info: {
      Title: say(given.title),
      Producer: 'chargehand',
      Creator: 'chargehand',
      CreationDate: made,
      ModDate: made,
    },
  });
  const chunks: Buffer[] = [];
  doc.on('data', (chunk: Buffer) => chunks.push(chunk));
  const ended = new Promise<void>((done, fail) => {
    doc.on('end', done);
    doc.on('error', fail);
  });
  const page: Page = {
    doc,
    width: doc.page.width - 2 * MARGIN,
    left: MARGIN,
    bottom: doc.page.height - MARGIN - FOOT + 20,
    say,
  };
  for (const [index, block] of given.blocks.entries()) draw(page, block, given.blocks[index + 1]);
  const strange = [...said.values()].reduce((sum, { replaced }) => sum + replaced, 0);
  if (strange > 0)
    draw(page, {
      kind: 'text',
      small: true,
      text: `${strange} characters that these fonts do not have stand as "?"; the JSON form has them.`,
    });
  numberPages(page, say(given.running));
  doc.end();
  await ended;
  return Buffer.concat(chunks);
};

const room = (page: Page, height: number): void => {
  if (page.doc.y + height > page.bottom) page.doc.addPage();
};

const draw = (page: Page, block: DocumentBlock, next?: DocumentBlock): void => {
  const { doc, left, width, say } = page;
  doc.fillColor(INK).strokeColor(RULE);
  switch (block.kind) {
    case 'heading':
      drawHeading(page, block, next);
      break;
    case 'text':
      doc.font(PLAIN).fontSize(block.small ? TABLE : BODY);
      room(page, doc.heightOfString(say(block.text), { width }));
      doc.fillColor(block.small ? QUIET : INK).text(say(block.text), left, doc.y, { width });
      doc.y += 4;
      break;
    case 'code':
      doc.font(CODE).fontSize(BODY);
      room(page, 30);
      doc.rect(left, doc.y, width, 22).lineWidth(0.8).stroke();
      doc.text(say(block.text), left + 8, doc.y + 7, { width: width - 16 });
      doc.y += 12;
      break;
    case 'notice':
      drawNotice(page, block);
      break;
    case 'list':
      for (const item of block.items) drawItem(page, say(item));
      doc.y += 4;
      break;
    case 'facts':
      drawFacts(page, block.rows);
      break;
    case 'table':
      drawTable(page, block);
      break;
    case 'new-page':
      doc.addPage();
      break;
  }
};

/** A heading takes at least the beginning of what follows it along. */
const drawHeading = (
  page: Page,
  { level, text }: Extract<DocumentBlock, { kind: 'heading' }>,
  next: DocumentBlock | undefined,
): void => {
  const { doc, left, width, say } = page;
  const size = [20, 12.5, 9.5][level - 1] ?? BODY;
  room(page, size + (next?.kind === 'heading' ? 90 : 64));
  if (doc.y > MARGIN + 20) doc.y += level === 2 ? 12 : level === 3 ? 5 : 0;
  doc.font(BOLD).fontSize(size).text(say(text), left, doc.y, { width });
  if (level === 2) {
    doc
      .moveTo(left, doc.y + 1)
      .lineTo(left + width, doc.y + 1)
      .lineWidth(1.2)
      .strokeColor(INK)
      .stroke();
  }
  doc.y += level === 3 ? 3 : 6;
};

const drawNotice = (
  page: Page,
  { title, lines }: Extract<DocumentBlock, { kind: 'notice' }>,
): void => {
  const { doc, left, width, say } = page;
  const inner = width - 24;
  doc.font(BOLD).fontSize(11);
  const head = doc.heightOfString(say(title), { width: inner });
  doc.font(PLAIN).fontSize(BODY);
  const body = lines.reduce(
    (sum, line) => sum + doc.heightOfString(say(line), { width: inner }) + 3,
    0,
  );
  const height = head + body + 22;
  room(page, height + 12);
  doc.y += 8;
  const top = doc.y;
  doc.rect(left, top, width, height).lineWidth(1.2).strokeColor(INK).stroke();
  doc
    .font(BOLD)
    .fontSize(11)
    .text(say(title), left + 12, top + 9, { width: inner });
  doc.font(PLAIN).fontSize(BODY);
  for (const line of lines) {
    doc.text(say(line), left + 12, doc.y + 3, { width: inner });
  }
  doc.y = top + height + 6;
};

const drawItem = (page: Page, text: string): void => {
  const { doc, left, width } = page;
  doc.font(PLAIN).fontSize(BODY).fillColor(INK);
  room(page, doc.heightOfString(text, { width: width - 12 }));
  const top = doc.y;
  doc.text('\u2013', left, top, { width: 10, lineBreak: false });
  doc.text(text, left + 12, top, { width: width - 12 });
  doc.y += 2;
};

const drawFacts = (page: Page, rows: readonly (readonly [string, string])[]): void => {
  const { doc, left, width, say } = page;
  const label = 130;
  doc.y += 4;
  for (const [name, value] of rows) {
    const hash = /^[0-9a-f]{64}$/u.test(value);
    doc.font(hash ? CODE : PLAIN).fontSize(hash ? 8 : BODY);
    const height = doc.heightOfString(say(value), { width: width - label });
    room(page, height + 4);
    const top = doc.y;
    doc.fillColor(INK).text(say(value), left + label, top, { width: width - label });
    doc
      .font(PLAIN)
      .fontSize(BODY)
      .fillColor(QUIET)
      .text(say(name), left, top, { width: label - 8 });
    doc.y = top + Math.max(height, 11) + 4;
  }
  doc.fillColor(INK);
};

type Table = Extract<DocumentBlock, { kind: 'table' }>;

const widthsOf = (columns: readonly Column[], width: number): readonly number[] => {
  const all = columns.reduce((sum, { share }) => sum + share, 0);
  return columns.map(({ share }) => (share / all) * width);
};

const drawTable = (page: Page, table: Table): void => {
  const { doc, left, width, say } = page;
  const widths = widthsOf(table.columns, width);
  // Of a marked row only short cells are bold: a paragraph in bold is read by nobody.
  const fontOf = (column: number, marked: boolean, cell: string): string => {
    const bold = marked && cell.length <= 24;
    return table.columns[column]?.code ? (bold ? 'Courier-Bold' : CODE) : bold ? BOLD : PLAIN;
  };
  const heightOf = (cells: readonly string[], bold: boolean): number =>
    Math.max(
      ...cells.map((cell, index) => {
        doc.font(fontOf(index, bold, cell)).fontSize(TABLE);
        return doc.heightOfString(say(cell), { width: (widths[index] ?? 0) - 2 * CELL });
      }),
    ) +
    2 * CELL -
    1;
  const row = (cells: readonly string[], look: 'head' | 'plain' | 'marked'): void => {
    const height = heightOf(cells, look !== 'plain');
    const top = doc.y;
    if (look === 'head') doc.rect(left, top, width, height).fill('#e9ebee');
    if (look === 'marked') doc.rect(left - 5, top, 3, height).fill(INK);
    let x = left;
    for (const [index, cell] of cells.entries()) {
      doc
        .font(look === 'head' ? BOLD : fontOf(index, look === 'marked', cell))
        .fontSize(TABLE)
        .fillColor(INK);
      doc.text(say(cell), x + CELL, top + CELL, { width: (widths[index] ?? 0) - 2 * CELL });
      x += widths[index] ?? 0;
    }
    doc.y = top + height;
    doc
      .moveTo(left, doc.y)
      .lineTo(left + width, doc.y)
      .lineWidth(0.5)
      .strokeColor(RULE)
      .stroke();
  };
  const titles = table.columns.map(({ title }) => title);
  const headHeight = heightOf(titles, true);
  room(page, headHeight + 20);
  row(titles, 'head');
  for (const [index, cells] of table.rows.entries()) {
    const look = table.marked?.includes(index) ? 'marked' : 'plain';
    if (doc.y + heightOf(cells, look === 'marked') > page.bottom) {
      doc.addPage();
      row(titles, 'head');
    }
    row(cells, look);
  }
  doc.y += 6;
};

const numberPages = ({ doc, left, width }: Page, running: string): void => {
  const { start, count } = doc.bufferedPageRange();
  for (let index = start; index < start + count; index += 1) {
    doc.switchToPage(index);
    // Text below the margin would begin a page of its own.
    doc.page.margins.bottom = 0;
    const foot = doc.page.height - MARGIN + 4;
    doc
      .moveTo(left, foot - 6)
      .lineTo(left + width, foot - 6)
      .lineWidth(0.5)
      .strokeColor(RULE)
      .stroke();
    doc.font(PLAIN).fontSize(TABLE).fillColor(QUIET);
    doc.text(running, left, foot, { width: width * 0.78, lineBreak: false });
    doc.text(`page ${index + 1} of ${count}`, left, foot, {
      width,
      align: 'right',
      lineBreak: false,
    });
  }
};
