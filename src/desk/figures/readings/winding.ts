// "0.52 ohm at 60 c, what is that at 20": a copper winding measured warm.
import { windingAt20 } from '../../../trade/electrical-reading.ts';
import type { Unit } from '../../../trade/units.ts';
import { aroundSaid, saidOf } from '../asking/asked.ts';
import { answerOf, figureKind, means } from '../figure-kind.ts';

export type WindingInputs = {
  readonly value: number;
  readonly unit: Unit;
  readonly celsius: number;
  readonly leads?: number;
};

export const winding = figureKind<WindingInputs>({
  kind: 'winding',
  means: 'what a copper winding measured warm would show at 20 °C',
  examples: [
    {
      type: '0.52 ohm at 60 c, what is that at 20 c',
      means: { value: 0.52, unit: 'Ohm', celsius: 60 },
    },
    {
      type: 'what would 1.9 ohm at 70 c be at 20, leads 0.2 ohm',
      means: { value: 1.9, unit: 'Ohm', celsius: 70, leads: 0.2 },
    },
  ],
  read: (asked) => {
    const ohms = saidOf(asked, 'resistance');
    const leads = ohms.find((said) =>
      /\bleads?\s*(?:of|are|is|=)?\s*$/.test(aroundSaid(asked, said).before),
    );
    const value = ohms.find((said) => said !== leads);
    const warm = saidOf(asked, 'temperature').find(({ value: degrees }) => degrees !== 20);
    const asks20 = /\b(?:at|bei)\s*20\b/.test(asked.plain);
    const question =
      asked.question || /\bwhat (?:is|would)\b|\bwas (?:ist|wäre)\b/.test(asked.plain);
    if (!value?.unit || warm?.unit !== 'Cel' || !asks20 || !question) return undefined;
    return means({
      value: value.value,
      unit: value.unit,
      celsius: warm.value,
      ...(leads ? { leads: leads.value } : {}),
    });
  },
  answer: (inputs) => answerOf(windingAt20(inputs)),
});
