import { describe, expect, it } from 'vitest';
import { turnstile } from '../../src/floor/turnstile.ts';

const nextTurn = (): Promise<void> => new Promise((done) => setImmediate(done));

describe('the turnstile', () => {
  it('lets one through in a turn of the event loop, in the order of coming', async () => {
    const gate = turnstile();
    let turn = 0;
    let counting = true;
    const count = async (): Promise<void> => {
      while (counting) {
        await nextTurn();
        turn += 1;
      }
    };
    const counted = count();
    const passed: { readonly who: number; readonly turn: number }[] = [];
    await Promise.all(
      [1, 2, 3, 4].map((who) => gate.pass().then(() => void passed.push({ who, turn }))),
    );
    counting = false;
    await counted;
    expect(passed.map(({ who }) => who)).toEqual([1, 2, 3, 4]);
    expect(new Set(passed.map((each) => each.turn)).size).toBe(4);
  });

  it('waits while a delivery is being kept, but not for ever', async () => {
    const gate = turnstile();
    const did: string[] = [];
    let keep: () => void = () => undefined;
    const kept = gate.arriving(
      () =>
        new Promise<void>((done) => {
          keep = done;
        }),
    );
    const decided = gate.pass().then(() => void did.push('decided'));
    for (let turns = 0; turns < 5; turns += 1) await nextTurn();
    expect(did).toEqual([]);
    did.push('kept');
    keep();
    await Promise.all([kept, decided]);
    expect(did).toEqual(['kept', 'decided']);
    void gate.arriving(() => new Promise<void>(() => undefined));
    await gate.pass();
  });

  it('what could not be kept holds up nothing', async () => {
    const gate = turnstile();
    await expect(gate.arriving(() => Promise.reject(new Error('full')))).rejects.toThrow('full');
    await gate.pass();
  });
});
