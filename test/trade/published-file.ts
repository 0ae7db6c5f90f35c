import { existsSync, readFileSync } from 'node:fs';

/**
 * A whole file of published values, laid beside the checkout as shared/check-values; undefined in a checkout that
 * stands alone. The values that each test cannot do without are written in the test itself.
 */
export function publishedFile(name: string): unknown {
  const file = new URL(`../../../shared/check-values/${name}`, import.meta.url);
  return existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined;
}
