// Answers are kept in a bounded number, and what is kept is what was given.
import { describe, expect, it } from 'vitest';
import { keepAnswers } from '../../../src/language/tidy/kept-answers.ts';

describe('kept answers', () => {
  it('are given back as they were kept', () => {
    const kept = keepAnswers<number>(10);
    expect(kept.get('bolt')).toBeUndefined();
    kept.keep('bolt', 3);
    expect(kept.get('bolt')).toBe(3);
    expect(kept.get('nut')).toBeUndefined();
  });

  it('never are more than two generations', () => {
    const kept = keepAnswers<number>(10);
    for (let k = 0; k < 1000; k += 1) kept.keep(`word${k}`, k);
    const still = Array.from({ length: 1000 }, (_, k) => k).filter(
      (k) => kept.get(`word${k}`) !== undefined,
    );
    expect(still.length).toBeLessThanOrEqual(20);
    expect(still.every((k) => k >= 980)).toBe(true);
  });

  it('stay while they are asked for', () => {
    const kept = keepAnswers<string>(10);
    kept.keep('torqued', 'done');
    for (let k = 0; k < 1000; k += 1) {
      kept.keep(`word${k}`, '');
      expect(kept.get('torqued')).toBe('done');
    }
  });
});
