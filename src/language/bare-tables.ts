// A pack's tables are looked up by the words people type. "constructor" is a word too: a plain object would answer with
// something of its own, so the tables are made without any inheritance.
import type { LanguagePack } from './pack.ts';

const isTable = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const bare = (value: unknown): unknown =>
  isTable(value)
    ? Object.assign(
        Object.create(null),
        Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, bare(inner)])),
      )
    : value;

/** The same pack, whose tables know no word but their own. */
export const bareTables = (pack: LanguagePack): LanguagePack => bare(pack) as LanguagePack;
