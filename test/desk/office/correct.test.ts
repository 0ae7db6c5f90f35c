// A job moved to a changed plan or another one, and put right about its vehicle.
import { describe, expect, it } from 'vitest';
import { planChanges } from '../../../src/desk/office/plan-changes.ts';
import { at, deskJob, done, planFrom, texts, wheelPlan, wheelText } from '../desk-job.ts';

const changedText = wheelText
  .replace('title: Swap the wheel', 'title: Change the wheel over')
  .replace('minutes: 2880', 'minutes: 4320')
  .replace(
    '  - id: renew-valve',
    `  - id: clean-hub
    title: Clean the hub face
    phase: refit
    weight: damage-critical
    why: Rust under the wheel lets the nuts go slack.
    after: [jack-up]
    words: [hub face cleaned]
  - id: renew-valve`,
  );
const changed = planFrom(changedText);
const other = planFrom(`
plan: check-lamps
title: Check the lamps
machine: an invented bus
notice: Demonstration values for the tests.
steps:
  - { id: look, title: Look at every lamp, phase: inspect, words: [lamps checked] }
`);

describe('what differs between two texts of a plan', () => {
  it('is one sentence for each step that is new or changed, with what changed', () => {
    expect(planChanges(wheelPlan, changed)).toEqual([
      'New step: Clean the hub face.',
      'Changed: Swap the wheel: the title.',
      'Changed: Re-torque the wheel nuts on the road: waiting times.',
    ]);
  });

  it('the other way round it is gone', () => {
    expect(planChanges(changed, wheelPlan)).toContain('Gone: Clean the hub face.');
  });

  it('nothing differs from itself', () => {
    expect(planChanges(wheelPlan, wheelPlan)).toEqual([]);
  });
});

describe('"move to the new plan"', () => {
  it('until then a job goes by the text it was opened with', () => {
    const job = deskJob().under([changed]);
    job.say('Ada', 'chocked', '07:00', [done('chock')]);
    expect(job.state().view.plan.hash).toBe(wheelPlan.hash);
    expect(job.state().view.steps.some(({ step }) => step === 'clean-hub')).toBe(false);
  });

  it('lists what changes, keeps what was reported, and the new step is open', () => {
    const job = deskJob();
    job.say('Ada', 'chocked', '07:00', [done('chock')]);
    const later = job.under([changed]);
    expect(texts(later.say('Ada', 'move to the new plan', '07:10')).join()).toContain(
      'may not change the plan',
    );
    const said = texts(later.say('Robin', 'move to the new plan', '07:11')).join();
    expect(said).toContain('New step: Clean the hub face.');
    expect(said).toContain('Changed: Swap the wheel: the title.');
    const { view, events } = later.state();
    expect(view.plan.hash).toBe(changed.hash);
    expect(view.steps.find(({ step }) => step === 'chock')?.state).toBe('done');
    expect(view.steps.find(({ step }) => step === 'clean-hub')?.state).toBe('open');
    expect(events.find(({ kind }) => kind === 'plan-moved')).toMatchObject({
      by: 'Robin',
      at: at('07:11'),
      plan: { hash: changed.hash, text: changedText },
    });
    expect(texts(later.say('Robin', 'move to the new plan', '07:12')).join()).toContain(
      'current text',
    );
  });
});

describe('"wrong plan"', () => {
  it('the messages are read again by the right one', () => {
    const job = deskJob({ plans: [wheelPlan, other] });
    job.say('Ada', 'lamps checked', '07:00');
    expect(job.state().view.reports).toEqual([]);
    const said = texts(job.say('Robin', 'wrong plan, should be check lamps', '07:05')).join();
    expect(said).toContain('Another plan: Check the lamps, before Change a wheel.');
    expect(said).toContain('Read again by it: 1 message.');
    expect(job.state().view.plan.plan).toBe('check-lamps');
    expect(job.state().view.steps.map(({ step, state }) => [step, state])).toEqual([
      ['look', 'done'],
    ]);
  });

  it('is refused while the vehicle is not safe', () => {
    const job = deskJob({ plans: [wheelPlan, other] });
    job.say('Ada', 'chocked', '07:00', [done('chock')]);
    job.say('Ada', 'up', '07:01', [done('jack-up')]);
    expect(texts(job.say('Robin', 'wrong plan, should be check lamps', '07:05')).join()).toContain(
      'lose sight of the vehicle: On the jack',
    );
    expect(job.state().view.plan.plan).toBe('wheel-change');
  });

  it('a plan nobody knows is asked for', () => {
    const job = deskJob({ plans: [wheelPlan, other] });
    expect(texts(job.say('Robin', 'wrong plan, should be gearbox', '07:05')).join()).toContain(
      'Say which plan it is: Change a wheel and Check the lamps.',
    );
  });
});
