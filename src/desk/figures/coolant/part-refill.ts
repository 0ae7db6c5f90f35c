// "drain 28 of 40 l at 30 percent and refill with 50 percent": what that leaves in the system.
import { afterRefill, type MixQuestion } from '../../../trade/coolant/dilution.ts';
import type { Quantity } from '../../../trade/units.ts';
import { type Asked, kindOfSaid, quantityOf } from '../asking/asked.ts';
import { answerOf, figureKind, means, type Read, type Reply } from '../figure-kind.ts';
import { mixtureIn, sayAssumed } from './mixture.ts';
import { speaksOfStrength, strengthOf, strengthsIn } from './strengths.ts';

export type RefillInputs = {
  readonly question: MixQuestion & { readonly drained: Quantity };
  readonly assumed: readonly string[];
};

const PART = /^\s*(?:l|litres?|liters?)?\s*(?:of|out of|from|von|aus)\s*(?:the |a )?$/;
const DRAIN = /\b(?:drain|take out|swap|change|replace|drop|ablassen|ablasse|tausche)\b/;
const REFILL = /\b(?:refill|fill|top up|replace|put (?:in|back)|with|auffüllen|fülle|mit)\b/;

export const partRefill = figureKind<RefillInputs>({
  kind: 'part-refill',
  means: 'what a part drain and refill leaves in the system',
  examples: [
    {
      type: 'drain 28 of 40 l at 30 percent and refill with 50 percent',
      means: {
        question: {
          glycol: 'ethylene',
          system: { value: 40, unit: 'L' },
          have: { percent: 30 },
          fillPercent: 50,
          drained: { value: 28, unit: 'L' },
        },
        assumed: ['ethylene glycol'],
      },
    },
    {
      type: 'what if i drain 10 l out of 40 l at 40% and fill with concentrate',
      means: {
        question: {
          glycol: 'ethylene',
          system: { value: 40, unit: 'L' },
          have: { percent: 40 },
          fillPercent: 100,
          drained: { value: 10, unit: 'L' },
        },
        assumed: ['ethylene glycol'],
      },
    },
  ],
  read,
  answer: ({ question, assumed }): Reply => {
    const result = afterRefill(question);
    const reply = answerOf(result);
    return result.ok ? { says: `${reply.says}${sayAssumed(assumed)}` } : reply;
  },
});

function read(asked: Asked): Read<RefillInputs> {
  if (!DRAIN.test(asked.plain) || !REFILL.test(asked.plain) || !speaksOfStrength(asked)) {
    return undefined;
  }
  if (asked.reports && !asked.question) return undefined;
  const at = asked.figures.findIndex((said, index) => {
    const next = asked.figures[index + 1];
    return (
      next !== undefined &&
      (kindOfSaid(next) === 'volume' ||
        (next.unit === undefined && kindOfSaid(said) === 'volume')) &&
      PART.test(asked.plain.slice(said.to, next.from)) &&
      (said.unit === undefined || kindOfSaid(said) === 'volume')
    );
  });
  const drained = asked.figures[at];
  const system = asked.figures[at + 1];
  if (!drained || !system) return undefined;
  const rest = {
    ...asked,
    figures: asked.figures.filter((said) => said !== drained && said !== system),
  };
  const { have, fill } = strengthsIn(rest);
  if (!have || fill === undefined) return undefined;
  const { glycol, assumed } = mixtureIn(asked);
  return means({
    question: {
      glycol,
      system: quantityOf(system, drained.unit ?? 'L'),
      have: strengthOf(have, undefined),
      fillPercent: fill,
      drained: quantityOf(drained, system.unit ?? 'L'),
    },
    assumed: assumed.filter((each) => each !== 'by volume'),
  });
}
