import { describe, expect, it } from 'vitest';
import {
  act,
  answers,
  at,
  cyl,
  deletes,
  done,
  edits,
  flagsOf,
  only,
  opened,
  overrides,
  planOf,
  SIX,
  says,
  started,
  stateOf,
  viewOf,
} from '../story.ts';

const chain = planOf([
  { id: 'chock', weight: 'safety-critical' },
  { id: 'drain', after: ['chock'], weight: 'damage-critical' },
  { id: 'strip', after: ['drain'] },
  { id: 'aside' },
]);
const tom = (id: string, clock: string, ...acts: Parameters<typeof says>[3][]) =>
  says(id, clock, 'Tom', acts.flat());

describe('a step reported while one it needs has no record', () => {
  it('a job in good order raises nothing', () => {
    const view = viewOf(chain, [
      tom('m1', '08:00', [done('chock')]),
      tom('m2', '08:10', [done('drain')]),
      tom('m3', '08:20', [done('strip')]),
    ]);
    expect(flagsOf(view)).toEqual([]);
    expect(view.wants).toEqual([]);
  });

  it('looks through the whole order, one flag for each missing step at the level of its own weight', () => {
    const view = viewOf(chain, [tom('m1', '08:20', [done('strip')])]);
    expect(only(view, 'skipped')).toEqual(['skipped|chock|| stop', 'skipped|drain|| caution']);
    expect(view.flags[0]?.raisedBy).toEqual(['m1']);
  });

  it('says what, where and what to do', () => {
    const view = viewOf(
      planOf([
        {
          id: 'check-head',
          title: 'Check head flatness',
          weight: 'damage-critical',
          why: 'It leaks.',
          report: [{ kind: 'quantity', of: 'gap', unit: 'mm', max: 0.05 }],
        },
        { id: 'fit-head', title: 'Fit head', after: ['check-head'] },
      ]),
      [tom('m1', '14:10', [done('fit-head')])],
    );
    expect(view.flags[0]?.says).toBe(
      'Skipped: "Check head flatness". "Fit head" is reported, and it needs that first. It leaks. Job 1042, 14:10. Report it now with the figure, or ask the controller to release it with a reason.',
    );
  });

  it.each(['started', 'partial', 'done'] as const)('an act of kind %s raises it', (kind) => {
    const view = viewOf(chain, [tom('m1', '08:20', [act(kind, 'strip')])]);
    expect(only(view, 'skipped')).toHaveLength(2);
  });

  it.each(['intends', 'asks', 'not-done', 'finding', 'blocked', 'unsure'] as const)(
    'an act of kind %s raises nothing',
    (kind) => {
      expect(flagsOf(viewOf(chain, [tom('m1', '08:20', [act(kind, 'strip')])]))).toEqual([]);
    },
  );

  it('started is not done: the next step still raises it', () => {
    const view = viewOf(chain, [
      tom('m1', '08:00', [started('chock')]),
      tom('m2', '08:10', [done('drain')]),
    ]);
    expect(only(view, 'skipped')).toEqual(['skipped|chock|| stop']);
  });

  it('steps that are not tied may come in any order', () => {
    expect(flagsOf(viewOf(chain, [tom('m1', '08:00', [done('aside')])]))).toEqual([]);
  });

  it('two acts of one message are not held against each other', () => {
    const view = viewOf(chain, [tom('m1', '08:00', [done('strip'), done('drain'), done('chock')])]);
    expect(flagsOf(view)).toEqual([]);
  });

  it('a step said to be done whose figure is missing has its record, from the very moment', () => {
    const plan = planOf([
      { id: 'measure', report: [{ kind: 'quantity', of: 'play', unit: 'mm', max: 1 }] },
      { id: 'fit', after: ['measure'] },
    ]);
    const fit = tom('m2', '08:00', [done('fit')]);
    expect(flagsOf(viewOf(plan, [tom('m1', '08:00', [done('measure')]), fit]))).toEqual([]);
    expect(only(viewOf(plan, [tom('m1', '08:00', [started('measure')]), fit]), 'skipped')).toEqual([
      'skipped|measure|| advice',
    ]);
  });

  it('a plan may raise the level, and never lower it', () => {
    const plan = planOf([
      { id: 'a', weight: 'damage-critical', raise: { skipped: 'stop' } },
      { id: 'b', weight: 'safety-critical', raise: { skipped: 'advice' } },
      { id: 'c', after: ['a', 'b'] },
    ]);
    const view = viewOf(plan, [tom('m1', '08:00', [done('c')])]);
    expect(only(view, 'skipped')).toEqual(['skipped|a|| stop', 'skipped|b|| stop']);
  });
});

describe('positions', () => {
  const plan = planOf(
    [
      { id: 'open' },
      { id: 'pull', each: 'cylinders', after: ['open'] },
      { id: 'clean', each: 'cylinders', after: ['pull'] },
      { id: 'close', after: ['clean'] },
      { id: 'plug', each: 'cylinders', after: ['close'] },
    ],
    { positions: SIX },
  );
  const on = opened({ positions: cyl(1, 2, 3) });
  const start = tom('m0', '08:00', [done('open')]);

  it('two steps over the same positions are tied at each position by itself', () => {
    const view = viewOf(plan, [
      on,
      start,
      tom('m1', '08:10', [done('pull', {}, cyl(1))]),
      tom('m2', '08:20', [done('clean', {}, cyl(1, 2))]),
    ]);
    expect(only(view, 'skipped')).toEqual(['skipped|pull|cylinder 2| advice']);
  });

  it('a step once for the job needs all positions, and only those of the job', () => {
    const view = viewOf(plan, [
      on,
      start,
      tom('m1', '08:10', [done('pull', {}, cyl(1, 2, 3))]),
      tom('m2', '08:20', [done('clean', {}, cyl(1, 3))]),
      tom('m3', '08:30', [done('close')]),
    ]);
    expect(only(view, 'skipped')).toEqual(['skipped|clean|cylinder 2| advice']);
  });

  it('through a step once for the job every position counts again', () => {
    const view = viewOf(plan, [
      on,
      start,
      tom('m1', '08:10', [done('pull', {}, cyl(1, 2, 3))]),
      tom('m2', '08:20', [done('clean', {}, cyl(1, 3))]),
      tom('m3', '08:30', [done('plug', {}, cyl(1))]),
    ]);
    expect(only(view, 'skipped')).toEqual([
      'skipped|clean|cylinder 2| advice',
      'skipped|close|| advice',
    ]);
  });

  it('a step whose option is not on the job is passed through', () => {
    const plan = planOf(
      [{ id: 'a' }, { id: 'b', after: ['a'], option: 'extra' }, { id: 'c', after: ['b'] }],
      { options: { extra: 'An extra' } },
    );
    expect(only(viewOf(plan, [tom('m1', '08:00', [done('c')])]), 'skipped')).toEqual([
      'skipped|a|| advice',
    ]);
    const withOption = viewOf(plan, [
      opened({ options: ['extra'] }),
      tom('m1', '08:00', [done('c')]),
    ]);
    expect(only(withOption, 'skipped')).toEqual(['skipped|a|| advice', 'skipped|b|| advice']);
    expect(stateOf(viewOf(plan, []), 'b')).toBe('not-on-job');
  });
});

describe('late reports', () => {
  const first = tom('m1', '08:20', [done('drain')]);

  it('a late report that says an earlier time withdraws the flag', () => {
    const view = viewOf(chain, [first, tom('m2', '08:40', [done('chock', { time: at('08:05') })])]);
    expect(flagsOf(view)).toEqual(['skipped|chock|| withdrawn']);
    expect(view.flags[0]?.clearedBy).toEqual(['m2']);
    expect(view.wants).toEqual([]);
  });

  it('the very time of the later step is still in time, a minute after is not', () => {
    const late = (time: string) =>
      viewOf(chain, [first, tom('m2', '08:40', [done('chock', { time: at(time) })])]);
    expect(flagsOf(late('08:20'))).toEqual(['skipped|chock|| withdrawn']);
    expect(flagsOf(late('08:21'))).toEqual(['skipped|chock|| stop']);
  });

  it('a late report without a time withdraws nothing and brings one question', () => {
    const view = viewOf(chain, [first, tom('m2', '08:40', [done('chock')])]);
    expect(flagsOf(view)).toEqual(['skipped|chock|| stop']);
    expect(view.wants).toHaveLength(1);
    expect(view.wants[0]).toMatchObject({
      question: 'm2:before-or-after:chock',
      message: 'm2',
      about: 'before-or-after',
      flag: 'skipped|chock||',
    });
    expect(view.wants[0]?.choices.map(({ value }) => value)).toEqual(['before', 'after']);
  });

  it('"before" withdraws it', () => {
    const events = [first, tom('m2', '08:40', [done('chock')])];
    const view = viewOf(chain, [
      ...events,
      answers(viewOf(chain, events), 'before-or-after', 0, '08:41'),
    ]);
    expect(flagsOf(view)).toEqual(['skipped|chock|| withdrawn']);
    expect(view.wants).toEqual([]);
    expect(view.questions[0]?.state).toBe('answered');
  });

  it('"after" lets it stand as done afterwards until the controller settles it', () => {
    const events = [first, tom('m2', '08:40', [done('chock')])];
    const after = [...events, answers(viewOf(chain, events), 'before-or-after', 1, '08:41')];
    const view = viewOf(chain, after);
    expect(flagsOf(view)).toEqual(['skipped|chock|| stop']);
    expect(view.flags[0]?.says).toContain('Done afterwards: "chock", at 08:40.');
    expect(stateOf(view, 'chock')).toBe('done');
    const settled = viewOf(chain, [...after, overrides('skipped|chock||', '09:00')]);
    expect(flagsOf(settled)).toEqual(['skipped|chock|| settled']);
  });

  it('"after" for a routine step is only a remark in the record', () => {
    const plan = planOf([{ id: 'a' }, { id: 'b', after: ['a'] }]);
    const events = [tom('m1', '08:00', [done('b')]), tom('m2', '08:10', [done('a')])];
    const view = viewOf(plan, [
      ...events,
      answers(viewOf(plan, events), 'before-or-after', 1, '08:12'),
    ]);
    expect(flagsOf(view)).toEqual(['skipped|a|| withdrawn']);
    expect(view.flags[0]?.says).toContain('Done afterwards');
  });

  it('the same person, one message later by a few seconds, is still late: only the shell waits', () => {
    const view = viewOf(chain, [first, tom('m2', '08:20:05', [done('chock')])]);
    expect(flagsOf(view)).toEqual(['skipped|chock|| stop']);
  });

  it('the step done again in order settles it', () => {
    const view = viewOf(chain, [
      first,
      tom('m2', '08:40', [done('chock', { time: at('08:30') })]),
      tom('m3', '08:50', [done('drain', { again: true })]),
    ]);
    expect(flagsOf(view)).toEqual(['skipped|chock|| settled']);
    expect(view.flags[0]?.clearedBy).toEqual(['m3']);
  });
});

describe('edits, deletions and overrides', () => {
  it('a step added to an old message by an edit counts as posted when edited', () => {
    const view = viewOf(chain, [
      tom('m1', '08:00', []),
      tom('m2', '08:20', [done('drain')]),
      edits('m1', '08:30', [done('chock')]),
    ]);
    expect(flagsOf(view)).toEqual(['skipped|chock|| stop']);
    expect(view.wants).toHaveLength(1);
  });

  it('an edit that turns an intention into done counts as posted when edited', () => {
    const view = viewOf(chain, [
      tom('m1', '08:00', [act('intends', 'chock')]),
      tom('m2', '08:20', [done('drain')]),
      edits('m1', '08:30', [done('chock')]),
    ]);
    expect(flagsOf(view)).toEqual(['skipped|chock|| stop']);
  });

  it('an edit that turns a beginning into done counts as posted when edited, the beginning as before', () => {
    const view = viewOf(chain, [
      tom('m1', '08:00', [started('chock')]),
      tom('m2', '08:20', [done('drain')]),
      edits('m1', '08:30', [done('chock')]),
    ]);
    expect(flagsOf(view)).toEqual(['skipped|chock|| stop']);
  });

  it('an edit of figures keeps the time of the message', () => {
    const view = viewOf(chain, [
      tom('m1', '08:00', [done('chock', { note: 'two' })]),
      tom('m2', '08:20', [done('drain')]),
      edits('m1', '08:30', [done('chock', { note: 'four' })]),
    ]);
    expect(flagsOf(view)).toEqual([]);
  });

  it('a deleted report leaves what rests on it without a record', () => {
    const events = [tom('m1', '08:00', [done('chock')]), tom('m2', '08:20', [done('drain')])];
    expect(flagsOf(viewOf(chain, events))).toEqual([]);
    expect(flagsOf(viewOf(chain, [...events, deletes('m1', '08:30')]))).toEqual([
      'skipped|chock|| stop',
    ]);
  });

  it('a report that was taken back raises nothing any more', () => {
    const view = viewOf(chain, [
      tom('m1', '08:20', [done('drain')]),
      tom('m2', '08:25', [act('retracts', 'drain')]),
    ]);
    expect(flagsOf(view)).toEqual([]);
    expect(stateOf(view, 'drain')).toBe('open');
  });

  it('an override covers the step, also for later reports that need it', () => {
    const view = viewOf(chain, [
      tom('m1', '08:20', [done('drain')]),
      overrides('skipped|chock||', '08:30'),
      tom('m2', '08:40', [done('strip')]),
    ]);
    expect(flagsOf(view)).toEqual(['skipped|chock|| overridden']);
  });
});
