// One reply for a message, whatever it has to ask; never two questions for a figure of one message.
import { describe, expect, it } from 'vitest';
import type { Act } from '../../../shared/reading.ts';
import { questionsOf } from '../../../src/desk/turn/log.ts';
import { deskJob, done, planFrom, texts } from '../desk-job.ts';

const plan = planFrom(`
plan: three-figures
title: Three figures
machine: an invented machine
notice: Demonstration values for the tests.
source: invented
positions:
  sides: { names: [left, right] }
steps:
  - { id: first, title: Fill the first tank, phase: refit, report: [{ kind: quantity, of: level, unit: mm, min: 1, max: 9 }] }
  - { id: second, title: Fill the second tank, phase: refit, report: [{ kind: quantity, of: depth, unit: mm, min: 1, max: 9 }] }
  - { id: third, title: Fit the cover, phase: refit, each: sides, weight: damage-critical, why: Water gets in. }
`);
const open = (): ReturnType<typeof deskJob> => deskJob({ plan, opening: { positions: [] } });
const unsure = (text: string): Act => ({
  kind: 'unsure',
  positions: [],
  assumed: [],
  span: [0, text.length],
  candidates: [
    { says: 'Fill the first tank', kind: 'done', step: 'first' },
    { says: 'Fill the second tank', kind: 'done', step: 'second' },
  ],
});

describe('questions of one message', () => {
  it('two figures missing are one question', () => {
    const job = open();
    const posts = job.say('Ada', 'both full', '07:00', [done('first'), done('second')]);
    expect(texts(posts)).toHaveLength(1);
    expect(questionsOf(job.state().events).map(({ about }) => about)).toEqual(['figure']);
    // Nor does a later message bring the second one up.
    job.say('Ada', 'tea', '07:05', []);
    expect(questionsOf(job.state().events)).toHaveLength(1);
  });

  it('questions of several kinds stand in one reply', () => {
    const job = open();
    const posts = job.say('Ada', 'first full and cover on', '07:00', [
      done('first'),
      done('third'),
    ]);
    expect(texts(posts)).toHaveLength(1);
    expect(
      questionsOf(job.state().events)
        .map(({ about }) => about)
        .sort(),
    ).toEqual(['figure', 'reading']);
    expect(texts(posts)[0]).toContain('Fill the first tank');
    expect(texts(posts)[0]).toContain('Fit the cover');
  });

  it('one of them answered, the other can still be tapped on the same card', () => {
    const job = open();
    job.say('Ada', 'it is full, cover on', '07:00', [unsure('it is full'), done('third')]);
    const [first, second] = questionsOf(job.state().events);
    const posts = job.tap(
      'Ada',
      { do: 'answer', job: '1042', question: first?.question ?? '', choice: 0 },
      '07:01',
    );
    const reply = posts.find(({ key }) => key === 'reply:m1');
    expect(reply?.card?.text).toContain('Answered by Ada: Fill the first tank.');
    const left = (reply?.card?.actions ?? []).map(({ intent }) =>
      intent.do === 'answer' ? intent.question : intent.do,
    );
    expect(new Set(left)).toEqual(new Set([second?.question]));
  });
});

describe('questions nobody answers', () => {
  it('are called to mind together, in one post', () => {
    const job = open();
    job.say('Ada', 'one', '07:00', [unsure('one')]);
    job.say('Ada', 'two', '07:02', [unsure('two')]);
    const posts = job.look('07:40');
    expect(texts(posts)).toHaveLength(1);
    expect(texts(posts)[0]).toContain('asked at 07:00');
    expect(texts(posts)[0]).toContain('asked at 07:02');
  });

  it('not one after the other: the next waits half an hour for its fellows', () => {
    const job = open();
    job.say('Ada', 'one', '07:00', [unsure('one')]);
    job.say('Ada', 'two', '07:10', [unsure('two')]);
    job.say('Ada', 'three', '07:20', [unsure('three')]);
    expect(texts(job.look('07:31'))).toHaveLength(1);
    expect(texts(job.look('07:41'))).toEqual([]);
    expect(texts(job.look('07:51'))).toEqual([]);
    expect(texts(job.look('08:01'))).toHaveLength(1);
  });

  it('lapse after a day, and their card says so', () => {
    const job = open();
    job.say('Ada', 'one', '07:00', [unsure('one')]);
    expect(texts(job.look('2026-03-11T06:59:00.000+00:00')).join()).not.toContain('Lapsed');
    const posts = job.look('2026-03-11T07:00:00.000+00:00');
    expect(posts.find(({ key }) => key === 'reply:m1')?.card?.text).toContain(
      'Lapsed without an answer. Post it again in other words.',
    );
  });
});
