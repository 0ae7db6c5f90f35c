// "He said it is in, but I cannot see it": asked.
import type { Sign, SignExamples } from './sign.ts';

export const hearsayInDoubt: Sign = {
  name: 'hearsay-in-doubt',
  verdict: 'ask',
  where: 'message',
  words:
    /\b(?:says?|said|reckons?|told (?:me|us))\b.*\bbut\b.*\b(?:can(?:'|’)?t|cannot|can not|couldn(?:'|’)?t|don(?:'|’)?t|didn(?:'|’)?t|haven(?:'|’)?t|not|never|no)\b/i,
};

export const examples: SignExamples = {
  yes: ["tel said the stands are in but i can't see em"],
  no: ['the stands are in'],
};
