import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../../shared/event.ts';
import { act, at, deletes, done, edits, flagsOf, planOf, says, viewOf } from '../story.ts';

const plan = planOf([
  { id: 'work', time: { best: 10, likely: 20, worst: 40 } },
  { id: 'more', time: { best: 5, likely: 10, worst: 20 } },
]);

describe('unanswered', () => {
  const story = [says('m1', '08:00', 'Tom', [act('unsure', undefined)])];
  const asked: JobEvent = {
    id: 'a',
    at: at('08:00'),
    by: 'chargehand',
    kind: 'question-asked',
    question: 'm1:reading',
    message: 'm1',
    asks: 'Which one?',
    about: 'reading',
    choices: [],
  };
  const answered = (clock: string): JobEvent => ({
    id: 'b',
    at: at(clock),
    by: 'Tom',
    kind: 'question-answered',
    question: 'm1:reading',
    choice: null,
  });
  it('open for 30 minutes', () => {
    expect(flagsOf(viewOf(plan, [story, asked], { now: '08:29:59' }))).toEqual([]);
    const view = viewOf(plan, [story, asked], { now: '08:30' });
    expect(flagsOf(view)).toEqual(['unanswered|||m1:reading caution']);
    expect(view.flags[0]?.says).toBe(
      'Unanswered: Which one? Job 1042, asked at 08:00. Answer it in the thread, or ask Tom.',
    );
  });
  it('working minutes, where they are known', () => {
    const around = { workingMinutes: () => 29 };
    expect(flagsOf(viewOf(plan, [story, asked], { now: '12:00', around }))).toEqual([]);
  });
  it('answered in time nothing is said, answered late it is settled', () => {
    expect(flagsOf(viewOf(plan, [story, asked, answered('08:20')]))).toEqual([]);
    expect(flagsOf(viewOf(plan, [story, asked, answered('08:31')]))).toEqual([
      'unanswered|||m1:reading settled',
    ]);
  });
  it('lapsed, or its message deleted, it is over', () => {
    expect(
      flagsOf(
        viewOf(plan, [
          story,
          asked,
          {
            id: 'l',
            at: at('08:10'),
            by: 'chargehand',
            kind: 'question-lapsed',
            question: 'm1:reading',
          },
        ]),
      ),
    ).toEqual([]);
    expect(flagsOf(viewOf(plan, [story, asked, deletes('m1', '08:10')]))).toEqual([]);
  });
  it('edited so that it is plain, it is over', () => {
    const plain = edits('m1', '08:10', [done('work')]);
    expect(flagsOf(viewOf(plan, [story, asked, plain]))).toEqual([]);
  });
  it('a question of the checker that needs no answer any more is over', () => {
    const pair = planOf([{ id: 'a' }, { id: 'b', after: ['a'] }]);
    const late = [says('m1', '08:00', 'Tom', [done('b')]), says('m2', '08:05', 'Tom', [done('a')])];
    const [want] = viewOf(pair, late).wants;
    const question: JobEvent = {
      id: 'q',
      at: at('08:05'),
      by: 'chargehand',
      kind: 'question-asked',
      question: want?.question ?? '',
      message: 'm2',
      asks: want?.asks ?? '',
      about: 'before-or-after',
      choices: want?.choices ?? [],
    };
    expect(viewOf(pair, [late, question]).questions[0]?.state).toBe('open');
    expect(flagsOf(viewOf(pair, [late, question]))).toContain(
      'unanswered|||m2:before-or-after:a caution',
    );
    const said = [late, question, edits('m2', '08:06', [done('a', { time: at('07:50') })])];
    expect(viewOf(pair, said).questions[0]?.state).toBe('lapsed');
    expect(flagsOf(viewOf(pair, said))).toEqual(['skipped|a|| withdrawn']);
  });
});
