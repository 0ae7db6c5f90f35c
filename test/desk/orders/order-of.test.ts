// Every order with its sentences; no order's sentence may be another's, and no report may be an order.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { FORMS } from '../../../src/desk/orders/forms.ts';
import { orderOf } from '../../../src/desk/orders/order-of.ts';
import { ROOT } from '../../layout/sources.ts';

const known = {
  jobs: ['1042', '1043'],
  person: (name: string) =>
    ['Ada', 'Mo', 'Kim'].find((each) => each.toLowerCase() === name.toLowerCase()),
  odometerAsked: false,
};

describe.each(FORMS.map((form) => [form.name, form] as const))('%s', (name, form) => {
  it.each(form.yes)('"%s" is it', (text) => {
    expect(orderOf(text, known)?.command).toBe(name);
  });
  it.each(form.no)('"%s" is no order', (text) => {
    expect(orderOf(text, known)?.command).not.toBe(name);
  });
});

describe('what an order says', () => {
  it.each([
    ['give 1042 to Mo', { by: 'Mo', job: '1042' }],
    ['please give it to Mo', { by: 'Mo' }],
    ['move the last 3 to 1043', { job: '1043', count: { done: 3 } }],
    ['close job at 412,400 km', { quantity: { value: 412400, unit: 'km' } }],
    ['reopen job because the leak came back', { note: 'the leak came back' }],
    ['1042 promised for friday 14:00', { job: '1042', note: 'friday 14:00' }],
  ])('"%s"', (text, said) => {
    expect(orderOf(text, known)).toMatchObject(said);
  });

  it('a bare reading counts only where the bot has asked for it', () => {
    expect(orderOf('412400 km', known)).toBeUndefined();
    expect(orderOf('412400 km', { ...known, odometerAsked: true })?.quantity).toEqual({
      value: 412400,
      unit: 'km',
    });
  });
});

it('no message of the corpus that reports work is taken for an order', () => {
  const folder = join(ROOT, 'data', 'corpus');
  const taken = readdirSync(folder)
    .filter((file) => file.endsWith('.jsonl'))
    .flatMap((file) => readFileSync(join(folder, file), 'utf8').split('\n').filter(Boolean))
    .map((line) => JSON.parse(line) as { text: string; acts?: { kind: string }[] })
    .filter(({ acts }) => acts?.some(({ kind }) => kind !== 'command' && kind !== 'corrects'))
    .map(({ text }) => [text, orderOf(text, known)?.command])
    .filter(([, command]) => command !== undefined);
  expect(taken).toEqual([]);
});
