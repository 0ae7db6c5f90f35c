// One start of a store in a process of its own: prints the time and the memory it took as JSON.
import { performance } from 'node:perf_hooks';
import { jobFileStore } from '../../src/store/job-file-store.ts';
import { at, indexOf } from '../store/sample.ts';

const [, , folder, how] = process.argv;
if (folder === undefined) throw new Error('The folder is missing: node store-start.ts FOLDER');
const store = jobFileStore(folder, { clock: () => at(0) });
const begin = performance.now();
await store.open();
const ms = performance.now() - begin;
const jobs = await store.list();
console.log(JSON.stringify({ ms, megabytes: process.memoryUsage().rss / 1e6, jobs: jobs.length }));
if (how === 'crash') {
  for (const { job } of jobs.slice(0, 200)) {
    const old = await store.load(job);
    await store.append({ job, expected: old?.version ?? 0, events: [], index: indexOf(job) });
  }
  process.kill(process.pid, 'SIGKILL');
}
await store.close();
