import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readAsked } from '../../../src/desk/figures/asking/asked.ts';
import { FIGURE_KINDS } from '../../../src/desk/figures/index.ts';
import { AROUND, ask, NOW } from './ground.ts';
import { sampleView } from './sample-view.ts';

const FOLDER = new URL('../../../src/desk/figures/', import.meta.url);

const examples = FIGURE_KINDS.flatMap((kind) =>
  kind.examples.map((example) => ({ kind, ...example })),
);

describe('every example', () => {
  it.each(examples)('$type', ({ kind, type, means, plan }) => {
    const view = plan === undefined ? undefined : sampleView(plan);
    const asked = readAsked(type);
    if (!asked) throw new Error('The example is too long or empty.');
    expect(kind.read(asked, { ...AROUND, view, today: NOW })).toEqual({ inputs: means });
    const claimed = FIGURE_KINDS.filter(
      (other) => other.read(asked, { ...AROUND, view, today: NOW }) !== undefined,
    );
    expect(claimed.map((other) => other.kind)).toEqual([kind.kind]);
    const answer = ask(type, view);
    expect(answer?.kind).toBe(kind.kind);
    expect(answer?.card.text).not.toMatch(/NaN|undefined|Infinity|\[object|!/);
    expect(answer?.card.text).not.toContain('\n');
    expect(answer?.card.text).toMatch(/[.?]$/);
  });

  it.each(examples)('typed in capitals, and with a greeting: $type', ({ kind, type, plan }) => {
    const view = plan === undefined ? undefined : sampleView(plan);
    expect(ask(type.toUpperCase(), view)?.kind).toBe(kind.kind);
    expect(ask(`@chargehand ${type} please`, view)?.kind).toBe(kind.kind);
  });
});

it('every kind has a name of its own and examples', () => {
  const names = FIGURE_KINDS.map(({ kind }) => kind);
  expect(new Set(names).size).toBe(names.length);
  for (const { kind, examples: own, means } of FIGURE_KINDS) {
    expect(own.length, kind).toBeGreaterThan(0);
    expect(means, kind).not.toBe('');
  }
});

/** The files that make a kind, with the text of each. */
const files = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts') && name.includes('/'))
  .map((name) => ({ name, text: readFileSync(new URL(name, FOLDER), 'utf8') }))
  .filter(({ text }) => text.includes('= figureKind<'));

it('finds the files', () => {
  expect(files.length).toBeGreaterThan(25);
});

it.each(files)('$name begins with a sentence that its kind answers', ({ text }) => {
  const first = /^\/\/ "([^"]+)"/.exec(text)?.[1] ?? '';
  const own = [...text.matchAll(/kind: '([a-z-]+)',\n\s+means:/g)].map(([, name]) => name);
  const views = [undefined, sampleView('injectors-six-cylinder'), sampleView('hub-bearing')];
  const kinds = views.map((view) => ask(first, view)?.kind);
  expect(own.some((name) => kinds.includes(name))).toBe(true);
});
