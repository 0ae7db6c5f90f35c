// "Came in first thing": a part that arrived is not fitted.
import type { Sign, SignExamples } from './sign.ts';

export const delivered: Sign = {
  name: 'delivered',
  verdict: 'drop',
  where: 'clause',
  words: /\b(?:came|come|arrived|turned up|got) in f\w+/i,
};

export const examples: SignExamples = {
  yes: ['new pads came in first thing'],
  no: ['pads in'],
};
