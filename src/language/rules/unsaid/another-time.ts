// "Last time": another visit.
import type { Sign, SignExamples } from './sign.ts';

export const anotherTime: Sign = {
  name: 'another-time',
  verdict: 'drop',
  where: 'clause',
  words: /\blast (?:time|week|month|year|service|visit)\b/i,
};

export const examples: SignExamples = {
  yes: ['dave did the pressure test last time'],
  no: ['did the pressure test'],
};
