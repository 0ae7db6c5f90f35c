// Every rule speaks for its own yes examples first, keeps quiet over its no examples, and meets all other rules' examples.
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { prepare } from '../../src/language/message.ts';
import { readMessage } from '../../src/language/read.ts';
import { RULES } from '../../src/language/rules/index.ts';
import { type Examples, type Rule, stanceOf } from '../../src/language/stance.ts';
import { lexiconFor } from './plans.ts';

const folder = new URL('../../src/language/rules/', import.meta.url);
const lexicon = lexiconFor('injectors');

type File = { readonly name: string; readonly rule: Rule; readonly examples: Examples };

const files: File[] = await Promise.all(
  readdirSync(folder)
    .filter((name) => name.endsWith('.ts') && name !== 'index.ts')
    .map(async (name) => {
      const module = (await import(new URL(name, folder).href)) as Record<string, unknown>;
      const rule = Object.values(module).find(
        (one): one is Rule => typeof one === 'object' && one !== null && 'says' in one,
      );
      if (!rule) throw new Error(`${name} exports no rule. Export one, or move the file.`);
      return { name, rule, examples: module.examples as Examples };
    }),
);

const textOf = (example: Examples['yes'][number]) =>
  typeof example === 'string' ? example : example.text;

/** Names of the rules that speak first for the clauses of a text. */
function firstRules(text: string, off?: ReadonlySet<string>): string[] {
  const message = prepare(text, lexicon, {});
  return message.clauses.flatMap(
    (clause) => stanceOf(clause, message.tongue, RULES, off)?.rule ?? [],
  );
}

function speaks(rule: Rule, text: string): boolean {
  const message = prepare(text, lexicon, {});
  return message.clauses.some((clause) => rule.read(clause, message.tongue) !== undefined);
}

it('lists every rule of the folder once in the order, each under the name of its file', () => {
  expect(RULES.map((rule) => rule.name).sort()).toEqual(
    files.map((file) => file.name.replace('.ts', '')).sort(),
  );
  for (const file of files) expect(file.rule.name).toBe(file.name.replace('.ts', ''));
});

const REPORTS: ReadonlySet<string> = new Set([
  'said-in-the-past',
  'moved',
  'called-done',
  'result-is-good',
  'figure-beside-part',
]);

it('asks what reports only after everything that denies, doubts or asks', () => {
  const order = RULES.map((rule) => rule.name);
  const first = Math.min(...[...REPORTS].map((name) => order.indexOf(name)));
  for (const name of order.slice(first)) expect(REPORTS.has(name), name).toBe(true);
});

describe.each(files)('$rule.name', ({ rule, examples }) => {
  it.each(examples.yes.map(textOf))('speaks first for: %s', (text) => {
    expect(firstRules(text)).toContain(rule.name);
  });

  it.each([...examples.no])('keeps quiet over: %s', (text) => {
    expect(firstRules(text)).not.toContain(rule.name);
  });

  it.each([...examples.ask])('ends in a question: %s', (text) => {
    const acts = readMessage(text, lexicon, {}).acts;
    expect(acts.map((act) => act.kind)).toContain('unsure');
    expect(acts.map((act) => act.kind)).not.toContain('done');
  });

  it('can be switched off alone', () => {
    const texts = [...examples.yes.map(textOf), ...examples.ask];
    for (const text of texts)
      expect(firstRules(text, new Set([rule.name]))).not.toContain(rule.name);
  });

  // What reports stands behind what denies in the order, so it may find its words in any of them: it must not have them.
  it('speaks over the examples of other rules only where they say so', () => {
    const has = (text: string) =>
      REPORTS.has(rule.name) ? firstRules(text).includes(rule.name) : speaks(rule, text);
    const unplanned = files
      .filter((other) => other.rule.name !== rule.name)
      .filter((other) => !(other.examples.also ?? []).includes(rule.name))
      .flatMap((other) =>
        other.examples.yes
          .map(textOf)
          .filter(has)
          .map((text) => `${other.rule.name}: ${text}`),
      );
    expect(unplanned).toEqual([]);
  });
});
