import { expect, it } from 'vitest';
import { done, flagsOf, planOf, says, viewOf } from '../story.ts';

const plan = planOf(
  [
    {
      id: 'clamp',
      title: 'Tighten it',
      weight: 'safety-critical',
      report: [
        { kind: 'tightening', of: 'bolts', tool: 'torque-wrench', stages: [{ torque: 20 }] },
      ],
    },
  ],
  { tools: { 'torque-wrench': { title: 'torque wrench' } } },
);
const with_ = (tool: string) => [says('m1', '08:00', 'Tom', [done('clamp', { stage: 1, tool })])];
const register = (due?: string) => ({
  around: { tools: [{ id: 'TW-3', kind: 'torque-wrench', ...(due !== undefined && { due }) }] },
});

it('good through the whole of its last day', () => {
  expect(flagsOf(viewOf(plan, with_('TW-3'), register('2026-05-12')))).toEqual([]);
  expect(flagsOf(viewOf(plan, with_('TW-3'), register('2026-05-11')))).toEqual([
    'tool-out-of-date|clamp||TW-3 stop',
  ]);
});

it('says which tool and since when', () => {
  expect(viewOf(plan, with_('TW-3'), register('2026-05-11')).flags[0]?.says).toBe(
    'Tool out of date: "Tighten it". The torque wrench TW-3 was due on 2026-05-11. Job 1042, 08:00. Repeat it with a tool that is in date, and say which.',
  );
});

it('is known by its name however it is spelled', () => {
  expect(flagsOf(viewOf(plan, with_('tw 3'), register('2026-05-11')))).toHaveLength(1);
});

it('a tool without a date, or not in the register, raises nothing', () => {
  expect(flagsOf(viewOf(plan, with_('TW-3'), register()))).toEqual([]);
  expect(flagsOf(viewOf(plan, with_('TW-9'), register('2026-05-11')))).toEqual([]);
});

it('which tool was used is still wanted until it is named', () => {
  expect(
    viewOf(plan, [says('m1', '08:00', 'Tom', [done('clamp', { stage: 1 })])]).steps[0]?.missing,
  ).toEqual(['which torque wrench was used']);
  expect(viewOf(plan, with_('TW-3')).steps[0]?.missing).toEqual([]);
});
