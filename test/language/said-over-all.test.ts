// Signs that speak over a report, and ways of saying: each for its own examples, alone, and kept apart from the others.
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readMessage } from '../../src/language/read.ts';
import { SIGNS } from '../../src/language/rules/unsaid/index.ts';
import type { Sign, SignExamples } from '../../src/language/rules/unsaid/sign.ts';
import { WAYS } from '../../src/language/rules/ways/index.ts';
import type { Way, WayExamples } from '../../src/language/rules/ways/way.ts';
import { allLexicons } from './plans.ts';

async function filesOf<Item extends { readonly name: string }, Examples>(
  folder: string,
): Promise<{ readonly file: string; readonly item: Item; readonly examples: Examples }[]> {
  const url = new URL(`../../src/language/rules/${folder}/`, import.meta.url);
  const names = readdirSync(url).filter((name) => !/^(index|sign|way)\.ts$/.test(name));
  return Promise.all(
    names.map(async (file) => {
      const module = (await import(new URL(file, url).href)) as Record<string, unknown>;
      const item = Object.values(module).find(
        (one): one is Item => typeof one === 'object' && one !== null && 'words' in one,
      );
      if (!item)
        throw new Error(`${file} exports nothing with words. Export it, or move the file.`);
      return { file, item, examples: module.examples as Examples };
    }),
  );
}

const signs = await filesOf<Sign, SignExamples>('unsaid');
const ways = await filesOf<Way, WayExamples>('ways');

const speaks = (one: Sign | Way, text: string) => one.words.test(text) && !one.unless?.test(text);

it('lists every sign and every way once, each under the name of its file', () => {
  const named = (list: readonly { readonly name: string }[]) => list.map((one) => one.name).sort();
  expect(named(SIGNS)).toEqual(signs.map((one) => one.file.replace('.ts', '')).sort());
  expect(named(WAYS)).toEqual(ways.map((one) => one.file.replace('.ts', '')).sort());
});

describe.each(signs)('the sign $item.name', ({ item, examples }) => {
  it.each([...examples.yes])('speaks, and nothing is done by: %s', (text) => {
    expect(speaks(item, text)).toBe(true);
    const done = allLexicons().flatMap((lexicon) =>
      readMessage(text, lexicon, {}).acts.filter((act) => act.kind === 'done'),
    );
    expect(done).toEqual([]);
  });

  it.each([...examples.no])('keeps quiet over: %s', (text) => {
    expect(speaks(item, text)).toBe(false);
  });
});

describe.each(ways)('the way of saying $item.name', ({ item, examples }) => {
  it.each([...examples.yes])('is read as done where a plan has it: %s', (text) => {
    expect(speaks(item, text)).toBe(true);
    const having = allLexicons().filter((lexicon) =>
      [...(lexicon.plan.watched ?? []), ...lexicon.plan.steps].some((one) =>
        item.titles.some((title) => title.test(one.title)),
      ),
    );
    expect(having.length).toBeGreaterThan(0);
    for (const lexicon of having)
      expect(readMessage(text, lexicon, {}).acts.map((act) => act.kind)).toContain('done');
  });

  it.each([...examples.no])('keeps quiet over: %s', (text) => {
    expect(speaks(item, text)).toBe(false);
  });

  it('can be switched off alone', () => {
    const off = new Set([item.name]);
    const changed = examples.yes.some((text) =>
      allLexicons().some(
        (lexicon) =>
          JSON.stringify(readMessage(text, lexicon, {}).acts) !==
          JSON.stringify(readMessage(text, lexicon, {}, { off }).acts),
      ),
    );
    expect(changed).toBe(true);
  });
});
