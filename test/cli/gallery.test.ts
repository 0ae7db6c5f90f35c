// The gallery has every kind of card the desk makes, drawn by every channel.
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { LEVELS } from '../../shared/plan.ts';
import { demoCards } from '../../src/cli/gallery/demo-cards.ts';
import { COLUMNS, galleryPage } from '../../src/cli/gallery/page.ts';
import { run } from '../../src/cli/gallery.ts';
import { sourcesUnder } from '../layout/sources.ts';

const cards = await demoCards();
const page = await galleryPage(cards);
const rows = page.split('<section class="row">').slice(1);
const words = (markup: string): string =>
  markup
    .replace(/<template>[\s\S]*?<\/template>/gu, ' ')
    .replace(/<[^>]*>/gu, ' ')
    .replace(/\s+/gu, ' ');

describe('the gallery', () => {
  it('has every kind of card that src/desk makes', () => {
    // Whatever ends in "Card" and is exported there makes one; a summary without a name of its own is none.
    const makers = sourcesUnder('src/desk').flatMap(({ text }) =>
      [...text.matchAll(/^export (?:const|function) (\w+Card)\b/gmu)].map(
        (match) => match[1] ?? '',
      ),
    );
    expect(makers.length).toBeGreaterThan(20);
    const shown = new Set(cards.map(({ from }) => from));
    expect(makers.filter((maker) => !shown.has(maker))).toEqual([]);
  });

  it('has a flag of each level, named by word', () => {
    const levels = cards.flatMap(({ card }) => card.level ?? []);
    expect(LEVELS.filter((level) => !levels.includes(level))).toEqual([]);
  });

  it('names each kind once', () => {
    const kinds = cards.map(({ kind }) => kind);
    expect(new Set(kinds).size).toBe(kinds.length);
    expect(rows).toHaveLength(kinds.length);
  });

  it.each(cards.map(({ kind }, index) => [kind, index] as const))(
    'draws "%s" on every channel, with the same words',
    (_kind, index) => {
      const card = cards[index]?.card;
      if (!card) throw new Error('There is no such card.');
      const cells = (rows[index] ?? '').split('<div class="cell">').slice(1);
      expect(cells).toHaveLength(COLUMNS.length);
      for (const [column, cell] of cells.entries()) {
        expect(cell, COLUMNS[column]).toContain(`<h3>${COLUMNS[column]}</h3>`);
        expect(words(cell).length, COLUMNS[column]).toBeGreaterThan(25);
      }
      // The first words of the card stand in each of them, whatever the channel makes of the rest.
      const first = card.text
        .split(/[^\p{L}\p{N}]+/u)
        .filter(Boolean)
        .slice(0, 2);
      for (const cell of cells)
        for (const word of first) expect(words(cell).toLowerCase()).toContain(word.toLowerCase());
      if (card.picture)
        expect(rows[index]?.match(/data:image\/svg\+xml/gu)?.length).toBeGreaterThan(2);
      for (const { name } of card.files ?? []) expect(rows[index]).toContain(name);
    },
  );

  it('is written where it is told', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'chargehand-gallery-'));
    try {
      expect(await run(['--out', join(folder, 'page.html')])).toBe(0);
      // Forms are numbered as they are drawn; the rest is the same.
      const bare = (text: string) => text.replace(/\bf\d+-/gu, 'f-');
      expect(bare(await readFile(join(folder, 'page.html'), 'utf8')) === bare(page)).toBe(true);
      expect(await run(['--out', join(folder, 'none', 'page.html')])).toBe(1);
      expect(await run(['what'])).toBe(2);
    } finally {
      await rm(folder, { recursive: true });
    }
  });
});
