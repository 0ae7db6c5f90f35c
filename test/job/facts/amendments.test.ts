// Corrections, withdrawals, edits, doubled reports: what stands of what was said.
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
  litres,
  opened,
  planOf,
  read,
  SIX,
  says,
  stateOf,
  viewOf,
} from '../story.ts';

const plan = planOf(
  [
    { id: 'drain', report: [{ kind: 'drained', fluid: 'coolant' }] },
    { id: 'play', report: [{ kind: 'quantity', of: 'play', unit: 'mm' }] },
    { id: 'pull', each: 'cylinders' },
    { id: 'clips', report: [{ kind: 'off', part: 'clips', count: 6 }] },
  ],
  { positions: SIX, fluids: { coolant: { title: 'coolant' } } },
);
const on = opened({ positions: cyl(1, 2, 3) });
const drained = (story: Parameters<typeof viewOf>[1]) => viewOf(plan, story).fluids[0]?.drained;
const mm = (value: number) => ({ quantity: { value, unit: 'mm' } });
const played = (story: Parameters<typeof viewOf>[1]) =>
  viewOf(plan, story)
    .steps.find(({ step }) => step === 'play')
    ?.figures.map(({ quantity }) => quantity.value);
const pulled = (story: Parameters<typeof viewOf>[1]) =>
  viewOf(plan, [on, story])
    .steps.filter(({ step, state }) => step === 'pull' && state === 'done')
    .map(({ position }) => position);

describe('corrections', () => {
  const first = says('m1', '08:00', 'Tom', [done('drain', { quantity: litres(28) })]);
  it('"26 not 28" replaces the figure and keeps the time', () => {
    const view = viewOf(plan, [
      first,
      says('m2', '08:20', 'Tom', [act('corrects', 'drain', { quantity: litres(26), was: '28' })]),
    ]);
    expect(view.fluids[0]?.drained).toBe(26);
    expect(view.steps[0]?.at).toBe(at('08:00'));
  });
  it('of several it means the one with the figure it names', () => {
    const more = says('m2', '08:10', 'Tom', [done('drain', { quantity: litres(2) })]);
    expect(
      drained([
        first,
        more,
        says('m3', '08:20', 'Tom', [
          act('corrects', 'drain', { quantity: litres(26), was: '28 L' }),
        ]),
      ]),
    ).toBe(28);
    expect(
      drained([
        first,
        more,
        says('m3', '08:20', 'Tom', [act('corrects', 'drain', { quantity: litres(3) })]),
      ]),
    ).toBe(31);
  });
  it('without a step it finds the report by what it names', () => {
    expect(
      drained([
        first,
        says('m2', '08:20', 'Tom', [
          act('corrects', undefined, { quantity: litres(26), was: '28' }),
        ]),
      ]),
    ).toBe(26);
  });
  it('of nothing reported it is no more than a part', () => {
    expect(
      stateOf(
        viewOf(plan, [says('m2', '08:20', 'Tom', [act('corrects', 'play', mm(0.1))])]),
        'play',
      ),
    ).toBe('partial');
  });
  it('"cylinder 3 not 2" moves the report; it counts as posted then', () => {
    const story = [
      says('m1', '08:00', 'Tom', [done('pull', {}, cyl(1, 2))]),
      says('m2', '08:20', 'Tom', [act('corrects', 'pull', { was: '2' }, cyl(3))]),
    ];
    expect(pulled(story)).toEqual(cyl(1, 3));
    const view = viewOf(plan, [on, story]);
    expect(view.steps.find(({ position }) => position === 'cylinder 3')?.at).toBe(at('08:20'));
  });
  it('for one position of several only that one changes', () => {
    const each = planOf(
      [{ id: 'gap', each: 'cylinders', report: [{ kind: 'quantity', of: 'gap', unit: 'mm' }] }],
      { positions: SIX },
    );
    const view = viewOf(each, [
      on,
      says('m1', '08:00', 'Tom', [done('gap', mm(0.1), cyl(1, 2))]),
      says('m2', '08:05', 'Tom', [act('corrects', 'gap', mm(0.2), cyl(2))]),
    ]);
    expect(view.steps.map(({ figures }) => figures.map(({ quantity }) => quantity.value))).toEqual([
      [0.1],
      [0.2],
      [],
    ]);
  });
  it('of a time', () => {
    const view = viewOf(plan, [
      first,
      says('m2', '08:20', 'Tom', [act('corrects', 'drain', { time: at('07:45') })]),
    ]);
    expect(view.steps[0]?.at).toBe(at('07:45'));
  });
});

describe('withdrawals', () => {
  it('"scrap that" takes back the report and what confirmed it', () => {
    const twice = [
      says('m1', '08:00', 'Tom', [done('pull', {}, cyl(1))]),
      says('m2', '08:30', 'Tom', [done('pull', {}, cyl(1))]),
    ];
    expect(
      pulled([twice, says('m3', '08:31', 'Tom', [act('retracts', 'pull', {}, cyl(1))])]),
    ).toEqual([]);
  });
  it('of volumes only the last', () => {
    const two = [
      says('m1', '08:00', 'Tom', [done('drain', { quantity: litres(20) })]),
      says('m2', '08:30', 'Tom', [done('drain', { quantity: litres(3) })]),
    ];
    expect(drained([two, says('m3', '08:31', 'Tom', [act('retracts', 'drain')])])).toBe(20);
    expect(
      drained([two, says('m3', '08:31', 'Tom', [act('retracts', 'drain', { was: '20' })])]),
    ).toBe(3);
  });
  it('without a step the last message of the same person, whole', () => {
    const two = [
      says('m1', '08:00', 'Tom', [done('play', mm(0.1))]),
      says('m2', '08:10', 'Tom', [done('pull', {}, cyl(1)), done('pull', {}, cyl(2))]),
      says('m3', '08:20', 'Ana', [done('pull', {}, cyl(3))]),
    ];
    expect(pulled([two, says('m4', '08:30', 'Tom', [act('retracts', undefined)])])).toEqual(cyl(3));
  });
  it('"not done" after "done" leaves it open, at the positions named', () => {
    expect(
      pulled([
        says('m1', '08:00', 'Tom', [
          done('pull', {}, cyl(1, 2, 3)),
          act('not-done', 'pull', {}, cyl(2)),
        ]),
      ]),
    ).toEqual(cyl(1, 3));
    expect(
      pulled([
        says('m1', '08:00', 'Tom', [act('not-done', 'pull', {}, cyl(1))]),
        says('m2', '08:10', 'Tom', [done('pull', {}, cyl(1))]),
      ]),
    ).toEqual(cyl(1));
  });
  it('"not done" without a position, where there are several, touches nothing', () => {
    expect(
      pulled([
        says('m1', '08:00', 'Tom', [done('pull', {}, cyl(1))]),
        says('m2', '08:10', 'Tom', [act('not-done', 'pull')]),
      ]),
    ).toEqual(cyl(1));
  });
});

describe('edits and readings', () => {
  it('the newest revision counts, of one revision the latest pass, in whatever order they come', () => {
    const [posted] = says('m1', '08:00', 'Tom', []);
    const late = [
      read('m1', '08:00', [done('play', mm(0.3))], 0, 2),
      read('m1', '08:00', [done('play', mm(0.2))], 0, 1),
    ];
    expect(played([posted ?? [], late])).toEqual([0.3]);
    expect(played([posted ?? [], late, edits('m1', '08:10', [done('play', mm(0.4))])])).toEqual([
      0.4,
    ]);
  });
  it('an edit of a figure is no rework and keeps the time; an added position counts from the edit', () => {
    const view = viewOf(plan, [
      on,
      says('m1', '08:00', 'Tom', [done('pull', {}, cyl(1))]),
      edits('m1', '08:30', [done('pull', {}, cyl(1, 2))]),
    ]);
    expect(view.steps.filter(({ step }) => step === 'pull').map(({ at: time }) => time)).toEqual([
      at('08:00'),
      at('08:30'),
      null,
    ]);
  });
  it('over several edits an act counts from the first that said it', () => {
    const view = viewOf(plan, [
      on,
      says('m1', '08:00', 'Tom', []),
      edits('m1', '08:10', [done('pull', {}, cyl(1))], 1),
      edits('m1', '08:20', [done('pull', {}, cyl(1))], 2),
    ]);
    expect(view.steps.find(({ step }) => step === 'pull')?.at).toBe(at('08:10'));
  });
  it('a deleted message is out, whatever came first', () => {
    expect(
      pulled([deletes('m1', '08:30'), says('m1', '08:00', 'Tom', [done('pull', {}, cyl(1))])]),
    ).toEqual([]);
  });
  it('a message moved to another job is out, one moved here is in', () => {
    const moved = (to: string) => ({
      id: 'mv',
      at: at('08:30'),
      by: 'Sam',
      kind: 'message-moved' as const,
      message: 'm1',
      from: 'x',
      to,
    });
    const m1 = says('m1', '08:00', 'Tom', [done('pull', {}, cyl(1))]);
    expect(pulled([m1, moved('77')])).toEqual([]);
    expect(pulled([m1, moved('1042')])).toEqual(cyl(1));
  });
  it('a message typed before it arrived counts from when it was typed', () => {
    const events = says('m1', '09:00', 'Tom', [done('pull', {}, cyl(1))]).map((event) =>
      event.kind === 'message-posted' ? { ...event, typed: at('08:15') } : event,
    );
    expect(viewOf(plan, [on, events]).steps.find(({ step }) => step === 'pull')?.at).toBe(
      at('08:15'),
    );
  });
});

describe('doubled reports', () => {
  const twice = (clock: string, acts: ReturnType<typeof done>[]) => [
    says('m1', '08:00', 'Tom', acts, { text: 'same' }),
    says('m2', clock, 'Tom', acts, { text: 'same' }),
  ];
  it('a bare count twice within ten seconds is one, later it adds up', () => {
    const count = [done('clips', { count: { done: 3 } })];
    const total = (clock: string) =>
      viewOf(plan, twice(clock, count)).steps.find(({ step }) => step === 'clips')?.figures[0]
        ?.quantity.value;
    expect(total('08:00:10')).toBe(3);
    expect(total('08:00:11')).toBe(6);
  });
  it('a volume twice is two, however soon', () => {
    expect(drained(twice('08:00:02', [done('drain', { quantity: litres(2) })]))).toBe(4);
  });
  it('a removed text is judged by what it was read as', () => {
    const bare = twice('08:00:05', [done('clips', { count: { done: 3 } })])
      .flat()
      .map((event) => (event.kind === 'message-posted' ? { ...event, text: null } : event));
    expect(
      viewOf(plan, bare).steps.find(({ step }) => step === 'clips')?.figures[0]?.quantity.value,
    ).toBe(3);
  });
  it('the same again later only confirms: the first time stands', () => {
    const view = viewOf(plan, twice('09:00', [done('play', mm(0.1))]));
    expect(view.steps[1]).toMatchObject({ state: 'done', at: at('08:00') });
    expect(view.wants).toEqual([]);
  });
  it('the same figure in another unit confirms: 0.1 mm and 100 µm', () => {
    const view = viewOf(plan, [
      says('m1', '08:00', 'Tom', [done('play', mm(0.1))]),
      says('m2', '09:00', 'Tom', [done('play', { quantity: { value: 100, unit: 'um' } })]),
    ]);
    expect(view.wants).toEqual([]);
  });
  it('another figure is asked about; the answer says which holds, or that it was done again', () => {
    const story = [
      says('m1', '08:00', 'Tom', [done('play', mm(0.1))]),
      says('m2', '09:00', 'Tom', [done('play', mm(0.3))]),
    ];
    const view = viewOf(plan, story);
    expect(view.wants).toMatchObject([{ question: 'm2:repeat:play', about: 'repeat' }]);
    const then = (choice: number) => [story, answers(view, 'repeat', choice, '09:01')];
    expect(played(then(0))).toEqual([0.3]);
    expect(viewOf(plan, then(0)).steps[1]?.at).toBe(at('08:00'));
    expect(played(then(1))).toEqual([0.3]);
    expect(viewOf(plan, then(1)).steps[1]?.at).toBe(at('09:00'));
    expect(played(then(2))).toEqual([0.1]);
    expect(viewOf(plan, then(2)).wants).toEqual([]);
  });
  it('nothing of this raises a flag', () => {
    expect(flagsOf(viewOf(plan, twice('09:00', [done('play', mm(0.1))])))).toEqual([]);
  });
});
