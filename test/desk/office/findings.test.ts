// A finding: offered with what the plan could add, evidence counted, settled once.
import { describe, expect, it } from 'vitest';
import type { Act } from '../../../shared/reading.ts';
import type { Card } from '../../../src/desk/card.ts';
import { jobRecord } from '../../../src/report/job-record.ts';
import { at, deskJob, done, texts } from '../desk-job.ts';

const finding = (more: Partial<Act> = {}): Act => ({
  kind: 'finding',
  positions: [],
  assumed: [],
  span: [0, 1],
  note: 'front right tyre is cracked',
  ...more,
});
const raised = (more: Partial<Act> = {}) => {
  const job = deskJob();
  job.say('Ada', 'chocked', '07:00', [done('chock')]);
  const posts = job.say('Ada', 'front right tyre is cracked', '07:05', [finding(more)]);
  const card = posts.find(({ key }) => key === 'reply:m2')?.card;
  return { job, card };
};
const approve = (card: Card | undefined) => card?.actions?.find(({ label }) => label === 'Approve');

describe('the offer', () => {
  it('shows the positions and extra work that are not on the job, those it names chosen', () => {
    const { card } = raised({ positions: ['front right'] });
    expect(approve(card)?.form?.fields).toMatchObject([
      { name: 'positions', value: 'front right', choices: [{ value: 'front right' }] },
      { name: 'options', choices: [{ value: 'valve', label: 'The tyre valve is renewed' }] },
    ]);
    expect(card?.tells).toEqual(['Robin']);
  });

  it('chooses the extra work of the step it names', () => {
    const { card } = raised({ step: 'renew-valve' });
    expect(approve(card)?.form?.fields[1]).toMatchObject({ name: 'options', value: 'valve' });
  });

  it('says when photos came with it', () => {
    const job = deskJob();
    job.add({
      id: 'photo',
      at: at('07:05'),
      by: 'Ada',
      kind: 'photo-kept',
      message: 'm1',
      name: 'tyre.jpg',
      type: 'image/jpeg',
      bytes: 10,
      sha256: 'a'.repeat(64),
    });
    expect(texts(job.say('Ada', 'tyre cracked', '07:05', [finding()])).join()).toContain(
      'With a photo.',
    );
  });
});

describe('in the record', () => {
  it('stand the finding, its photo, and who decided what and when', () => {
    const job = deskJob();
    job.say('Ada', 'front right tyre is cracked', '07:05', [
      finding({ positions: ['front right'] }),
    ]);
    job.add({
      id: 'photo',
      at: at('07:05'),
      by: 'Ada',
      kind: 'photo-kept',
      message: 'm1',
      name: 'tyre.jpg',
      type: 'image/jpeg',
      bytes: 10,
      sha256: 'a'.repeat(64),
    });
    job.tap(
      'Robin',
      { do: 'settle-finding', job: '1042', message: 'm1', settle: 'approved' },
      '07:10',
      { positions: ['front right'] },
    );
    const record = jobRecord(job.state().view, job.state().events, {
      chainEnd: null,
      zone: 'UTC',
      now: at('08:00'),
    });
    expect(record.findings).toMatchObject([
      { message: 'm1', by: 'Ada', state: 'approved', decidedBy: 'Robin', decidedAt: at('07:10') },
    ]);
    expect(record.photos).toMatchObject([{ message: 'm1', name: 'tyre.jpg', by: 'Ada' }]);
    expect([...job.state().view.positions.values()].flat()).toContain('front right');
  });
});

describe('settling', () => {
  const settle = {
    do: 'settle-finding' as const,
    job: '1042',
    message: 'm2',
    settle: 'approved' as const,
  };
  const positions = (job: ReturnType<typeof deskJob>) => job.state().view.positions.get('wheels');

  it('approved, the chosen positions join and their steps are to be done', () => {
    const { job } = raised({ positions: ['front right'] });
    job.tap('Robin', settle, '07:10', { positions: ['front right'] });
    expect(positions(job)).toEqual(['front left', 'front right']);
    expect(
      job
        .state()
        .view.steps.filter(({ step }) => step === 'swap')
        .map(({ state }) => state),
    ).toEqual(['open', 'open']);
  });

  it('what was reported there before the approval counts', () => {
    const { job } = raised({ positions: ['front right'] });
    job.say('Ada', 'up', '07:06', [done('jack-up')]);
    job.say('Ada', 'right one swapped', '07:08', [done('swap', { positions: ['front right'] })]);
    expect(job.state().view.flags.some(({ rule }) => rule === 'wrong-position')).toBe(true);
    job.tap('Robin', settle, '07:10', { positions: ['front right'] });
    const swap = job
      .state()
      .view.steps.find(({ step, position }) => step === 'swap' && position === 'front right');
    expect(swap?.state).toBe('done');
    expect(
      job.state().view.flags.some(({ rule, clearedBy }) => rule === 'wrong-position' && !clearedBy),
    ).toBe(false);
  });

  it('a form sent with nothing chosen approves and adds nothing', () => {
    const { job } = raised({ positions: ['front right'] });
    job.tap('Robin', settle, '07:10', { positions: [], options: [] });
    expect(positions(job)).toEqual(['front left']);
    expect(job.state().view.findings[0]?.state).toBe('approved');
  });

  it('a forged position is left out', () => {
    const { job } = raised();
    job.tap('Robin', settle, '07:10', { positions: ['roof'] });
    expect(positions(job)).toEqual(['front left']);
  });

  it('is done once', () => {
    const { job } = raised();
    job.tap('Robin', settle, '07:10');
    expect(texts(job.tap('Robin', { ...settle, settle: 'declined' }, '07:11')).join()).toContain(
      'No finding waits',
    );
    expect(job.state().view.findings[0]?.state).toBe('approved');
  });

  it('with two open by words the one that is named is meant, else it is asked for', () => {
    const { job } = raised({ positions: ['front right'] });
    job.say('Ada', 'valve leaks', '07:06', [finding({ step: 'renew-valve', note: 'valve leaks' })]);
    expect(texts(job.say('Robin', 'approve', '07:10')).join()).toContain('Several findings wait');
    job.say('Robin', 'approve valve', '07:11', [
      {
        kind: 'command',
        command: 'approve',
        step: 'renew-valve',
        positions: [],
        assumed: [],
        span: [0, 1],
      },
    ]);
    expect(job.state().view.findings.map(({ state }) => state)).toEqual(['open', 'approved']);
    expect(job.state().view.options).toEqual(['valve']);
  });
});
