// "Foot on the pedal": the brake pedal was pressed.
import type { Way, WayExamples } from './way.ts';

export const footOnThePedal: Way = {
  name: 'foot-on-the-pedal',
  words:
    /\b(?:pumped|pushed|pressed|tapped|dabbed|touched|stamped on|trod on|stood on) the (?:brake )?pedal\b|\bfoot on the (?:brake )?pedal\b/i,
  titles: [/^press the brake pedal\b/i],
};

export const examples: WayExamples = {
  yes: ['pumped the pedal', 'foot on the pedal'],
  no: ['pedal box greased'],
};
