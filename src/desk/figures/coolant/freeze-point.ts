// "freeze point 50 percent glycol": what a mixture is good down to.
import { freezePoint } from '../../../trade/coolant/freeze-point.ts';
import type { Basis, Glycol } from '../../../trade/tables/glycol.ts';
import { saidOf } from '../asking/asked.ts';
import { answerOf, figureKind, means, type Reply } from '../figure-kind.ts';
import { mixtureIn, sayAssumed } from './mixture.ts';

export type FreezeInputs = {
  readonly percent: number;
  readonly glycol: Glycol;
  readonly by: Basis;
  readonly assumed: readonly string[];
};

const FREEZE =
  /\bfreez(?:e|es|ing)\b|\bfrost|\bprotect(?:s|ion|ed)?\b|\bgood (?:down )?to\b|\bhow cold\b|\bgood for\b|gefrier|\bwie kalt\b/;

export const freezePointOf = figureKind<FreezeInputs>({
  kind: 'freeze-point',
  means: 'what a coolant mixture is good down to',
  examples: [
    {
      type: 'freeze point 50 percent glycol',
      means: {
        percent: 50,
        glycol: 'ethylene',
        by: 'volume',
        assumed: ['ethylene glycol', 'by volume'],
      },
    },
    {
      type: 'how cold is 40% propylene by mass good for',
      means: { percent: 40, glycol: 'propylene', by: 'mass', assumed: [] },
    },
    {
      type: 'frostschutz bei 45 prozent?',
      means: {
        percent: 45,
        glycol: 'ethylene',
        by: 'volume',
        assumed: ['ethylene glycol', 'by volume'],
      },
    },
  ],
  read: (asked) => {
    const percents = saidOf(asked, 'percentage');
    const half = /\b50 ?\/ ?50\b/.test(asked.plain);
    const percent = half ? 50 : percents[0]?.value;
    if (percent === undefined || !FREEZE.test(asked.plain)) return undefined;
    if (asked.figures.length > (half ? 0 : 1)) return undefined;
    const begins = /^(?:freez\w*|frost\w*|gefrier\w*)\b/.test(asked.plain);
    if (asked.reports || !(asked.question || begins)) return undefined;
    const { glycol, by, assumed } = mixtureIn(asked);
    return means({ percent, glycol, by, assumed });
  },
  answer: ({ assumed, ...question }): Reply => {
    const result = freezePoint(question);
    const reply = answerOf(result);
    return result.ok ? { says: `${reply.says}${sayAssumed(assumed)}` } : reply;
  },
});
