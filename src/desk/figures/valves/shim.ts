// "shim for 0.42, target 0.30, 2.50 in now": the shim that brings a clearance to its target.
import { shimFor } from '../../../trade/clearance.ts';
import { type Asked, aroundSaid, kindOfSaid, type Said } from '../asking/asked.ts';
import { answerOf, asks, figureKind, type Ground, means, type Read } from '../figure-kind.ts';
import { fromPlan } from '../plan-figure.ts';
import { plannedValve, valveSaid } from './valve-names.ts';

export type ShimInputs = {
  readonly reading: number;
  readonly target: number;
  readonly fitted: number;
  readonly sizes?: readonly number[];
  /** The target is the plan's for this kind of valve. */
  readonly ofPlan?: 'inlet' | 'exhaust';
};

const TARGET =
  /\b(?:target|want|wants|need|needs|to|spec|soll|should be|aim)\s*(?:is|of|for|:|=)?\s*$/;
const FITTED = /\b(?:shim|shims|fitted|plättchen|with|has|in)\s*(?:a|is|of|now|:|=)?\s*$/;
const FITTED_BEHIND = /^\s*(?:shim\b|fitted\b|in\b(?: now| there)?|plättchen\b|drin\b|is in\b)/;
const READING =
  /\b(?:reading|reads?|gap|measured|clearance|for|have|at|from|ist|spiel)\s*(?:is|of|:|=)?\s*$/;
const SIZES = /\b(?:sizes|i have|available|in stock|vorhanden)\b/;

export const shim = figureKind<ShimInputs>({
  kind: 'shim',
  means: 'the shim that brings a clearance to its target',
  examples: [
    {
      type: 'which shim for 0.42, target 0.30, 2.50 in now',
      means: { reading: 0.42, target: 0.3, fitted: 2.5 },
    },
    {
      type: 'what shim: reading 0.20 target 0.30 fitted 2.70 sizes 2.55 2.60 2.65',
      means: { reading: 0.2, target: 0.3, fitted: 2.7, sizes: [2.55, 2.6, 2.65] },
    },
  ],
  read,
  answer: ({ ofPlan, ...given }, { view }) => {
    const reply = answerOf(shimFor(given));
    const planned = ofPlan && plannedValve(view, ofPlan);
    return planned && view ? fromPlan(view, planned.placed, reply) : reply;
  },
});

function read(asked: Asked, ground: Ground): Read<ShimInputs> {
  const { plain } = asked;
  if (!/\bshims?\b|plättchen/.test(plain)) return undefined;
  if (!asked.question && !/^shim\b/.test(plain)) return undefined;
  if (asked.reports && !/^(?:what|which|welche)/.test(plain)) return undefined;
  const sizesAt = SIZES.exec(plain)?.index ?? plain.length;
  const lengths = asked.figures.filter(
    (said) => said.unit === undefined || kindOfSaid(said) === 'length',
  );
  const sizes = lengths.filter((said) => said.from > sizesAt).map(({ value }) => value);
  const main = lengths.filter((said) => said.from < sizesAt);
  const take = (test: (said: Said) => boolean) => {
    const index = main.findIndex(test);
    return index < 0 ? undefined : main.splice(index, 1)[0]?.value;
  };
  const typedTarget = take((said) => TARGET.test(aroundSaid(asked, said).before));
  const fitted =
    take((said) => FITTED_BEHIND.test(aroundSaid(asked, said).after)) ??
    take((said) => FITTED.test(aroundSaid(asked, said).before));
  const reading = take((said) => READING.test(aroundSaid(asked, said).before)) ?? main[0]?.value;
  const spare = main.filter(({ value }) => value !== reading);
  const valve = valveSaid(plain);
  const planned = typedTarget === undefined && valve ? plannedValve(ground.view, valve) : undefined;
  const target = typedTarget ?? planned?.valve.target;
  const whole = reading !== undefined && target !== undefined && fitted !== undefined;
  if (!whole || spare.length > 0) {
    if (lengths.length < 2) return undefined;
    return asks(
      'Give the reading, the target and the shim that is in now: "which shim for 0.42, target 0.30, 2.50 in now".',
    );
  }
  return means({
    reading,
    target,
    fitted,
    ...(sizes.length > 0 ? { sizes } : {}),
    ...(planned && valve ? { ofPlan: valve } : {}),
  });
}
