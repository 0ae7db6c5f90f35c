// The whole corpus as hurried thumbs would have typed it: exactness falls gently with the slips, and no slip makes a
// safety-critical step done that the message did not say.
import { describe, expect, it } from 'vitest';
import { readMessage } from '../../src/language/read.ts';
import { contextOf, judge, type Label, lexiconOf, readLabels, readPlans } from '../corpus/score.ts';
import { mangle } from './mangler.ts';

const whole = process.env.CHARGEHAND_WHOLE !== undefined;
const plans = readPlans();
const seen = readLabels().filter((label) => !label.heldout && plans.has(label.plan));
/** Every message with --whole, else one of twelve, spread over all files. */
const labels = whole ? seen : seen.filter((_, at) => at % 12 === 5);

/** Of the 79,540 variants with --whole; the aim is none. */
const WHOLE_AT_MOST = 0;

type Point = { slips: number; exact: number; asked: number; all: number; falseDone: string[] };

function judged(label: Label, text: string) {
  const plan = plans.get(label.plan);
  if (!plan) throw new Error(`No plan ${label.plan}. Put it into data/plans.`);
  return judge(label, readMessage(text, lexiconOf(plan), contextOf(label)).acts, plan);
}

function pointAt(slips: number): Point {
  const point: Point = { slips, exact: 0, asked: 0, all: 0, falseDone: [] };
  labels.forEach((label, at) => {
    const variants = slips === 0 ? [label.text] : mangle(label.text, slips, 1000 * slips + at);
    for (const text of variants) {
      const verdict = judged(label, text);
      point.all += 1;
      if (verdict.outcome === 'exact') point.exact += 1;
      if (verdict.outcome === 'asked') point.asked += 1;
      for (const step of verdict.falseDone)
        point.falseDone.push(`${text} (${label.text}): ${step}`);
    }
  });
  return point;
}

const share = (part: number, all: number) => `${((100 * part) / Math.max(1, all)).toFixed(1)} %`;

describe('messages with slips', () => {
  const curve = [0, 1, 2, 3, 4].map(pointAt);
  console.log(
    [
      'slips   exact   asked   false',
      ...curve.map(
        ({ slips, exact, asked, all, falseDone }) =>
          `${String(slips).padStart(5)}${share(exact, all).padStart(8)}${share(asked, all).padStart(8)}${String(falseDone.length).padStart(8)}`,
      ),
    ].join('\n'),
  );

  it('never make a safety-critical step done that was not said to be', () => {
    const wrong = curve.flatMap((point) => point.falseDone);
    if (whole) expect(wrong.length).toBeLessThanOrEqual(WHOLE_AT_MOST);
    else expect(wrong).toEqual([]);
  });

  it('are read less exactly by no more than a sixth for each slip', () => {
    const shares = curve.map((point) => point.exact / point.all);
    shares.slice(1).forEach((one, at) => {
      expect(one).toBeGreaterThan((shares[at] ?? 1) - 1 / 6);
    });
  });
});
