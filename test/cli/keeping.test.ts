// Backup, restore, retention and the removal of one person, as their user does them.
import { spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { main } from '../../src/cli/commands.ts';
import { run as retain } from '../../src/cli/retain.ts';
import { jobFileStore } from '../../src/store/job-file-store.ts';
import { floorOn, keepingChannel, message, OPEN, START } from '../floor/workshop-floor.ts';
import { runCommand, startBench } from './run-command.ts';

let top: string;
let data: string;
beforeEach(() => {
  top = mkdtempSync(join(tmpdir(), 'chargehand-keeping-'));
  data = join(top, 'workshop');
});
afterEach(() => rmSync(top, { recursive: true, force: true }));

/** Every byte of every file below a folder, by its path. */
const filesBelow = (folder: string): ReadonlyMap<string, string> =>
  new Map(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((each) => each.isFile())
      .map((each) => {
        const path = join(each.parentPath, each.name);
        return [path.slice(folder.length + 1), readFileSync(path, 'latin1')] as const;
      }),
  );

const holding = (folder: string, word: RegExp): readonly string[] =>
  [...filesBelow(folder)]
    .filter(([, text]) => word.test(text))
    .map(([path]) => path)
    .sort();

const post = (address: string, id: string, text: string, thread: string | null = null) =>
  fetch(new URL('/api/message', address), {
    method: 'POST',
    headers: { 'content-type': 'application/json', cookie: 'chargehand-who=Wen' },
    body: JSON.stringify({ id, thread, text }),
  });

/** The command without a process of its own, which takes a second each. */
const inProcess = async (args: readonly string[]) => {
  const said = { out: '', err: '' };
  const out = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    said.out += String(text);
    return true;
  });
  const err = vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    said.err += String(text);
    return true;
  });
  try {
    const code = await main(args);
    return { code, ...said };
  } finally {
    out.mockRestore();
    err.mockRestore();
  }
};

describe('the drill', () => {
  it.each(['backup', 'backup.tar.gz'])(
    'into %s while the workshop runs: lose the folder, restore, verify, go on',
    async (name) => {
      mkdirSync(data);
      const bench = await startBench(data);
      expect(
        (await post(bench.address, 'opening-job', 'open job 7001 bus 9 coolant pump')).ok,
      ).toBe(true);
      await expect
        .poll(async () => (await fetch(new URL('/job/7001', bench.address))).status)
        .toBe(200);
      const page = await (await fetch(new URL('/job/7001', bench.address))).text();
      const thread = /data-thread="([a-z0-9-]+)"/u.exec(page)?.[1] ?? null;
      expect((await post(bench.address, 'first-word', 'battery isolated', thread)).ok).toBe(true);

      const backup = join(top, name);
      const made = runCommand(['backup', backup, '--data', data]);
      expect([made.code, made.err]).toEqual([0, '']);
      expect(made.out).toContain('Backed up ');
      await bench.stop('SIGKILL');
      rmSync(data, { recursive: true });

      const restored = join(top, 'restored');
      const done = runCommand(['restore', backup, '--data', restored]);
      expect([done.code, done.err]).toEqual([0, '']);
      const verified = runCommand(['verify', '--data', restored]);
      expect(verified.code).toBe(0);
      expect(verified.out).toContain('Job 7001: unbroken');
      const again = await startBench(restored);
      const shown = await (await fetch(new URL('/job/7001', again.address))).text();
      expect(shown).toContain('battery isolated');
      expect(await again.stop()).toBe(0);
      // Nothing is left beside them.
      expect(readdirSync(top).sort()).toEqual([name, 'restored']);
    },
    // Several processes one after the other, each of which loads the whole program.
    180_000,
  );

  const tar = spawnSync('tar', ['--version']).status === 0;
  it.skipIf(!tar)(
    'a backup in one file is opened by tar (left out where there is no tar)',
    async () => {
      await twoJobs();
      const file = join(top, 'b.tar.gz');
      expect(runCommand(['backup', file, '--data', data]).code).toBe(0);
      const out = join(top, 'by-tar');
      mkdirSync(out);
      expect(spawnSync('tar', ['xzf', file, '-C', out]).status).toBe(0);
      const [ours, theirs] = [filesBelow(data), filesBelow(out)];
      expect(theirs.get('settings.yaml')).toBe(ours.get('settings.yaml'));
      const job = [...ours.keys()].find((path) => path.includes('job-1042')) ?? '';
      expect(theirs.get(job)).toBe(ours.get(job));
      // And the other way round: what tar packs is restored.
      const packed = join(top, 'theirs.tgz');
      spawnSync('tar', ['czf', packed, '--format=ustar', '-C', out, '.']);
      expect(runCommand(['restore', packed, '--data', join(top, 'r')]).code).toBe(0);
      expect(filesBelow(join(top, 'r')).get(job)).toBe(ours.get(job));
    },
  );

  it('each refusal is one line what and one line what to do, and changes nothing', async () => {
    await twoJobs();
    const before = filesBelow(data);
    const backup = join(top, 'b');
    expect(runCommand(['backup', backup, '--data', data]).code).toBe(0);
    const job = readdirSync(join(backup, 'jobs', 'jobs'))[0] ?? '';
    writeFileSync(join(backup, 'jobs', 'jobs', job), 'x');
    writeFileSync(join(top, 'cut.tar.gz'), 'no archive');
    for (const args of [
      ['backup'],
      ['backup', backup, '--data', data],
      ['backup', join(data, 'inside'), '--data', data],
      ['backup', join(top, 'c'), '--data', join(top, 'nothing')],
      ['restore', backup, '--data', join(top, 'r')],
      ['restore', join(top, 'cut.tar.gz'), '--data', join(top, 'r')],
      ['restore', join(top, 'none'), '--data', join(top, 'r')],
      ['restore', backup, '--data', data],
      ['retain', '--data', data],
      ['retain', '--days', 'few', '--data', data],
      ['retain', '--days', '30', '--data', join(top, 'nothing')],
      ['forget', '--data', data],
      ['forget', 'Ada', '--data', join(top, 'nothing')],
    ]) {
      const { code, out, err } = await inProcess(args);
      expect([args, code === 0, out]).toEqual([args, false, '']);
      expect([args, err.trimEnd().split('\n').length, err]).toEqual([
        args,
        expect.any(Number),
        err,
      ]);
      expect(err.trimEnd().split('\n').length, err).toBeLessThanOrEqual(2);
      expect(err).not.toMatch(/\bat .*\.ts:|Error:/u);
    }
    expect(filesBelow(data)).toEqual(before);
    expect(existsSync(join(top, 'r'))).toBe(false);
  });

  it('what changes the store says who holds it while the workshop runs', async () => {
    mkdirSync(data);
    const bench = await startBench(data);
    for (const args of [
      ['retain', '--days', '30', '--data', data],
      ['forget', 'Ada', '--data', data],
    ]) {
      const { code, err } = runCommand(args);
      expect([args[0], code]).toEqual([args[0], 1]);
      expect(err).toMatch(/process \d+|in use|another/u);
    }
    await bench.stop();
  }, 180_000);
});

const LINES = [
  { what: 'said', id: 'm-one', client: 'one', at: START, by: 'Ada', text: 'battery isolated' },
  {
    what: 'posted',
    id: 'p-one',
    at: START,
    key: 'k',
    card: { text: 'Asked of Ada.', blocks: [{ kind: 'text', text: 'Asked of Ada.' }] },
  },
  { what: 'said', id: 'm-two', client: 'two', at: START, by: 'Robin', text: 'thanks ada' },
];
const talk = (file: string): readonly { readonly by?: string; readonly text?: string }[] =>
  readFileSync(join(data, 'bench', file), 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line));

/** Job 1042, closed as cancelled, and job 1043, open, both with words of Ada; and talk on the bench. */
async function twoJobs(): Promise<void> {
  const bench = keepingChannel();
  const floor = await floorOn(join(data, 'jobs'), [bench]);
  const take = async (...args: Parameters<typeof message>): Promise<void> => {
    await bench.intake().accept(message(...args));
    await floor.calm();
  };
  await take('o1', 'Robin', OPEN);
  await take('o2', 'Robin', OPEN.replace('1042', '1043').replace('17', '18'));
  const threadOf = (job: string): string =>
    bench.posted.find(({ key }) => key.startsWith(`${job}|`))?.id ?? '';
  for (const job of ['1042', '1043'])
    await take(`m${job}`, 'Ada', 'handbrake on and chocked, says Ada', { thread: threadOf(job) });
  await take('c1', 'Robin', 'cancel job because wrong bus', { thread: threadOf('1042') });
  await floor.running.stop();
  const threads = join(data, 'bench', 'threads');
  mkdirSync(threads, { recursive: true });
  const text = LINES.map((line) => `${JSON.stringify(line)}\n`).join('');
  writeFileSync(join(data, 'bench', 'yard.jsonl'), text);
  for (const job of ['1042', '1043']) writeFileSync(join(threads, `${threadOf(job)}.jsonl`), text);
  writeFileSync(join(data, 'settings.yaml'), 'workshop: Harrow Lane depot\n');
}

const stored = async (job: string) => {
  const store = jobFileStore(join(data, 'jobs'), { clock: () => START });
  await store.open();
  try {
    return { job: await store.load(job), chain: await store.verify(job) };
  } finally {
    await store.close();
  }
};

const endOf = ({ chain }: Awaited<ReturnType<typeof stored>>): string =>
  chain?.good ? chain.end : 'broken';

describe('retain', () => {
  it('takes the words of a job that is over for so long, and leaves what is done, the chain, and open jobs', async () => {
    await twoJobs();
    const before = await stored('1042');
    const days = (n: number): string =>
      new Date(Date.parse(START) + n * 24 * 3600_000 + 3600_000).toISOString();
    expect(await retain(['--days', '30', '--data', data], days(29))).toBe(0);
    expect(await stored('1042')).toEqual(before);
    expect(await retain(['--days', '30', '--data', data], days(31))).toBe(0);
    const after = await stored('1042');
    const texts = (kind: string) =>
      after.job?.events.flatMap(({ event }) =>
        event.kind === kind && 'text' in event ? [event.text] : [],
      );
    expect(texts('message-posted')?.every((text) => text === null)).toBe(true);
    expect(texts('message-posted')?.length).toBeGreaterThan(0);
    // What was read from the words, and the reason of a decision, are facts.
    const kept = (events: typeof after) =>
      events.job?.events.flatMap(({ event }) =>
        event.kind === 'message-read' ? event.acts.map(({ kind }) => kind) : [],
      );
    expect(kept(after)).toEqual(kept(before));
    expect(JSON.stringify(after.job?.events)).toContain('wrong bus');
    expect(after.chain).toMatchObject({ good: true, end: endOf(before) });
    expect(holding(join(data, 'jobs'), /handbrake on and chocked, says/u)).toEqual([
      expect.stringContaining('1043'),
    ]);
    expect(runCommand(['verify', '--data', data]).code).toBe(0);
    const [closed, open] = [
      before.job?.threads[0]?.thread ?? '',
      (await stored('1043')).job?.threads[0]?.thread,
    ];
    expect(talk(`threads/${closed}.jsonl`).map(({ text }) => text)).toEqual([
      '(removed)',
      undefined,
      '(removed)',
    ]);
    expect(readFileSync(join(data, 'bench', 'threads', `${closed}.jsonl`), 'utf8')).not.toContain(
      'Asked',
    );
    expect(talk(`threads/${open}.jsonl`)).toEqual(LINES);
    // The record can still be made.
    expect(runCommand(['record', '1042', '--format', 'csv', '--data', data]).err).not.toContain(
      'broken',
    );
  });
});

describe('forget', () => {
  it('takes one person out of jobs and talk, and the chain verifies to the same end', async () => {
    await twoJobs();
    const before = await stored('1042');
    const settings = readFileSync(
      new URL('../../data/demo/settings.yaml', import.meta.url),
      'utf8',
    );
    writeFileSync(join(data, 'settings.yaml'), settings);
    writeFileSync(join(data, 'chargehand.log'), '{"msg":"something about Ada"}\n');
    expect(holding(data, /\bada\b/iu).length).toBeGreaterThan(4);
    const { code, out } = runCommand(['forget', 'Ada', '--data', data]);
    expect([code, out]).toEqual([0, expect.stringContaining('Removed "Ada" from 2 jobs')]);
    expect(holding(data, /\bada\b/iu)).toEqual([]);
    const after = await stored('1042');
    expect(after.chain).toMatchObject({ good: true, end: endOf(before) });
    const by = (events: typeof after) => events.job?.events.map(({ event }) => event.by);
    expect(by(after)).toContain('removed person 2');
    expect(by(after)?.filter((name) => name === 'Robin').length).toBe(
      by(before)?.filter((name) => name === 'Robin').length,
    );
    expect(talk('yard.jsonl').map(({ by: who, text }) => [who, text])).toEqual([
      ['removed person', 'battery isolated'],
      [undefined, undefined],
      ['Robin', 'thanks removed person'],
    ]);
    expect(runCommand(['verify', '--data', data]).code).toBe(0);
  });

  it('goes by the other names of the settings too, and says what a person still has to do', async () => {
    await twoJobs();
    const settings = [
      'workshop: Harrow Lane depot',
      'zone: Europe/London',
      'people:',
      '  - {name: Adeline, also: [Ada], roles: [technician]}',
      '  - {name: Robin, roles: [controller]}',
    ].join('\n');
    writeFileSync(join(data, 'settings.yaml'), settings);
    mkdirSync(join(data, 'jobs', 'set-aside'));
    writeFileSync(join(data, 'jobs', 'set-aside', 'job-1'), 'Ada');
    const { code, err } = runCommand(['forget', 'Adeline', '--data', data]);
    expect(code).toBe(1);
    expect(err).toMatch(/set-aside may still hold the name/u);
    expect(err).toMatch(/settings\.yaml still lists Adeline/u);
    expect(holding(data, /\bada\b/iu)).toEqual(['jobs/set-aside/job-1', 'settings.yaml']);
  });
});
