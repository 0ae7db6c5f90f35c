// Work that stands still, or goes on, in words that name no step.
import { describe, expect, it } from 'vitest';
import type { Act } from '../../../shared/reading.ts';
import { withWaiting } from '../../../src/desk/orders/waiting-said.ts';
import { askedIn, waitKind } from '../../../src/desk/waits.ts';

const PEOPLE = ['Nell', 'Jorn', 'Wen'];
const kindOf = (text: string, blocked: readonly string[] = []): string | undefined =>
  withWaiting([], text, PEOPLE, blocked)[0]?.kind;

describe('stands still', () => {
  it.each([
    ['waiting for parts, seals not in, asked stores', 'parts', 'stores'],
    ['waiting on the big puller, Jorn has it', 'tool', 'Jorn'],
    ["need bay 3, it's taken", 'bay', undefined],
    ['need the pit, bus 12 is on it', 'bay', undefined],
    ["can't go on without the torque wrench", 'tool', undefined],
    ['waiting for approval', 'approval', undefined],
    ['waiting for Wen to approve the hose', 'approval', 'Wen'],
    ['waiting for Wen', 'other', 'Wen'],
    ['held up by stores, no seals', 'parts', undefined],
  ])('%s: waits for %s, asked %s', (text, kind, asked) => {
    expect(kindOf(text)).toBe('blocked');
    expect(waitKind(text)).toBe(kind);
    expect(askedIn(text, PEOPLE)).toBe(asked);
  });

  it.each([
    'waiting for it to cool',
    'waiting for the match',
    'waiting for dinner',
    'need a tea',
    'need new seals',
    'wait for me',
    'are you waiting for parts?',
  ])('nothing: %s', (text) => {
    expect(kindOf(text)).toBeUndefined();
  });

  it('takes the missing part for what is waited for, not for a step left out', () => {
    const acts: Act[] = [
      { kind: 'not-done', step: 'renew-thermostat', positions: [], assumed: [], span: [19, 30] },
    ];
    expect(withWaiting(acts, 'waiting for parts, seals not in', PEOPLE)[0]?.kind).toBe('blocked');
  });
});

describe('goes on', () => {
  it.each(['parts arrived', 'bay 3 is free now', 'carrying on', 'got the puller'])('%s', (text) => {
    expect(kindOf(text, ['waiting for approval'])).toBe('resumed');
    expect(kindOf(text)).toBeUndefined();
  });

  it('what was waited for has come: no report of its fitting', () => {
    const fitted: Act[] = [
      { kind: 'done', step: 'renew-thermostat', positions: [], assumed: [], span: [0, 12] },
    ];
    const waits = ['waiting for the seals, asked stores'];
    expect(withWaiting(fitted, 'seals are in', PEOPLE, waits)[0]?.kind).toBe('resumed');
    expect(withWaiting(fitted, 'seals are in', PEOPLE, [])).toBe(fitted);
    expect(withWaiting(fitted, 'pump is in', PEOPLE, waits)).toBe(fitted);
  });
});
