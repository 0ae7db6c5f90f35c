// "He said engine supported before anything" is an order.
import type { Sign, SignExamples } from './sign.ts';

export const order: Sign = {
  name: 'order',
  verdict: 'drop',
  where: 'message',
  words: /\b(?:says?|said|told (?:me|us))\b.*\bbefore (?:anything|everything|you|we|i|he|she)\b/i,
};

export const examples: SignExamples = {
  yes: ['sam said engine supported before anything'],
  no: ['engine supported'],
};
