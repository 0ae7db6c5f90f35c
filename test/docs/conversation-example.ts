// The README's example is a conversation that the tests play.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from '../layout/sources.ts';

export const EXAMPLE = 'skipped-and-withdrawn.txt';

export const conversationExample = (): string => {
  const text = readFileSync(join(ROOT, 'test/conversations', EXAMPLE), 'utf8').trimEnd();
  return ['```', text, '```'].join('\n');
};
