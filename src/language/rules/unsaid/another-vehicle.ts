// "Bus 12 pressure tested": asked, since it may be another vehicle.
import type { Sign, SignExamples } from './sign.ts';

export const anotherVehicle: Sign = {
  name: 'another-vehicle',
  verdict: 'ask',
  where: 'message',
  words: /^(?:the )?(?:bus|coach|truck|lorry|van|wagon) (?:no\.? ?)?\d+\b/i,
};

export const examples: SignExamples = {
  yes: ['bus 12 pressure tested 1.2 bar'],
  no: ['pressure tested 1.2 bar'],
};
