// Reads the words of a PDF back, page by page, as far as this program's own files need it: compressed content streams,
// text in the encoding of the standard fonts, one content stream for each page.
import { inflateSync } from 'node:zlib';

const WIN_ANSI = new TextDecoder('windows-1252');

export const pdfPages = (bytes: Uint8Array): readonly string[] => {
  const file = Buffer.from(bytes).toString('latin1');
  const objects = new Map(
    [...file.matchAll(/(?:^|\n)(\d+) 0 obj\n([\s\S]*?)\nendobj/gu)].map(
      ([, id = '', body = '']) => [id, body],
    ),
  );
  const kids = /\/Kids \[([^\]]*)\]/u.exec(file)?.[1] ?? '';
  return [...kids.matchAll(/(\d+) 0 R/gu)].map(([, id = '']) => {
    const contents = /\/Contents (\d+) 0 R/u.exec(objects.get(id) ?? '')?.[1] ?? '';
    const body = objects.get(contents) ?? '';
    const stream = body.slice(body.indexOf('stream\n') + 7, body.lastIndexOf('\nendstream'));
    return wordsOf(inflateSync(Buffer.from(stream, 'latin1')).toString('latin1'));
  });
};

const wordsOf = (content: string): string =>
  [...content.matchAll(/\[([^\]]*)\] TJ/gu)]
    .map(([, parts = '']) =>
      [...parts.matchAll(/<([0-9a-f]*)>/gu)]
        .map(([, hex = '']) => WIN_ANSI.decode(Buffer.from(hex, 'hex')))
        .join(''),
    )
    .join('\n');
