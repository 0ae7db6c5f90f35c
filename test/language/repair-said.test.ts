// What is put right within one message is one report, with what is right.
import { expect, it } from 'vitest';
import { readMessage } from '../../src/language/read.ts';
import { lexiconFor } from './plans.ts';

const acts = (plan: string, text: string) =>
  readMessage(text, lexiconFor(plan), {}).acts.map((act) => ({
    kind: act.kind,
    step: act.step,
    at: act.positions,
    value: act.quantity?.value,
    stage: act.stage,
  }));

it.each([
  ['injectors', 'drained 62 L i mean 26', 26],
  ['injectors', 'drained 62 no 26 L', 26],
  ['injectors', 'drained 62 sorry 26 litres of coolant', 26],
  ['injectors', 'coolant drained 62 L, 26 rather', 26],
  ['injectors', 'Kühlmittel abgelassen, 62 äh 26 Liter', 26],
  ['injectors', 'coolant drained, twenty eight, no, twenty six litres', 26],
  ['coolant', 'pressure test 1.2 wait 1.1 bar', 1.1],
  ['hub', 'end play 0.6 er 0.06 mm rear right', 0.06],
])('one figure, the right one: %s "%s"', (plan, text, value) => {
  const read = acts(plan, text);
  expect(read).toHaveLength(1);
  expect(read[0]).toMatchObject({ kind: 'done', value });
});

it.each([
  ['injectors', 'cyl 4 i mean 5 injector out', ['cylinder 5']],
  ['injectors', 'injector 4 out, sorry, 5', ['cylinder 5']],
  ['injectors', 'Injektor 4, nein, 5 ist raus', ['cylinder 5']],
  [
    'injectors',
    'clamps stage 2 torqued on 1 to 3, no wait, 1 to 4',
    ['cylinder 1', 'cylinder 2', 'cylinder 3', 'cylinder 4'],
  ],
  ['hub', 'wheel off front left sorry front right', ['front right']],
  ['hub', 'wheel off front left, I mean right', ['front right']],
  ['hub', 'wheel front left off, i mean rear left', ['rear left']],
  ['hub', 'Rad vorne links runter, quatsch, vorne rechts', ['front right']],
])('one place, the right one: %s "%s"', (plan, text, at) => {
  const read = acts(plan, text);
  expect(read).toHaveLength(1);
  expect(read[0]).toMatchObject({ kind: 'done', at });
});

it('puts a stage right', () => {
  expect(acts('injectors', 'clamps stage 1 sorry stage 2 torqued all six')).toMatchObject([
    { kind: 'done', step: 'tighten-clamp', stage: 2 },
  ]);
});

it.each([
  ['injectors', 'washers on 1, 2, 3, no 4 yet'],
  ['injectors', 'clamps torqued 1 2 3 no 4'],
  ['injectors', 'injector 3 wait 10 min'],
])('leaves a denial, a number and a wait as they are: %s "%s"', (plan, text) => {
  expect(acts(plan, text).filter((act) => act.kind === 'done')).toEqual([]);
});

it('leaves a correction of an earlier message to what was said there', () => {
  const read = readMessage('sorry 26', lexiconFor('injectors'), {
    previous: [{ id: 'a', from: 'person', text: 'drained 62 L' }],
  });
  expect(read.acts).toMatchObject([{ kind: 'corrects', quantity: { value: 26, unit: 'L' } }]);
});
