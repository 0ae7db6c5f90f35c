// "Drove it over the pit": the vehicle was moved.
import type { Way, WayExamples } from './way.ts';

export const droveItOver: Way = {
  name: 'drove-it-over',
  words:
    /\b(?:drove|reversed|shunted) (?:it|her|him|the (?:bus|truck|coach|lorry)) (?:over|across|outside|forwards?|back over)\b/i,
  titles: [/^move the (?:bus|truck|coach|lorry|vehicle|wheels)\b/i, /^move the\b/i],
};

export const examples: WayExamples = {
  yes: ['drove it over the pit', 'reversed it outside'],
  no: ['drove home'],
};
