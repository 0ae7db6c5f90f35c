// "Fired it up": the engine was started.
import type { Way, WayExamples } from './way.ts';

export const startedItUp: Way = {
  name: 'started-it-up',
  words: /\b(?:fired|started) (?:it|her|him|the engine|the old girl) up\b/i,
  titles: [/^start the engine\b/i],
};

export const examples: WayExamples = {
  yes: ['fired it up', 'started her up'],
  no: ['fired up about the match'],
};
