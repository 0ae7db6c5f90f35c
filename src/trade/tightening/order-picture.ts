import type { TighteningOrder } from './order.ts';

const RADIUS = 16;
const MARGIN = 40;

/**
 * The order as a small picture (SVG text): in each circle the turn at which it is done, outside it the fastener's own
 * number. Nothing is told by colour, and the whole order is in the description that a screen reader says.
 */
export function orderPicture(order: TighteningOrder): string {
  const twoRows = order.pattern === 'centre-outwards';
  const count = order.places.length;
  const halfWidth = twoRows ? Math.max(60, (count / 2) * 24) : Math.max(70, count * 7.5);
  const halfHeight = twoRows ? 36 : halfWidth;
  const width = Math.round(2 * (halfWidth + MARGIN));
  const height = Math.round(2 * (halfHeight + MARGIN));
  const turnOf = new Map(order.turns.map((fastener, index) => [fastener, index + 1]));
  const marks = order.places.map(({ fastener, x, y }) => {
    const cx = width / 2 + x * halfWidth;
    const cy = height / 2 + y * halfHeight;
    const outX = twoRows ? cx : cx + x * (RADIUS + 10);
    const outY = cy + y * (RADIUS + 10);
    return [
      `<circle cx="${place(cx)}" cy="${place(cy)}" r="${RADIUS}" fill="none" stroke="currentColor" stroke-width="2"/>`,
      label(cx, cy, 15, 'bold', turnOf.get(fastener) ?? 0),
      label(outX, outY, 10, 'normal', fastener),
    ].join('');
  });
  const title = order.loosening ? 'Order of loosening' : 'Order of tightening';
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" font-family="sans-serif">`,
    `<title>${title}, ${count} fasteners</title>`,
    `<desc>${orderInWords(order)}</desc>`,
    ...marks,
    '</svg>',
  ].join('\n');
}

/** The picture in words: "First 1, then 5, 3, 7. Fasteners are numbered clockwise from the top." */
export function orderInWords(order: TighteningOrder): string {
  const [first, ...rest] = order.turns;
  return `First ${first}, then ${rest.join(', ')}. Fasteners are ${order.numbering}.`;
}

function label(x: number, y: number, size: number, weight: string, text: number): string {
  return `<text x="${place(x)}" y="${place(y)}" font-size="${size}" font-weight="${weight}" text-anchor="middle" dominant-baseline="central" fill="currentColor">${text}</text>`;
}

function place(value: number): string {
  return String(Math.round(value * 10) / 10);
}
