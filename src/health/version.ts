// Which version runs.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** The version in the program's package.json. */
export const VERSION: string = (
  JSON.parse(readFileSync(join(import.meta.dirname, '..', '..', 'package.json'), 'utf8')) as {
    readonly version: string;
  }
).version;
