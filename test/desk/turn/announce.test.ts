// A flag is said once, changed in place, withdrawn in the open, and said again when it comes back.
import { describe, expect, it } from 'vitest';
import type { Post } from '../../../src/desk/card.ts';
import { announcedFlags } from '../../../src/desk/turn/log.ts';
import { deskJob, done, texts } from '../desk-job.ts';

const said = (posts: readonly Post[]): string => texts(posts).join(' / ');
const keys = (posts: readonly Post[], where: string): readonly string[] =>
  posts
    .filter(({ to, key, card }) => card && to.where === where && key !== 'sheet')
    .map(({ key }) => key);

describe('a stop', () => {
  const raised = () => {
    const job = deskJob();
    const posts = job.say('Ada', 'up', '07:00', [done('jack-up')]);
    return { job, posts };
  };

  it('goes to the channel and to the thread, and names the controller', () => {
    const { posts } = raised();
    expect(keys(posts, 'channel')).toEqual(['stops:m1']);
    expect(keys(posts, 'thread')).toEqual(['reply:m1']);
    const channel = posts.find(({ to, key }) => to.where === 'channel' && key !== 'sheet');
    expect(channel?.card?.tells).toEqual(['Robin']);
    expect(channel?.urgent).toBe(true);
  });

  it('is said once: what does not bear on it is not answered', () => {
    const { job } = raised();
    expect(said(job.say('Ada', 'swapped', '07:10', [done('swap')]))).not.toContain('Chock');
  });

  it('is withdrawn in the open, and its old cards are left with nothing to tap', () => {
    const { job } = raised();
    const posts = job.say('Ada', 'chocked at 06:50', '07:10', [
      done('chock', { time: '2026-03-10T06:50:00.000+00:00' }),
    ]);
    expect(said(posts)).toContain('No longer standing');
    expect(said(posts)).toContain('Done before, at 06:50, as Ada reported.');
    const old = posts.filter(({ key }) => key === 'reply:m1' || key === 'stops:m1');
    expect(old.map(({ key }) => key).sort()).toEqual(['reply:m1', 'stops:m1']);
    expect(old.every(({ edit, card }) => edit && (card?.actions ?? []).length === 0)).toBe(true);
  });

  it('comes back when what withdrew it is deleted, as a new card', () => {
    const { job } = raised();
    job.say('Ada', 'chocked at 06:50', '07:10', [
      done('chock', { time: '2026-03-10T06:50:00.000+00:00' }),
    ]);
    const posts = job.remove('Ada', 'm2', '07:20');
    expect(keys(posts, 'channel')).toEqual(['stops:m3']);
    expect(said(posts)).toContain('Skipped: "Chock the wheels"');
    expect(announcedFlags(job.state().events).get('skipped|chock||')?.standing).toBe(true);
  });

  it('that says something else is changed in its place', () => {
    const { job } = raised();
    // Reported late and without a time: asked; "after" makes the flag say so.
    job.say('Ada', 'chocked', '07:10', [done('chock')]);
    const question = job.state().view.questions.find(({ about }) => about === 'before-or-after');
    const posts = job.tap(
      'Ada',
      { do: 'answer', job: '1042', question: question?.question ?? '', choice: 1 },
      '07:12',
    );
    const channel = posts.find(({ to, key }) => to.where === 'channel' && key !== 'sheet');
    expect(channel).toMatchObject({ key: 'stops:m1', edit: true, urgent: false });
    expect(channel?.card?.text).toContain('Done afterwards');
    expect(keys(posts, 'thread')).toContain('reply:m1');
  });

  it('overridden, it says by whom and why', () => {
    const { job } = raised();
    const posts = job.tap(
      'Robin',
      { do: 'override', job: '1042', flag: 'skipped|chock||' },
      '07:15',
      { reason: 'it stands in the pit' },
    );
    expect(said(posts)).toContain('Overridden by Robin: it stands in the pit.');
  });
});

describe('a skipped step', () => {
  it('is held back, and two messages sent together raise nothing', () => {
    const job = deskJob({ holdBack: 20 });
    expect(said(job.say('Ada', 'up', '07:00', [done('jack-up')]))).toBe('');
    job.say('Ada', 'chocked at 06:50', '07:00', [
      done('chock', { time: '2026-03-10T06:50:00.000+00:00' }),
    ]);
    expect(said(job.look('07:01'))).toBe('');
  });

  it('is said when the time is over', () => {
    const job = deskJob({ holdBack: 20 });
    job.say('Ada', 'up', '07:00', [done('jack-up')]);
    expect(said(job.look('07:01'))).toContain('Skipped: "Chock the wheels"');
  });
});

describe('a caution', () => {
  it('stays in the thread', () => {
    const job = deskJob();
    job.say('Ada', 'chocked', '07:00', [done('chock')]);
    job.say('Ada', 'up', '07:01', [done('jack-up')]);
    const posts = job.say('Ada', 'down', '07:02', [done('lower')]);
    expect(said(posts)).toContain('Caution');
    expect(keys(posts, 'channel')).toEqual([]);
  });
});

describe('closing with something open', () => {
  it('is answered once, with the list, and is no stop for the channel', () => {
    const job = deskJob();
    const posts = job.say('Ada', 'close job', '07:00');
    expect(texts(posts)).toHaveLength(1);
    expect(said(posts)).toContain('cannot be closed yet');
    expect(keys(posts, 'channel')).toEqual([]);
    expect(said(job.look('07:30'))).toBe('');
  });
});
