// `npm run bench`: speed, memory, growth and the words said, each beside a named peer in the same run.
// `npm run bench -- reading check` runs only these.
import { arch, cpus, totalmem } from 'node:os';
import { run as acknowledge } from './acknowledge.ts';
import { run as check } from './check.ts';
import { run as day } from './day.ts';
import { run as forecast } from './forecast.ts';
import { run as page } from './page.ts';
import { run as reading } from './reading.ts';
import { run as shared } from './shared.ts';
import { run as start } from './start.ts';
import { run as store } from './store.ts';
import { run as three } from './three.ts';
import { run as words } from './words.ts';

const PARTS: Readonly<Record<string, () => unknown>> = {
  words,
  check,
  reading,
  store,
  start,
  acknowledge,
  shared,
  forecast,
  page,
  day,
  three,
};

const wanted = process.argv.slice(2);
const unknown = wanted.find((name) => !PARTS[name]);
if (unknown) {
  console.error(`There is no bench "${unknown}".\nUse: ${Object.keys(PARTS).join(', ')}`);
  process.exit(2);
}
console.log(
  `Node ${process.version}, ${arch()}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? 'processor'}, ${Math.round(totalmem() / 2 ** 30)} GiB`,
);
for (const [name, run] of Object.entries(PARTS)) {
  if (wanted.length > 0 && !wanted.includes(name)) continue;
  console.log(`\n== ${name}`);
  await run();
}
// What a bench leaves open, such as a connection that was cut on purpose, keeps nobody waiting.
process.exit();
