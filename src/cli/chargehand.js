#!/usr/bin/env node
// The launcher: Node 20 runs no TypeScript, so the sources are loaded through tsx.
import { register } from 'tsx/esm/api';

register();
const { main } = await import('./commands.ts');
process.exitCode = await main(process.argv.slice(2));
