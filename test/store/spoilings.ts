// The store broken on purpose, one thing at a time. Each has to turn the tests named red.
import { type Spoiling, spoilingsOf } from '../spoil/spoiling.ts';

const CONTRACT = 'test/store/job-file-store.test.ts';
const POWER = 'test/store/power-cut.test.ts';
const FILES = 'test/store/file-trouble.test.ts';
const CHAIN = 'test/store/chain.test.ts';
const MANY = 'test/store/many.test.ts';

export const STORE: readonly Spoiling[] = [
  ...spoilingsOf(
    'src/store/whole-write.ts',
    [POWER],
    [
      ['a file is not synced before it takes its name', 'await file.sync();', ''],
      ['the name is not synced', 'await files.syncFolder(dirname(path));', ''],
      ['the rename does not wait for what has to come before', 'await watch?.before;', ''],
    ],
  ),
  ...spoilingsOf(
    'src/store/journal.ts',
    [POWER, CONTRACT],
    [
      [
        'a line is acknowledged before it is synced',
        'await Promise.all([open.dataSync(), stillThere(open)]);',
        'await stillThere(open);',
      ],
      [
        'lines go to a file that was taken away',
        'await Promise.all([open.dataSync(), stillThere(open)]);',
        'await open.dataSync();',
      ],
      [
        'a half-written line stays in the file',
        "mend = step === 'write' && !noted && mend !== 'anew' ? 'cut' : 'anew';",
        '',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/job-files.ts',
    [FILES],
    [
      [
        'memory is ahead of the disk while it is written',
        'await item.low.write();\n        item.shown = data;',
        'item.shown = data;\n        await item.low.write();',
      ],
      [
        'a job file may hold another job',
        'pathOf(data.job) !== path',
        'pathOf(data.job) === undefined',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/job-file-store.ts',
    [CONTRACT],
    [
      [
        'a delivery settled already is recorded again',
        'if (settles !== undefined && old?.settled.includes(fingerprint(settles))) {',
        'if (settles === "") {',
      ],
      [
        'events decided on an older state are recorded',
        'if (given.expected !== version) return',
        'if (given.expected < 0) return',
      ],
      [
        'urgent posts wait their turn',
        'Number(b.entry.post.urgent) - Number(a.entry.post.urgent)',
        '0',
      ],
      [
        'a newer card is lost with the older one',
        'withPostSettled(old, id, ref, posted)',
        'withPostSettled(old, id, ref, undefined)',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/inbox.ts',
    [CONTRACT],
    [['doubles at the same moment are both new', 'if (other === undefined) break;', 'break;']],
  ),
  ...spoilingsOf(
    'src/store/clock-watch.ts',
    [CONTRACT, FILES],
    [['the clock going back is not noticed', 'at < last - SLACK_MS && !told', 'at < 0 && !told']],
  ),
  ...spoilingsOf(
    'src/store/awake-jobs.ts',
    [MANY],
    [
      [
        'jobs with posts to make are put to sleep',
        '!waiting(job) && !queues.busy(job));',
        'true);',
      ],
      [
        'no job is ever put to sleep',
        'if (resting || inbox.awake().size <= MOST_AWAKE) return;',
        'return;',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/open-store.ts',
    [MANY],
    [
      [
        'a crash while mending forgets that something was missing',
        "if (!all && hasJobs) await writeWhole(files, markPath, Buffer.from('damaged'));",
        '',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/chain.ts',
    [CHAIN],
    [
      [
        'another text may stand where one was removed',
        "if (leaf.value !== (leaf.path === 'text' ? null : REMOVED_TEXT)) {",
        "if (leaf.value === '') {",
      ],
      [
        'a person is known by the name alone',
        'person: numberOf(people, leaf.value ??',
        'person: 1 || numberOf(people, leaf.value ??',
      ],
      [
        'the event before does not count',
        'sha256(previous + canonical(form))',
        'sha256(canonical(form))',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/chain-removal.ts',
    [CHAIN],
    [['the salt stays beside a removed word', "salt: parts.join(';') }", 'salt: stored.salt }']],
  ),
  ...spoilingsOf(
    'src/store/folder-lock.ts',
    ['test/store/folder-lock.test.ts'],
    [
      [
        'a lock is taken from a living process',
        'if (!machine.alive(holder.pid)) return true;',
        'return true;',
      ],
      [
        'two take over one stale lock',
        "if (typeof still === 'object' && still.token === holder.token) {",
        "if (typeof still === 'object') {",
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/durable-file.ts',
    ['test/store/durable-file.test.ts', CONTRACT],
    [
      [
        'a changed file is believed',
        'if (sumOf(json) !== sum) throw',
        'if (sum === undefined) throw',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/file-name.ts',
    ['test/store/file-name.test.ts'],
    [['capital letters stay', '/[a-z0-9-]/', '/[A-Za-z0-9-]/']],
  ),
  ...spoilingsOf(
    'src/store/backup.ts',
    ['test/store/backup.test.ts'],
    [
      [
        'the index is copied after the jobs and the inbox last',
        'for (const path of FIRST) await copy(join(store, path));\n  for (const path of await walk(files, from, jobs)) await copy(path);',
        'for (const path of await walk(files, from, jobs)) await copy(path);\n  for (const path of FIRST) await copy(join(store, path));',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/workshop-backup.ts',
    ['test/store/workshop-backup.test.ts'],
    [
      [
        'what the bench hands on is copied after the store',
        "const FIRST = ['bench/arrivals.jsonl'];",
        'const FIRST: string[] = [];',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/tar-file.ts',
    ['test/store/tar-file.test.ts'],
    [
      [
        'a name that leads out of the folder is followed',
        "if (outside) throw new Error('a name that leads out of the folder');",
        '',
      ],
      [
        'a backup that is broken off is taken for whole',
        "if (!ended) throw new Error('it is broken off');",
        '',
      ],
    ],
  ),
  ...spoilingsOf(
    'src/store/removal.ts',
    ['test/store/workshop-backup.test.ts'],
    [
      [
        'cards still to be posted keep the name',
        'const outbox = withoutNames(data.outbox, wanted);',
        'const outbox = data.outbox;',
      ],
    ],
  ),
];
