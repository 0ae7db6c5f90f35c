// Whose work, at which position, at what time: what a report leaves out and how that is settled.
import { describe, expect, it } from 'vitest';
import type { Act } from '../../../shared/reading.ts';
import {
  act,
  answers,
  at,
  cyl,
  done,
  flagsOf,
  only,
  opened,
  planOf,
  SIX,
  says,
  stateOf,
  viewOf,
} from '../story.ts';

const plan = planOf(
  [
    { id: 'lines' },
    { id: 'brake', weight: 'safety-critical' },
    { id: 'look', hold: { release: ['controller'] } },
    { id: 'pull', each: 'cylinders', after: ['lines'] },
    { id: 'bolts', each: 'cylinders', report: [{ kind: 'off', part: 'bolts', count: 2 }] },
    { id: 'gas', competence: ['air-conditioning'] },
  ],
  { positions: SIX },
);
const where = (step: string, story: Parameters<typeof viewOf>[1]) =>
  viewOf(plan, story)
    .steps.filter((one) => one.step === step && one.state === 'done')
    .map(({ position }) => position);

describe('the work of somebody else', () => {
  const story = (step: string) => says('m1', '08:00', 'Tom', [done(step, { by: 'Jo' })]);
  it('is recorded as done by the one named, reported by the poster', () => {
    const view = viewOf(plan, story('lines'));
    expect(view.steps[0]).toMatchObject({ state: 'done', by: 'Jo' });
    expect(view.reports[0]).toMatchObject({ worker: 'Jo', reporter: 'Tom' });
  });
  it.each(['brake', 'look'])("%s needs that person's own word", (step) => {
    const view = viewOf(plan, story(step));
    expect(stateOf(view, step)).toBe('partial');
    expect(view.steps.find((one) => one.step === step)?.missing).toEqual(["Jo's own word"]);
    expect(view.wants).toMatchObject([{ question: `m1:other:${step}`, about: 'other' }]);
  });
  it('given by the person, by a message or by the question; by nobody else', () => {
    const view = viewOf(plan, story('brake'));
    expect(
      stateOf(viewOf(plan, [story('brake'), answers(view, 'other', 0, '08:10', 'Jo')]), 'brake'),
    ).toBe('done');
    expect(
      stateOf(viewOf(plan, [story('brake'), answers(view, 'other', 0, '08:10', 'Tom')]), 'brake'),
    ).toBe('partial');
    expect(
      stateOf(viewOf(plan, [story('brake'), answers(view, 'other', 1, '08:10', 'Jo')]), 'brake'),
    ).toBe('partial');
    const own = viewOf(plan, [story('brake'), says('m2', '08:20', 'Jo', [done('brake')])]);
    expect(own.steps[1]).toMatchObject({ state: 'done', at: at('08:00'), by: 'Jo' });
  });
});

describe('competence', () => {
  const people = (competences: string[]) => ({
    around: { people: [{ name: 'Tom', roles: ['technician'], competences }] },
  });
  const story = says('m1', '08:00', 'Tom', [done('gas')]);
  it('only people with it make the step done, where the settings know them', () => {
    expect(stateOf(viewOf(plan, story, people(['air-conditioning'])), 'gas')).toBe('done');
    expect(stateOf(viewOf(plan, story, people(['brakes'])), 'gas')).toBe('partial');
    expect(stateOf(viewOf(plan, story), 'gas')).toBe('done');
  });
});

describe('a position left out', () => {
  const pull = (more: Partial<Act> = {}) => says('m1', '08:00', 'Tom', [done('pull', more)]);
  it("means the job's only one", () => {
    expect(where('pull', [opened({ positions: cyl(4) }), pull()])).toEqual(cyl(4));
  });
  it('with several it is asked about, and nothing is recorded or raised until then', () => {
    const story = [opened({ positions: cyl(1, 2) }), pull()];
    const view = viewOf(plan, story);
    expect(where('pull', story)).toEqual([]);
    expect(flagsOf(view)).toEqual([]);
    expect(view.wants).toMatchObject([{ question: 'm1:reading:pull', about: 'reading' }]);
    expect(view.wants[0]?.choices.map((one) => one.says)).toEqual([
      'cylinder 1',
      'cylinder 2',
      'All of them',
    ]);
    const answered = [story, answers(view, 'reading', 1, '08:01')];
    expect(where('pull', answered)).toEqual(cyl(2));
    expect(only(viewOf(plan, answered), 'skipped')).toEqual(['skipped|lines|| advice']);
    expect(where('pull', [story, answers(view, 'reading', 2, '08:01')])).toEqual(cyl(1, 2));
  });
  it('"all three done" means all of them, "2 of 3" asks which one is left', () => {
    const on = opened({ positions: cyl(1, 2, 3) });
    expect(where('pull', [on, pull({ count: { done: 3, of: 3 } })])).toEqual(cyl(1, 2, 3));
    expect(where('pull', [on, pull({ count: { done: 3 } })])).toEqual(cyl(1, 2, 3));
    const story = [on, pull({ count: { done: 2, of: 3 } })];
    const view = viewOf(plan, story);
    expect(where('pull', story)).toEqual([]);
    expect(view.wants[0]?.asks).toBe('Which one is left at "pull"?');
    expect(where('pull', [story, answers(view, 'reading', 1, '08:01')])).toEqual(cyl(1, 3));
  });
  it('a count of the parts is no list of positions', () => {
    const story = [
      opened({ positions: cyl(1, 2) }),
      says('m1', '08:00', 'Tom', [done('bolts', { count: { done: 2, of: 2 } })]),
    ];
    expect(where('bolts', story)).toEqual([]);
    expect(viewOf(plan, story).wants).toHaveLength(1);
  });
});

describe('the time said', () => {
  const story = (posted: string, time: string) =>
    viewOf(plan, says('m1', posted, 'Tom', [done('lines', { time })])).steps[0]?.at;
  it.each([
    ['14:10', '09:40', '2026-05-12T09:40:00+02:00'],
    ['14:10', '9:40', '2026-05-12T09:40:00+02:00'],
    ['00:20', '23:50', '2026-05-11T23:50:00+02:00'],
    // The clocks of phone and server may be a little apart.
    ['14:10', '14:20', '2026-05-12T14:20:00+02:00'],
    ['14:10', '14:30', '2026-05-11T14:30:00+02:00'],
    ['2026-05-12T01:30:00-05:30', '01:00', '2026-05-12T01:00:00-05:30'],
    ['14:10', '2026-05-12T11:00:00Z', '2026-05-12T11:00:00Z'],
    ['14:10', 'sat nav', '2026-05-12T14:10:00+02:00'],
  ])('posted %s, said %s', (posted, time, when) => {
    expect(story(posted, time)).toBe(when);
  });
});

describe('readings settled by an answer', () => {
  const unsure: Act = { ...act('unsure', undefined), span: [0, 4] };
  const story = says('m1', '08:00', 'Tom', [unsure, { ...done('brake'), span: [5, 9] }]);
  const asked = (acts: Act[]) => [
    {
      id: 'q',
      at: at('08:00'),
      by: 'chargehand',
      kind: 'question-asked' as const,
      question: 'm1:reading',
      message: 'm1',
      asks: 'Which?',
      about: 'reading' as const,
      choices: [{ says: 'Lines', acts }],
    },
    {
      id: 'a',
      at: at('08:30'),
      by: 'Tom',
      kind: 'question-answered' as const,
      question: 'm1:reading',
      choice: 0,
    },
  ];
  it('the unsure act becomes what was chosen, with the time of its message', () => {
    const view = viewOf(plan, [story, asked([{ ...done('lines'), span: [0, 4] }])]);
    expect(view.steps[0]).toMatchObject({ state: 'done', at: at('08:00') });
    expect(stateOf(view, 'brake')).toBe('done');
  });
  it('nothing is recorded from an unsure act until then', () => {
    expect(stateOf(viewOf(plan, story), 'lines')).toBe('open');
  });
});
