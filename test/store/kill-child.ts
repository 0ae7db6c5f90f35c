// A process that keeps deliveries, records them in jobs and posts, until it is killed. Its parent is the platform: it
// sends deliveries as lines and takes an "ack" for each; "post" is a card that has appeared in the channel.
import { createInterface } from 'node:readline';
import { jobFileStore } from '../../src/store/job-file-store.ts';
import { at, delivery, indexOf, jobOpened, outboxEntry, posted } from './sample.ts';

const JOBS = 5;
const folder = process.argv[2];
if (folder === undefined) throw new Error('The folder is missing: node kill-child.ts FOLDER');
const store = jobFileStore(folder, { clock: () => at(0) });
const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

async function record(id: string): Promise<void> {
  const number = Number(id.slice('bench:'.length));
  const job = `10${number % JOBS}`;
  for (let tries = 0; tries < 1000; tries++) {
    const old = await store.load(job);
    const done = await store.append({
      job,
      expected: old?.version ?? 0,
      events: old === undefined ? [jobOpened(job), posted(number)] : [posted(number)],
      index: indexOf(job),
      outbox: [outboxEntry(job, `sign-${number}`)],
      settles: id,
    });
    if (done.ok) return;
  }
  throw new Error(`Delivery ${id} met another version of its job a thousand times.`);
}

async function post(inChannel: ReadonlySet<string>): Promise<void> {
  for (const entry of await store.outbox()) {
    if (entry.state === 'waiting' || !inChannel.has(entry.id)) {
      await store.keepPost(entry.job, entry.id, { tries: entry.tries + 1, state: 'unclear' });
      say(`post ${entry.id}`);
    }
    await store.settlePost(entry.job, entry.id, undefined);
  }
}

const { setAside } = await store.open();
for (const { file, why } of setAside) say(`damaged ${file}: ${why}`);

let posting = Promise.resolve();
const working = new Set<Promise<void>>();
const work = (task: Promise<void>): void => {
  const watched: Promise<void> = task
    .catch((error: unknown) => say(`failed ${String(error)}`))
    .finally(() => working.delete(watched));
  working.add(watched);
};

let inChannel: ReadonlySet<string> = new Set();
const taken = new Set<string>();
const take = async (id: string): Promise<void> => {
  if (taken.has(id)) return;
  taken.add(id);
  await record(id);
  posting = posting.then(() => post(inChannel));
  await posting;
};

for await (const line of createInterface({ input: process.stdin })) {
  const [word, rest = ''] = line.split(' ');
  if (word === 'channel') {
    inChannel = new Set(rest === '' ? [] : rest.split(','));
    await post(inChannel);
    for (const { delivery: d } of await store.waiting()) work(take(d.id));
    say('ready');
  } else if (word === 'deliver') {
    const n = Number(rest);
    work(
      (async () => {
        const answer = await store.accept(delivery(n), at(n));
        say(`ack ${n}`);
        if (answer === 'new') await take(`bench:${n}`);
      })(),
    );
  } else if (word === 'finish') break;
}
while (working.size > 0) await Promise.all(working);
await store.close();
say('finished');
