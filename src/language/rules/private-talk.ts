// Talk about my own back, my car or the match is not about the job.
import { hasCue } from '../clause.ts';
import type { Examples, Rule } from '../stance.ts';

export const privateTalk: Rule = {
  name: 'private-talk',
  says: 'Talk about my own back, my car or the match is not about the job.',
  read: (clause) => (hasCue(clause, 'private') ? { kind: 'nothing' } : undefined),
};

export const examples: Examples = {
  yes: ['my back is torqued to stage 3', 'my car needs the coolant drained too'],
  no: ['rocker cover off', 'my wheel nuts are torqued'],
  ask: [],
};
