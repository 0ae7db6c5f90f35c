// `chargehand gallery`: every kind of card on every channel side by side, as a page to look at.
import { writeFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { complain } from './complain.ts';

const USAGE = 'npx chargehand gallery [--out FILE]';

export const run = async (args: readonly string[]): Promise<number> => {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { out: { type: 'string', default: 'gallery.html' } },
  });
  if (positionals.length > 0) return complain('It takes no words beside its options.', USAGE);
  const { demoCards } = await import('./gallery/demo-cards.ts');
  const { galleryPage } = await import('./gallery/page.ts');
  const cards = await demoCards();
  try {
    await writeFile(values.out, await galleryPage(cards));
  } catch (error) {
    return complain(
      `The page could not be written to ${values.out}: ${(error as Error).message}`,
      'Name another file with --out.',
      1,
    );
  }
  process.stdout.write(`${values.out}: ${cards.length} kinds of card. Open it in a browser.\n`);
  return 0;
};
