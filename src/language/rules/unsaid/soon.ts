// "In a minute": it has not happened.
import type { Sign, SignExamples } from './sign.ts';

export const soon: Sign = {
  name: 'soon',
  verdict: 'drop',
  where: 'clause',
  words: /\bin a (?:min|minute|bit|sec|second|moment|mo|tick)\b/i,
};

export const examples: SignExamples = {
  yes: ['wheel off in a minute', 'coolant out in a bit'],
  no: ['wheel off'],
};
