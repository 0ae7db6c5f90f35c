import { describe, expect, it } from 'vitest';
import { flagsOf, planOf, viewOf } from '../story.ts';

const plan = planOf([
  { id: 'work', time: { best: 10, likely: 20, worst: 40 } },
  { id: 'more', time: { best: 5, likely: 10, worst: 20 } },
]);

describe('back-again', () => {
  const earlier = (closedAt: string, which = 'test-plan') => ({
    around: { earlier: [{ job: '990', plan: which, closedAt }] },
  });
  it('the same work on the same vehicle within 30 days', () => {
    const view = viewOf(plan, [], earlier('2026-04-12T07:00:00+02:00'));
    expect(flagsOf(view)).toEqual(['back-again||| caution']);
    expect(view.flags[0]?.says).toContain('Job 990 was the same work');
    expect(view.flags[0]?.raisedBy).toEqual(['opened']);
  });
  it('longer ago, or other work, is not', () => {
    expect(flagsOf(viewOf(plan, [], earlier('2026-04-12T06:59:00+02:00')))).toEqual([]);
    expect(flagsOf(viewOf(plan, [], earlier('2026-05-01T08:00:00+02:00', 'other')))).toEqual([]);
  });
  it('says what the last one found', () => {
    const { around } = earlier('2026-04-12T07:00:00+02:00');
    const [job] = around.earlier;
    const says = (found: readonly string[]): string | undefined =>
      viewOf(plan, [], {
        around: {
          earlier: [{ job: '990', plan: 'test-plan', closedAt: job?.closedAt ?? '', found }],
        },
      }).flags[0]?.says;
    expect(says(['weeping at the top hose (declined)', 'belt frayed (approved)'])).toContain(
      'It found: weeping at the top hose (declined) and belt frayed (approved).',
    );
    expect(says([])).toContain('It found nothing beside the work.');
  });
  it('the settings may say how many days', () => {
    const { around } = earlier('2026-03-01T08:00:00+02:00');
    expect(flagsOf(viewOf(plan, [], { around: { ...around, backAgainDays: 100 } }))).toHaveLength(
      1,
    );
  });
});
