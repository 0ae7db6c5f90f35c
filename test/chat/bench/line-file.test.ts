// The bench's own log: what resolves is there after a crash, and a torn or damaged line costs only itself.
import { appendFile, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openLineFile } from '../../../src/chat/bench/talk/line-file.ts';

let folder = '';
let file = '';
beforeEach(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'lines-'));
  file = path.join(folder, 'yard.jsonl');
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe('a file of JSON lines', () => {
  it('gives back what was appended, in order, also where many are appended at once', async () => {
    const { lines } = await openLineFile(file);
    await Promise.all(Array.from({ length: 200 }, (_, at) => lines.append({ at })));
    await lines.close();
    const { values, lines: again } = await openLineFile(file);
    await again.close();
    expect(values).toEqual(Array.from({ length: 200 }, (_, at) => ({ at })));
  });

  it('cuts off a torn last line, keeps it aside, and goes on behind the whole ones', async () => {
    await writeFile(file, '{"at":1}\n{"at":2');
    const { lines, values } = await openLineFile(file);
    expect(values).toEqual([{ at: 1 }]);
    await lines.append({ at: 3 });
    await lines.close();
    expect(await readFile(file, 'utf8')).toBe('{"at":1}\n{"at":3}\n');
    expect(await readFile(`${file}.torn`, 'utf8')).toBe('{"at":2');
  });

  it('passes over a damaged line in the middle and says where it is', async () => {
    const warned: object[] = [];
    await writeFile(file, '{"at":1}\nnot json\n{"at":2}\n');
    const { lines, values } = await openLineFile(file, {
      info: () => {},
      warn: (facts) => warned.push(facts),
      error: () => {},
    });
    await lines.close();
    expect(values).toEqual([{ at: 1 }, { at: 2 }]);
    expect(warned).toEqual([{ file, line: 2 }]);
  });

  it('is empty after emptying, and takes what comes meanwhile', async () => {
    const { lines } = await openLineFile(file);
    await lines.append({ at: 1 });
    await Promise.all([lines.empty(), lines.append({ at: 2 })]);
    await lines.append({ at: 3 });
    await lines.close();
    const kept = (await readFile(file, 'utf8'))
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(kept.at(-1)).toEqual({ at: 3 });
    expect(kept).toContainEqual({ at: 2 });
    expect(kept).not.toContainEqual({ at: 1 });
  });

  it('reads a file of another process that only appended to it', async () => {
    await appendFile(file, '{"at":1}\n');
    const { lines, values } = await openLineFile(file);
    await lines.close();
    expect(values).toEqual([{ at: 1 }]);
  });
});
