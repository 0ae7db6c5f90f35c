// "Nipped one bolt": one of several is not the step.
import type { Sign, SignExamples } from './sign.ts';

export const oneOfSeveral: Sign = {
  name: 'one-of-several',
  verdict: 'ask',
  where: 'clause',
  words:
    /\b(?:nipped|tightened|torqued|fitted|cracked|did) (?:up )?(?:just |only )?one (?:\w+ )?(?:bolt|nut|stud|screw|clip)\b/i,
};

export const examples: SignExamples = {
  yes: ['nipped up one prop bolt'],
  no: ['all prop bolts nipped up'],
};
