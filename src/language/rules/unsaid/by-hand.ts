// "Torqued by hand" is asked about.
import type { Sign, SignExamples } from './sign.ts';

export const byHand: Sign = {
  name: 'by-hand',
  verdict: 'ask',
  where: 'clause',
  words: /\b(?:torqued?|tight|tightened|done up|nipped) (?:up )?by hand\b/i,
};

export const examples: SignExamples = {
  yes: ['nuts torqued by hand left'],
  no: ['nuts torqued left'],
};
