// When a post came: the time of what it speaks of is kept where that is more than an hour past.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { openConversation } from '../../../src/chat/bench/talk/conversation.ts';
import { type Arrived, openPosting } from '../../../src/chat/bench/talk/posting.ts';

const folder = mkdtempSync(join(tmpdir(), 'chargehand-posting-'));
afterAll(() => rmSync(folder, { recursive: true }));

const NOW = '2025-03-04T10:42:00.000Z';
const CARD = { text: 'x', blocks: [] };

describe('the time of a post', () => {
  it.each<[string, Arrived | undefined, string | undefined]>([
    ['nothing came in', undefined, undefined],
    ['it came just now', { at: '2025-03-04T10:41:00Z', arrived: NOW }, undefined],
    ['it is an hour old', { at: '2025-03-04T09:42:00Z', arrived: NOW }, undefined],
    ['it is of yesterday', { at: '2025-03-03T06:40:00Z', arrived: NOW }, '2025-03-03T06:40:00Z'],
    [
      'it came long before the post',
      { at: '2025-03-04T08:00:00Z', arrived: '2025-03-04T08:00:00Z' },
      undefined,
    ],
  ])('%s', async (_what, last, of) => {
    const conversation = await openConversation(mkdtempSync(join(folder, 'c-')));
    const posting = openPosting(
      conversation,
      () => NOW,
      () => last,
    );
    const result = await posting.post({ team: 'bench', place: 'yard' }, CARD, 'k');
    expect(result.ok).toBe(true);
    const [entry] = conversation.yard.entries();
    expect(entry).toMatchObject({ at: NOW, key: 'k' });
    expect(entry?.of).toBe(of);
    await conversation.close();
  });
});
