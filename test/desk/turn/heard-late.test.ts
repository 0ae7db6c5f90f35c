// What is decided in words belongs where it was posted, whenever it is heard: in any order of arrival the same is released,
// and never something whose report was posted after the word.
import { describe, expect, it } from 'vitest';
import { hear } from '../../../src/desk/turn/hear.ts';
import { workshopOf } from '../../../src/desk/workshop.ts';
import { at, type DeskJob, deskJob, PEOPLE, texts, wheelPlan } from '../desk-job.ts';

const NUTS = 'tighten-nuts';
const hold = (job: DeskJob) => job.state().view.holds.find(({ step }) => step === NUTS);
const decisions = (job: DeskJob) =>
  job
    .state()
    .events.filter(({ kind }) => kind === 'hold-released' || kind === 'hold-refused')
    .map(({ kind, by, at: when }) => [kind, by, when]);

/** The job up to the wheel nuts, all posted and heard in order. */
const begun = (): DeskJob => {
  const job = deskJob();
  job.say('Ada', 'chocked', '07:00');
  job.say('Ada', 'jacked up', '07:10');
  job.say('Ada', 'wheel swapped', '07:20');
  job.say('Ada', 'lowered to the ground', '07:30');
  return job;
};
const NUTS_DONE = ['Ada', 'nuts tight', '07:40'] as const;
const RELEASE = ['Robin', 'release tighten the wheel nuts', '07:45'] as const;

describe('a release in words', () => {
  it('counts from when it was posted, although it is heard late', () => {
    const job = begun();
    job.say(...NUTS_DONE);
    job.say(...RELEASE, undefined, '08:20');
    expect(decisions(job)).toEqual([['hold-released', 'Robin', at('07:45')]]);
    expect(hold(job)?.state).toBe('released');
  });

  it('heard before the report it releases, counts once that is there, if the report was posted first', () => {
    const job = begun();
    expect(texts(job.say(...RELEASE)).join()).toContain('has not been reported as done yet');
    expect(hold(job)?.state).toBe('not reached');
    const said = texts(job.say(...NUTS_DONE, undefined, '07:50'));
    expect(said.join('\n')).toContain('Released by Robin: "Tighten the wheel nuts"');
    expect(hold(job)).toMatchObject({ state: 'released', by: 'Robin' });
    expect(decisions(job)).toEqual([['hold-released', 'Robin', at('07:45')]]);
  });

  it('leaves the same record in both orders of arrival', () => {
    const [calm, late] = [begun(), begun()];
    calm.say(...NUTS_DONE);
    calm.say(...RELEASE);
    calm.say('Ada', 'all clear', '07:50');
    late.say(...RELEASE);
    late.say('Ada', 'all clear', '07:50');
    late.say(...NUTS_DONE, undefined, '07:51');
    for (const what of ['holds', 'steps', 'vehicleState', 'next'] as const)
      expect(JSON.stringify(late.state().view[what]).replace(/"m\d+"/gu, '"m"'), what).toBe(
        JSON.stringify(calm.state().view[what]).replace(/"m\d+"/gu, '"m"'),
      );
    expect(decisions(late)).toEqual(decisions(calm));
    const standing = (job: DeskJob) =>
      job
        .state()
        .view.flags.filter(({ clearedBy }) => !clearedBy)
        .map(({ rule }) => rule);
    expect(standing(late)).toEqual(standing(calm));
  });

  it('never releases what was posted after it, in no order of arrival', () => {
    for (const releaseFirst of [true, false]) {
      const job = begun();
      const report = () => job.say('Ada', 'nuts tight', '07:46', undefined, '07:50');
      if (!releaseFirst) report();
      const said = job.say(...RELEASE, undefined, '07:51');
      expect(texts(said).join()).toContain('has not been reported as done yet');
      if (releaseFirst) report();
      expect(decisions(job), String(releaseFirst)).toEqual([]);
      expect(hold(job)?.state, String(releaseFirst)).toBe('waits');
    }
  });

  it('nor work that was done again after it was posted and before it was heard', () => {
    const job = begun();
    job.say(...NUTS_DONE);
    job.say('Ada', 'nuts tight again', '07:50');
    job.say(...RELEASE, undefined, '07:55');
    expect(decisions(job)).toEqual([['hold-released', 'Robin', at('07:45')]]);
    expect(hold(job)?.state).toBe('waits');
    job.say('Robin', RELEASE[1], '07:56');
    expect(hold(job)?.state).toBe('released');
  });

  it('nor what is said to have been done before it, but was posted after it', () => {
    const job = begun();
    job.say(...RELEASE);
    job.say('Ada', 'nuts tight at 07:40', '07:46');
    expect(decisions(job)).toEqual([]);
    expect(hold(job)?.state).toBe('waits');
  });

  it.each([
    ['a technician', 'Mo'],
    ['whoever did the work', 'Ada'],
  ])('of %s releases nothing later either', (_who, by) => {
    const job = begun();
    job.say(by, RELEASE[1], RELEASE[2]);
    job.say(...NUTS_DONE, undefined, '07:50');
    expect(decisions(job)).toEqual([]);
    expect(hold(job)?.state).toBe('waits');
  });

  it.each([
    ['deleted', (job: DeskJob) => job.remove('Robin', 'm5', '07:46')],
    ['edited', (job: DeskJob) => job.edit('Robin', 'm5', 'do not go on with the nuts', '07:46')],
  ])('that was %s meanwhile releases nothing', (_what, change) => {
    const job = begun();
    job.say(...RELEASE);
    change(job);
    job.say(...NUTS_DONE, undefined, '07:50');
    expect(decisions(job)).toEqual([]);
    expect(hold(job)?.state).toBe('waits');
  });

  it('is obeyed once, however often what came before it changes', () => {
    const job = begun();
    job.say(...RELEASE);
    job.say(...NUTS_DONE, undefined, '07:50');
    job.say('Mo', 'tea', '07:41', undefined, '07:52');
    job.edit('Mo', 'm7', 'tea is ready', '07:42');
    expect(decisions(job)).toHaveLength(1);
  });

  it('typed where nobody could see it decides from when it is heard', () => {
    const job = begun();
    job.say(...NUTS_DONE);
    const turn = hear(
      job.state(),
      {
        id: 't1',
        message: 't1',
        channel: 'bench',
        at: at('07:45'),
        typed: at('07:45'),
        by: 'Robin',
        roles: ['controller'],
        text: RELEASE[1],
      },
      {
        workshop: workshopOf(PEOPLE, [wheelPlan]),
        now: at('09:00'),
        around: {},
        jobNumbers: ['1042'],
        holdBack: 0,
      },
    );
    expect(turn.events.find(({ kind }) => kind === 'hold-released')?.at).toBe(at('09:00'));
  });
});

describe('a refusal in words', () => {
  it('heard before the report counts once that is there, and the later word holds', () => {
    const job = begun();
    job.say('Robin', 'refuse the wheel nuts, one stud is dry', '07:45');
    job.say(...NUTS_DONE, undefined, '07:50');
    expect(hold(job)?.state).toBe('refused');
    job.say('Robin', 'release tighten the wheel nuts', '07:55');
    expect(hold(job)?.state).toBe('released');
  });

  it('heard after the release that followed it does not take that back', () => {
    const job = begun();
    job.say(...NUTS_DONE);
    job.say('Robin', 'release tighten the wheel nuts', '07:55');
    job.say('Robin', 'refuse the wheel nuts, one stud is dry', '07:45', undefined, '08:00');
    expect(hold(job)?.state).toBe('released');
  });
});

describe('an override in words', () => {
  it('heard late covers what stood when it was posted, not what was posted after it', () => {
    const job = begun();
    job.say(...NUTS_DONE);
    job.say('Ada', 'all clear', '07:50');
    job.say('Robin', 'override because I was there', '07:46', undefined, '07:55');
    const flag = job.state().view.flags.find(({ rule }) => rule === 'not-released');
    expect(flag?.clearedBy).toBeUndefined();
    job.say('Robin', 'override because I was there', '07:56');
    expect(job.state().view.flags.find(({ rule }) => rule === 'not-released')?.how).toBe(
      'overridden',
    );
  });
});

describe('a finding settled in words', () => {
  it('counts once the finding is there, if that was posted first', () => {
    const job = begun();
    job.say('Robin', 'approved', '07:36');
    job.say('Ada', 'front right tyre is cracked', '07:35', undefined, '07:40');
    expect(job.state().view.findings.map(({ state }) => state)).toEqual(['approved']);
  });
});
