// The picture of a QR code has exactly the modules of the code, four light ones around it.
import QRCode from 'qrcode';
import { expect, it } from 'vitest';
import { qrPicture } from '../../../src/chat/bench/draw/qr-picture.ts';

it('draws every dark module once and no other', () => {
  const text = 'https://bench.harrow-lane.example:7117/enter#abcDEF012';
  const { markup } = qrPicture(text, 'says <so>');
  expect(markup).toContain('aria-label="says &lt;so&gt;"');
  const { modules } = QRCode.create(text, { errorCorrectionLevel: 'M' });
  const dark = new Set<string>();
  for (const [, x, y, wide] of markup.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g)) {
    for (let step = 0; step < Number(wide); step += 1) {
      const module = `${Number(x) + step - 4},${Number(y) - 4}`;
      expect(dark.has(module)).toBe(false);
      dark.add(module);
    }
  }
  for (let y = 0; y < modules.size; y += 1)
    for (let x = 0; x < modules.size; x += 1)
      expect(dark.has(`${x},${y}`), `${x},${y}`).toBe(Boolean(modules.get(y, x)));
  expect(markup).toContain(`viewBox="0 0 ${modules.size + 8} ${modules.size + 8}"`);
});
