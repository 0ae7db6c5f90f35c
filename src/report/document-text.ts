// A document as plain text, for a terminal or a message: the same content as its print.
import type { DocumentBlock, PrintDocument } from './document.ts';

export const documentText = ({ blocks }: PrintDocument): string =>
  `${blocks
    .flatMap((block) => linesOf(block))
    .join('\n')
    .replace(/\n{3,}/gu, '\n\n')
    .trim()}\n`;

const linesOf = (block: DocumentBlock): readonly string[] => {
  switch (block.kind) {
    case 'heading':
      return block.level === 3
        ? ['', block.text]
        : ['', block.text, (block.level === 1 ? '=' : '-').repeat(Math.min(72, block.text.length))];
    case 'text':
    case 'code':
      return [block.text];
    case 'notice':
      return ['', `${block.title}:`, ...block.lines.map((line) => `- ${line}`)];
    case 'list':
      return block.items.map((item) => `- ${item}`);
    case 'facts':
      return block.rows.map(([label, value]) => `${label}: ${value}`);
    case 'table': {
      const titles = block.columns.map(({ title }) => title);
      return block.rows.map((row, index) => {
        const cells = row.flatMap((cell, column) =>
          cell === '' ? [] : [column === 0 ? cell : `${titles[column] ?? ''}: ${cell}`],
        );
        return `${block.marked?.includes(index) ? '* ' : '- '}${cells.join(' | ')}`;
      });
    }
    case 'new-page':
      return [''];
  }
};
