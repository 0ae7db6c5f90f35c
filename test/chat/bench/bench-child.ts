// A bench in a process of its own, to be killed. Its floor keeps each delivery in a synced file before it takes it.

import { benchChannel } from '../../../src/chat/bench/bench-channel.ts';
import { openLineFile } from '../../../src/chat/bench/talk/line-file.ts';
import { fakeView, job1042 } from './fake-view.ts';

const [folder = '', port = '0'] = process.argv.slice(2);
const { lines, values } = await openLineFile(`${folder}/floor.jsonl`);
const known = new Set(values.map((value) => String(value)));
const bench = benchChannel({
  folder,
  port: Number(port),
  host: '127.0.0.1',
  view: fakeView([job1042]),
  clock: () => '2025-03-04T10:42:00.000Z',
});
await bench.start({
  accept: async ({ id }) => {
    if (known.has(id)) return 'seen';
    known.add(id);
    await lines.append(id);
    return 'new';
  },
  formFor: async () => undefined,
});
process.stdout.write(`${bench.address()}\n`);
