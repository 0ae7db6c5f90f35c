// Hours in the list of open jobs: what is not booked is said, not shown as nought.
import { describe, expect, it } from 'vitest';
import { openJobsCard } from '../../../src/desk/answers/open-jobs.ts';
import { at, deskJob, planFrom, wheelText } from '../desk-job.ts';

// One step with times in minutes: (60 + 4 x 90 + 120) / 6 = 90.
const timed = planFrom(
  wheelText.replace(
    'words: [chocked, chocks in]',
    'words: [chocked, chocks in]\n    time: { best: 60, likely: 90, worst: 120 }',
  ),
);

describe('openJobsCard', () => {
  const { view } = deskJob({ plan: timed }).state();

  it('says that nothing is booked, and what is planned', () => {
    const { text } = openJobsCard([view], 'all', at('07:00'), 'UTC', true);
    expect(text).toContain('no hours booked of 1 h 30 min planned');
    expect(text).not.toContain('0 min booked');
  });

  it('says the hours that are booked', () => {
    const booked = { ...view, minutesBooked: 75 };
    const { text } = openJobsCard([booked], 'all', at('07:00'), 'UTC', true);
    expect(text).toContain('1 h 15 min booked of 1 h 30 min planned');
  });

  it('keeps hours from those who may not see them', () => {
    expect(openJobsCard([view], 'all', at('07:00'), 'UTC', false).text).not.toContain('booked');
  });
});
