// "Bled dry" is said of purses.
import type { Sign, SignExamples } from './sign.ts';

export const figureOfSpeech: Sign = {
  name: 'figure-of-speech',
  verdict: 'drop',
  where: 'clause',
  words: /\bbled dry\b/i,
};

export const examples: SignExamples = {
  yes: ['bled dry'],
  no: ['bled and dry'],
};
