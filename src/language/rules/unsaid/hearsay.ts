// "He said it is done": asked, since it is not the writer's own word.
import type { Sign, SignExamples } from './sign.ts';

export const hearsay: Sign = {
  name: 'hearsay',
  verdict: 'ask',
  where: 'message',
  words:
    /(?:^|[,;.] *)(?:he|she|they|(?:the )?(?:\w+ )?(?:shift|foreman|gaffer|boss|lads?|fitter|apprentice)) (?:says?|said|reckons?|told (?:me|us))\b|\b(?:he|she|they) (?:says?|said|reckons?)\s*$/i,
};

export const examples: SignExamples = {
  yes: ['he said second check done', 'battery isolated he says'],
  no: ['second check done'],
};
