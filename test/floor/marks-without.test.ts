// A person is taken out of the marks too: by the id of the platform, and by name out of what others wrote.
import { describe, expect, it } from 'vitest';
import { markWithout, type WhoGoes } from '../../src/floor/marks-without.ts';

const WHO: WhoGoes = { names: ['Jo'], ids: ['U0JO0001'] };
const delivery = (person: string, text: string) => ({
  id: `slack:T:C:${text}`,
  keys: [],
  channel: 'slack',
  kind: 'message',
  person,
  text,
});
const kept = (...deliveries: unknown[]): string =>
  JSON.stringify({ deliveries, asked: true, away: false });

describe('a mark', () => {
  it.each([
    [
      'of what a stranger posted',
      'stranger:slack:T0DEPOT1:U0JO0001',
      kept(delivery('U0JO0001', 'x')),
    ],
    ['of a stranger who was turned away', 'stranger:slack:T0DEPOT1:U0JO0001', kept()],
    [
      'of a message that waits for its job',
      'choose:slack:T:C:1',
      JSON.stringify(delivery('U0JO0001', 'x')),
    ],
    ['of a tick', 'tick:slack:C:1.2:U0JO0001', 'asked'],
    ['of where somebody is written to directly', 'teams:direct:U0JO0001', 'a:1'],
  ])('%s is emptied', (_what, name, value) => {
    expect(markWithout(name, value, WHO)).toBe('');
  });

  it('of somebody else loses the name where they wrote it, and nothing else', () => {
    const before = kept(delivery('U0KIM001', 'ask jo, Joan knows'));
    const after = markWithout('stranger:slack:T:U0KIM001', before, WHO);
    expect(JSON.parse(after).deliveries).toEqual([
      { ...delivery('U0KIM001', 'ask jo, Joan knows'), text: 'ask removed person, Joan knows' },
    ]);
  });

  it('that lists people loses the one', () => {
    expect(markWithout('slack:home:T', '["U0ADA001","U0JO0001"]', WHO)).toBe('["U0ADA001"]');
  });

  it.each([
    ['that says nothing of the person', 'home:1042:slack', '{"team":"T", "place":"C"}'],
    ['that is empty', 'stranger:slack:T:U0JO0001', ''],
    ['that is no JSON', 'shift-note', '2026-03-02T09:00:00.000Z'],
    ['of somebody with a longer id', 'tick:slack:C:1.2:U0JO00012', 'asked'],
  ])('%s stays as it is', (_what, name, value) => {
    expect(markWithout(name, value, WHO)).toBe(value);
  });
});
