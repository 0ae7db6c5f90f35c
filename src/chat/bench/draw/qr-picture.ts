// A QR code as a picture that is part of the page: dark modules as one path on a light ground, in every theme.
import QRCode from 'qrcode';
import { html, type Markup } from './html.ts';

/** Light modules around the code, without which cameras do not find it: ISO/IEC 18004 asks for four. */
const QUIET = 4;

export function qrPicture(text: string, says: string): Markup {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: 'M' });
  const { size } = modules;
  const side = size + 2 * QUIET;
  const rows: string[] = [];
  for (let y = 0; y < size; y += 1) {
    for (let x = 0; x < size; x += 1) {
      if (!modules.get(y, x)) continue;
      let wide = 1;
      while (x + wide < size && modules.get(y, x + wide)) wide += 1;
      rows.push(`M${x + QUIET} ${y + QUIET}h${wide}v1h-${wide}z`);
      x += wide;
    }
  }
  return html`<svg class="qr" role="img" aria-label="${says}" viewBox="0 0 ${side} ${side}" shape-rendering="crispEdges"><rect width="${side}" height="${side}" fill="#fff"/><path d="${rows.join('')}" fill="#000"/></svg>`;
}
