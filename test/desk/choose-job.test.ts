// Which job a message is for: a button for the likely ones, a list for all.
import { describe, expect, it } from 'vitest';
import { chooseJobForm } from '../../src/desk/choose-job-form.ts';
import { chooseJobCard, NO_PLAN } from '../../src/desk/route.ts';

const jobs = (count: number) =>
  Array.from({ length: count }, (_, index) => ({
    job: String(1040 + index),
    vehicle: `bus ${index + 1}`,
    plan: NO_PLAN,
  }));

describe('the card', () => {
  it('has a button for each of five jobs, and no list', () => {
    const card = chooseJobCard('drained 28 L', jobs(5), 'd1');
    expect(card.actions?.map(({ label }) => label)).toEqual([
      '1040, bus 1',
      '1041, bus 2',
      '1042, bus 3',
      '1043, bus 4',
      '1044, bus 5',
    ]);
  });

  it('has a list of all of them behind a button where there are more', () => {
    const card = chooseJobCard('drained 28 L', jobs(7), 'd1');
    const last = card.actions?.at(-1);
    expect(last).toMatchObject({
      label: 'Another job',
      intent: { do: 'choose-job', delivery: 'd1', job: '' },
    });
    expect(last?.form?.fields[0]?.choices?.map(({ value }) => value)).toEqual(
      jobs(7).map(({ job }) => job),
    );
    expect(card.text).toContain('2 more');
  });
});

describe('the form', () => {
  it('is none where no job is open', () => {
    expect(chooseJobForm([])).toBeUndefined();
  });
});
