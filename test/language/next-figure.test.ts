// "25 all round" behind "bolts in": the figure is the next tightening's, where the work in hand asks for none.
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/job/load-plan.ts';
import { buildLexicon } from '../../src/language/lexicon.ts';
import { readMessage } from '../../src/language/read.ts';

const { plan } = loadPlan(
  `
plan: next-figure
title: Renew the bracket
machine: an invented machine
notice: Demonstration values; the maker's current data comes first.
source: demonstration value
tools: { wrench: { title: torque wrench } }
steps:
  - id: remove
    title: Remove the bracket
    phase: strip
    report: [{ kind: "off", part: bracket bolts, count: 4 }]
  - id: fit
    title: Fit the bracket
    phase: refit
    after: [remove]
    report: [{ kind: "on", part: bracket bolts, count: 4 }]
  - id: tighten
    title: Tighten the bracket bolts
    phase: refit
    after: [fit]
    report: [{ kind: tightening, of: bracket bolts, fasteners: 4, tool: wrench, stages: [{ torque: 25 }, { torque: 58 }] }]
`,
  'next-figure.yaml',
);
if (!plan) throw new Error('The plan of this test does not load.');
const lexicon = buildLexicon(plan);
const behind = (text: string) => ({
  previous: [{ id: 'before', from: 'person' as const, text }],
});

describe('a figure alone behind the fitting', () => {
  it.each([
    ['25 all round', 1, 25],
    ['58 on all four', 2, 58],
  ])('%s', (text, stage, value) => {
    expect(readMessage(text, lexicon, behind('bracket bolts in')).acts).toMatchObject([
      { kind: 'done', step: 'tighten', stage, quantity: { value, unit: 'N.m' } },
    ]);
  });

  it('is no tightening where no stage has it', () => {
    expect(readMessage('31 all round', lexicon, behind('bracket bolts in')).acts).not.toMatchObject(
      [{ step: 'tighten' }],
    );
  });
});
