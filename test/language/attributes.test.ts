// What is said beside the figures: the tool, parts that are new, the valve, the paint mark.
import { expect, it } from 'vitest';
import { readMessage } from '../../src/language/read.ts';
import { lexiconFor } from './plans.ts';

const first = (plan: string, text: string) => readMessage(text, lexiconFor(plan), {}).acts[0];
const all = (plan: string, text: string) => readMessage(text, lexiconFor(plan), {}).acts;

it.each([
  ['hub', 'front left wheel nuts stage 1 200nm, TW-05', 'TW-05'],
  ['hub', 'front left wheel nuts stage 1 200nm with TW 05', 'TW 05'],
  ['hub', 'front left wheel nuts stage 1 200nm tw5', 'tw5'],
  ['hub', 'front left hub nut stage 1 150nm, wrench AB12', 'AB12'],
])('%s: %s names a tool', (plan, text, tool) => {
  expect(first(plan, text)).toMatchObject({ kind: 'done', tool, positions: ['front left'] });
});

it('takes no code of a component for a tool', () => {
  expect(first('injectors', 'codes entered: cyl 1 4M2XPT')?.tool).toBeUndefined();
});

it.each([
  ['injectors', 'new copper washers on the lot', 'fit-washer', ['sealing washer']],
  [
    'injectors',
    'rocker cover back on, new gasket, 14 bolts',
    'refit-rocker-cover',
    ['rocker cover gasket'],
  ],
  ['hub', 'hub cap on front left, 6 bolts, fresh o-ring', 'fit-hub-cap', ['hub cap ring']],
  ['hub', 'rear left seal replaced', 'fit-hub-seal', ['hub seal']],
  ['hub', 'vorne links neue Dichtung drin', 'fit-hub-seal', ['hub seal']],
  ['coolant', 'new gasket fitted', 'fit-gasket', ['pump gasket']],
])('%s: %s says which part is new', (plan, text, step, renewed) => {
  expect(first(plan, text)).toMatchObject({ step, renewed });
});

it.each([
  ['coolant', 'gasket fitted'],
  ['hub', 'seal in rear left'],
  ['injectors', 'new washer but old one back in on 3'],
  ['injectors', 'washers reused on 1 to 3'],
])('%s: %s says of no part that it is new', (plan, text) => {
  expect(first(plan, text)?.renewed).toBeUndefined();
});

it.each(['tappets set 1 to 6, inlet 0.30 exhaust 0.60', 'tappets 1 to 6 0.3 in 0.6 ex'])(
  '%s gives each clearance its valve',
  (text) => {
    expect(all('injectors', text)).toMatchObject([
      { quantity: { value: 0.3 }, valve: 'inlet' },
      { quantity: { value: 0.6 }, valve: 'exhaust' },
    ]);
  },
);

it('keeps a paint mark as the note of the report before it, and none that is denied', () => {
  expect(all('injectors', 'clamps stage 3 90 deg all six, paint marked')).toMatchObject([
    { step: 'tighten-clamp', stage: 3, note: 'paint marked' },
  ]);
  expect(first('injectors', 'clamps stage 3 90 deg all six, not marked yet')?.note).toBeUndefined();
});

it('asks which one, where a side has several and one is spoken of', () => {
  for (const text of ['left wheel off', "wheel's off the left"])
    expect(first('hub', text), text).toMatchObject({ kind: 'unsure', step: 'remove-wheel' });
  expect(first('hub', 'wheels off the left')).toMatchObject({
    kind: 'done',
    positions: ['front left', 'rear left'],
  });
  const onJob = readMessage('left wheel off', lexiconFor('hub'), {
    positions: ['front left', 'front right'],
  }).acts[0];
  expect(onJob).toMatchObject({ kind: 'done', positions: ['front left'] });
});

it.each([
  ['injectors', 'looked at it, released for first start', 'pre-start-check'],
  ['injectors', 'released for first start', 'pre-start-check'],
  ['hub', 'hub check released', 'second-check-hub'],
])('%s: %s releases the hold point', (plan, text, step) => {
  expect(all(plan, text)).toMatchObject([{ kind: 'command', command: 'release', step }]);
});

it.each([
  ['injectors', 'rail pressure released'],
  ['brake', 'brakes released'],
  ['hub', 'hub released front left'],
  ['hub', 'hub check released?'],
])('%s: %s releases no hold point', (plan, text) => {
  expect(all(plan, text).some((act) => act.command === 'release')).toBe(false);
});
