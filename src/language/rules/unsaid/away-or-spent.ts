// "Jack is away being mended", "up for scrap": the thing is gone.
import type { Sign, SignExamples } from './sign.ts';

export const awayOrSpent: Sign = {
  name: 'away-or-spent',
  verdict: 'drop',
  where: 'clause',
  words:
    /\b(?:away|off|out) (?:being|getting|for) (?:mended|repaired|fixed|serviced|calibrated)\b|\b(?:up |gone )?for scrap\b|\bon fire\b|\bordered\b|\bjacked off\b|\bclocked (?:in|out|on|off)\b/i,
};

export const examples: SignExamples = {
  yes: ["box jack's away being mended", 'axle up for scrap'],
  no: ['box jack away'],
};
