// The table of traps names tests that are there.
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const here = (path: string): URL => new URL(path, import.meta.url);
const rows = readFileSync(here('README.md'), 'utf8')
  .split('\n')
  .flatMap((line) => {
    const [, file, title] = /\| `([^`]+\.test\.ts)`: (.+?) \|$/u.exec(line) ?? [];
    return file && title ? [[file, title] as const] : [];
  });

describe('the table of traps', () => {
  it('has a test for each', () => {
    expect(rows.length).toBeGreaterThan(40);
    const lines = readFileSync(here('README.md'), 'utf8')
      .split('\n')
      .filter(
        (line) => line.startsWith('| ') && !line.startsWith('| trap') && !line.startsWith('| ---'),
      );
    expect(rows.length).toBe(lines.length);
  });

  it.each(rows)('%s: %s', (file, title) => {
    expect(readFileSync(here(file), 'utf8')).toContain(title);
  });
});

it('schedules no message with Slack: one with metadata is never posted, and there are limits on the others', () => {
  const folder = here('../../../src/chat/slack/');
  for (const name of readdirSync(folder))
    expect(readFileSync(new URL(name, folder), 'utf8'), name).not.toContain('scheduleMessage');
});
