// "Would be nice to have it warm": a wish reports nothing.
import type { Sign, SignExamples } from './sign.ts';

export const wish: Sign = {
  name: 'wish',
  verdict: 'drop',
  where: 'message',
  words: /\b(?:be|would be) (?:nice|good|great|lovely) (?:to|if)\b/i,
};

export const examples: SignExamples = {
  yes: ['be nice to have it up to temp before dinner'],
  no: ['up to temp'],
};
