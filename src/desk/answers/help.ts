// "Help": what can be typed, in a few lines.
import type { Card } from '../card.ts';

const LINES = [
  'Say what you did, in your own words: "drained 28 L", "cyl 3 code entered ABC123", "torque stage 2 done", "5 of 6 clips back on".',
  'Put it right: "26 not 28", "meant cyl 5", "scrap that".',
  'Ask: "what\'s next", "where are we", "what torque for stage 2", "is the battery isolated", "can I start the engine", "what did you read", "handover".',
  'Your hours: "start" and "stop" in the job\'s thread, or "on it from 7 to 9:30", or "2.5 h on 1042". Ask "my hours this week".',
  'Ask about the workshop: "open jobs", "what\'s late", "what\'s waiting for parts", "Nell\'s jobs", "injector jobs", "anything on bus 417", "hours on 1042", "how did last week go", "last job on bus 17", "shift note".',
  'See more: "when will it be ready", "timeline" and "hours ahead" as pictures, "record" as PDF, "claim" for what a claim lacks.',
  'Held up: "waiting for the seals, asked stores", and "parts are in" once it goes on.',
  'Ask for a figure: "300 nm with 100 mm extension on a 400 arm", "40 l at 30 percent to 50", "which valves with 1 at tdc", "spn 653 fmi 5".',
  'Wrong job: "that was for 1043". Next shift: "taking over". Done: "close job at 412350 km".',
  'A controller: "release <hold point>", "override <step> because …", "approve", "give it to Mo", "promised friday 14:00", "release to the road", "cancel job because …", "reopen job because …".',
  'A new job: "open job" brings the form, or say it: "open job 1042 bus 17 injectors cyl 1-6 412350 km".',
];

export const helpCard = (): Card => ({
  title: 'What you can type',
  text: `What you can type. ${LINES.join(' ')}`,
  blocks: [{ kind: 'list', items: LINES }],
});
