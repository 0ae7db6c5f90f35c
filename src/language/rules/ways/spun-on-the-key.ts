// "Spun it over on the key": the engine was turned on the starter.
import type { Way, WayExamples } from './way.ts';

export const spunOnTheKey: Way = {
  name: 'spun-on-the-key',
  words:
    /\b(?:spun|turned|cranked) (?:it|her|him|the engine|the motor) (?:over )?(?:on|with) the (?:key|starter)\b|\b(?:cranked|spun) (?:it|her|him|the engine) over\b/i,
  unless: /\bby hand\b|\bbar(?:ring|red)?\b|\bwith a\b/i,
  titles: [/^(?:turn|crank|spin) the engine\b/i],
};

export const examples: WayExamples = {
  yes: ['spun it over on the key', 'cranked the engine over'],
  no: ['turned it over by hand'],
};
