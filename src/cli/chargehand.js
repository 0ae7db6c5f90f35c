#!/usr/bin/env node
// The launcher: Node 20 runs no TypeScript, so the sources are loaded as JavaScript that was made of them, or through tsx
// where that cannot be kept.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { builtCommands } from './built.js';

const built = await builtCommands(join(import.meta.dirname, '..', '..'));
if (!built) (await import('tsx/esm/api')).register();
const { main } = await import(built ? pathToFileURL(built).href : './commands.ts');
process.exitCode = await main(process.argv.slice(2));
