// "tester reads -25, how strong is it": the concentration that goes with a freezing point.
import { concentrationFor } from '../../../trade/coolant/concentration.ts';
import type { Basis, Glycol } from '../../../trade/tables/glycol.ts';
import type { Quantity } from '../../../trade/units.ts';
import { kindOfSaid, quantityOf } from '../asking/asked.ts';
import { answerOf, figureKind, means, type Reply } from '../figure-kind.ts';
import { mixtureIn, sayAssumed } from './mixture.ts';

export type ConcentrationInputs = {
  readonly freezesAt: Quantity;
  readonly glycol: Glycol;
  readonly by: Basis;
  readonly assumed: readonly string[];
};

const STRENGTH =
  /\b(?:how strong|what strength|concentration|what mix|which mix|how much (?:antifreeze|glycol|concentrate)|(?:what|how many|which) (?:percent|per cent|%)|what percentage|wie stark|wie ?viel prozent|konzentration)|(?:what|how many) %/;

export const concentrationOf = figureKind<ConcentrationInputs>({
  kind: 'concentration',
  means: 'how strong a coolant is, or must be, from a freezing point',
  examples: [
    {
      type: 'tester reads -25, how strong is it',
      means: {
        freezesAt: { value: -25, unit: 'Cel' },
        glycol: 'ethylene',
        by: 'volume',
        assumed: ['ethylene glycol', 'by volume'],
      },
    },
    {
      type: 'what concentration for -37 c by mass',
      means: {
        freezesAt: { value: -37, unit: 'Cel' },
        glycol: 'ethylene',
        by: 'mass',
        assumed: ['ethylene glycol'],
      },
    },
  ],
  read: (asked) => {
    const question =
      asked.question ||
      /\b(?:how strong|what (?:strength|concentration|percent))\b/.test(asked.plain);
    if (!question || !STRENGTH.test(asked.plain)) return undefined;
    const temperatures = asked.figures.filter(
      (said) =>
        kindOfSaid(said) === 'temperature' ||
        kindOfSaid(said) === 'angle' ||
        (said.unit === undefined && said.value < 0),
    );
    const [said] = temperatures;
    if (!said || asked.figures.length > 1) return undefined;
    const freezesAt: Quantity =
      kindOfSaid(said) === 'temperature'
        ? quantityOf(said, 'Cel')
        : { value: said.value, unit: 'Cel' };
    const { glycol, by, assumed } = mixtureIn(asked);
    return means({ freezesAt, glycol, by, assumed });
  },
  answer: ({ assumed, ...question }): Reply => {
    const result = concentrationFor(question);
    const reply = answerOf(result);
    return result.ok ? { says: `${reply.says}${sayAssumed(assumed)}` } : reply;
  },
});
