// Plans of other components, written with titles only: how many of their messages are understood, and nothing false.
import { describe, expect, it } from 'vitest';
import { readMessage } from '../../src/language/read.ts';
import { contextOf, judge, lexiconOf } from '../corpus/score.ts';
import { otherMessages, otherPlans } from './other-plans/messages.ts';

const judged = otherMessages().map((label) => {
  const plan = otherPlans.get(label.plan);
  if (!plan)
    throw new Error(`No plan ${label.plan} beside its messages. Name the file after its plan.`);
  const { acts } = readMessage(label.text, lexiconOf(plan), contextOf(label));
  return { label, verdict: judge(label, acts, plan) };
});

/** At least this share of the messages of each plan is read exactly. */
const LEAST = 0.75;

describe('plans with nothing but titles', () => {
  it('have at least 40 messages each', () => {
    expect(otherPlans.size).toBeGreaterThanOrEqual(3);
    for (const name of otherPlans.keys())
      expect(judged.filter((one) => one.label.plan === name).length, name).toBeGreaterThan(40);
  });

  it('take no safety-critical step as done that was not said to be', () => {
    const wrong = judged.flatMap(({ label, verdict }) =>
      verdict.falseDone.map((step) => `${label.text}: ${step}`),
    );
    expect(wrong).toEqual([]);
  });

  for (const name of otherPlans.keys())
    it(`read ${name} exactly in most messages`, () => {
      const own = judged.filter((one) => one.label.plan === name);
      const missed = own.filter((one) => one.verdict.outcome !== 'exact');
      const notes = missed.map((one) => `${one.label.text}: ${one.verdict.notes.join(' | ')}`);
      expect(1 - missed.length / own.length, notes.join('\n')).toBeGreaterThanOrEqual(LEAST);
    });
});
