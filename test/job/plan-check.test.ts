import { describe, expect, it } from 'vitest';
import { PlanCheckResult } from '../../shared/plan.ts';
import { formatComplaint, planCheck } from '../../src/job/plan-check.ts';
import { changed, SAMPLE } from './plan-file/sample-plan.ts';

describe('planCheck', () => {
  it.each([
    ['a sound plan', SAMPLE, true],
    ['a plan with a complaint', changed('after: [fill]', 'after: [fil]'), false],
    ['no plan', 'x', false],
  ])('answers in the fixed form for %s', (_, text, good) => {
    const result = planCheck(text, 'plans/sample.yaml');
    expect(PlanCheckResult.parse(result)).toEqual(result);
    expect(result.good).toBe(good);
    expect(result.plan).toBe(good ? 'renew-clamp' : null);
    expect(result.reads.length > 0).toBe(good);
    expect(result.complaints.length > 0).toBe(!good);
  });
});

describe('formatComplaint', () => {
  const complaint = {
    level: 'error',
    line: 12,
    path: 'steps[0]',
    what: 'Step "a" has no title.',
    expected: 'A title.',
    mend: 'Add one.',
  } as const;

  it('says file, line and what on the first line', () => {
    expect(formatComplaint('p.yaml', complaint)).toBe(
      'p.yaml:12: Step "a" has no title.\n  expected: A title.\n  to mend: Add one.',
    );
  });

  it('tells a warning from an error in words', () => {
    expect(formatComplaint('p.yaml', { ...complaint, level: 'warning' })).toMatch(
      /^p\.yaml:12: Warning: Step/,
    );
  });
});
