// "Of the old axle": another thing than that on the job is asked about.
import type { Sign, SignExamples } from './sign.ts';

export const oldPart: Sign = {
  name: 'old-part',
  verdict: 'ask',
  where: 'clause',
  words: /\b(?:of|on|off|in|from) the (?:old|other) \w+/i,
  unless: /\bother (?:side|end|one|hand|wheel|axle|two|three|four|five)\b/i,
};

export const examples: SignExamples = {
  yes: ['caliper bolts torqued left and right of the old axle'],
  no: ['caliper bolts torqued left'],
};
