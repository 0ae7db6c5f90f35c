// "Chocks are in the van": where a thing lies off the vehicle reports no step.
import type { Sign, SignExamples } from './sign.ts';

export const placeOffTheVehicle: Sign = {
  name: 'place-off-the-vehicle',
  verdict: 'drop',
  where: 'clause',
  words:
    /\b(?:in|on|at|down|under|behind|by) (?:the|my|his|her|a|mo's|\w+'s) (?:(?:parts|tool|old|back of the) )?(?:van|corner|shelf|shelves|bench|stores?|bin|skip|floor|way|cupboard|rack|office|cabin|tool ?box|yard|car|head)\b(?! test| run| wheels?)|\bdown the road\b/i,
  unless:
    /\b(?:fitted|refitted|back (?:on|in)|on \d|in place|done|finished|off|out|drained|removed|unbolted|swept|clean(?:ed)?)\b/i,
};

export const examples: SignExamples = {
  yes: ['chocks are in the van', 'stands are in the corner'],
  no: ['chocks in', 'pump fitted in the yard'],
};
