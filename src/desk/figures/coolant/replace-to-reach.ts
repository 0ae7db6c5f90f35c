// "40 l at 30 percent to 50", "reads -15, want -37, 40 litres": how much to drain and refill.
import {
  type MixQuestion,
  replaceToReach,
  type Strength,
} from '../../../trade/coolant/dilution.ts';
import { type Asked, quantityOf, saidOf } from '../asking/asked.ts';
import { answerOf, asks, figureKind, means, type Read, type Reply } from '../figure-kind.ts';
import { mixtureIn, sayAssumed } from './mixture.ts';
import { speaksOfStrength, strengthOf, strengthsIn } from './strengths.ts';

export type ReplaceInputs = {
  readonly question: MixQuestion & { readonly target: Strength };
  readonly assumed: readonly string[];
};

export const replaceToTarget = figureKind<ReplaceInputs>({
  kind: 'replace-coolant',
  means: 'how much coolant to drain and refill to reach a strength',
  examples: [
    {
      type: '40 l at 30 percent to 50',
      means: {
        question: {
          glycol: 'ethylene',
          system: { value: 40, unit: 'L' },
          have: { percent: 30 },
          target: { percent: 50 },
        },
        assumed: ['ethylene glycol', 'filled with concentrate'],
      },
    },
    {
      type: 'reads -15, want -37, 40 litres',
      means: {
        question: {
          glycol: 'ethylene',
          system: { value: 40, unit: 'L' },
          have: { freezesAt: { value: -15, unit: 'Cel' } },
          target: { freezesAt: { value: -37, unit: 'Cel' } },
        },
        assumed: ['ethylene glycol', 'filled with concentrate'],
      },
    },
    {
      type: 'how much do i drain to get 40 l from 60% to 50%, refill with water',
      means: {
        question: {
          glycol: 'ethylene',
          system: { value: 40, unit: 'L' },
          have: { percent: 60 },
          target: { percent: 50 },
          fillPercent: 0,
        },
        assumed: ['ethylene glycol'],
      },
    },
  ],
  read,
  answer: ({ question, assumed }): Reply => {
    const result = replaceToReach(question);
    const reply = answerOf(result);
    return result.ok ? { says: `${reply.says}${sayAssumed(assumed)}` } : reply;
  },
});

function read(asked: Asked): Read<ReplaceInputs> {
  if ((asked.reports && !asked.question) || !speaksOfStrength(asked)) return undefined;
  const { have, target, fill } = strengthsIn(asked);
  if (!have || !target) return undefined;
  const volumes = saidOf(asked, 'volume');
  const [system] = volumes;
  if (volumes.length > 1) return undefined;
  if (!system) {
    const wants =
      /\b(?:drain|replace|change|refill|top up|antifreeze|glycol|coolant|reads?|reading|tester)\b/;
    if (!wants.test(asked.plain) || !/%|percent|-\d/.test(asked.plain)) return undefined;
    if (have.unit === undefined && target.unit === undefined && have.value >= 0) return undefined;
    return asks(
      `How much does the whole system hold? Ask again with it: "${asked.plain}, 40 litres".`,
    );
  }
  const { glycol, assumed } = mixtureIn(asked);
  return means({
    question: {
      glycol,
      system: quantityOf(system, 'L'),
      have: strengthOf(have, target),
      target: strengthOf(target, have),
      ...(fill === undefined ? {} : { fillPercent: fill }),
    },
    assumed: [
      ...assumed.filter((each) => each !== 'by volume'),
      ...(fill === undefined ? ['filled with concentrate'] : []),
    ],
  });
}
