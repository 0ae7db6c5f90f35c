// Every threshold of reading, in one place, with the figures behind it.
// Scores lie between 0 and 1. They were set on the seen part of the corpus: the lowest value at which no
// safety-critical step was recorded that the message did not say, then raised by a margin of 0.05.
import type { Weight } from '../../shared/plan.ts';

/** At least this score to record a step, by its weight: the graver the step, the more certain the words must be. */
export const ACCEPT: Readonly<Record<Weight, number>> = {
  'safety-critical': 0.56,
  'damage-critical': 0.54,
  routine: 0.5,
};

/** At least this lead over the second-best step. */
export const LEAD: Readonly<Record<Weight, number>> = {
  'safety-critical': 0.08,
  'damage-critical': 0.06,
  routine: 0.05,
};

/** Below this nothing is asked: the words are not about the plan. Chat lines seldom pass it. */
export const ASK_FROM = 0.46;

/** At most so many buttons on a question. */
export const CANDIDATES = 3;

/** A figure may miss the plan's range by this factor and still be taken for the figure the step asks. */
export const PLAUSIBLE = 2.5;

/** Words with at least so many letters may be mended by one edit; shorter ones are too near to one another. */
export const MEND_FROM = 4;

/** So many unknown words of one message are tried for mending; then the rest stay as they are. */
export const MEND_AT_MOST = 150;

/** A long text is read in pieces of at most so many tokens. */
export const PIECE_TOKENS = 160;

/** At most so many acts from one message: more is a pasted document, not a report. */
export const ACTS_AT_MOST = 40;

/** A time said may lie so many minutes after the posting and still mean today (clocks differ). */
export const CLOCK_SLACK_MINUTES = 10;

/** So many words that neither the language nor the plan knows are let pass in a message; */
export const STRANGE_FREE = 2;

/** beyond them, so many for each word of the plan: more, and the message is about something else. */
export const STRANGE_SHARE = 1;

/**
 * So much strangeness of a message, two for each word that was mended and one for each that is unknown, and a
 * safety-critical step is asked about rather than taken.
 */
export const SLIPS_TO_ASK = 3;

/** At most so many strange words of a message are held against the words that would turn its report. */
export const STRANGERS_TRIED = 12;

/** So many words that nobody knows may stand beside a figure that names its step alone, by the weight of the step. */
export const STRANGERS_BY_FIGURE: Readonly<Record<Weight, number>> = {
  'safety-critical': 0,
  'damage-critical': 1,
  routine: 1,
};

/** With more words beside it than these a figure alone names no step: "28.2 volts" does, a sentence must name it. */
export const WORDS_BY_FIGURE = 8;

/** A word for a part has so much of a value or more, and the part is named: lent and half-said ones have less. */
export const NAMES_PART = 0.9;

/** With so much of it a part may be the one that is meant, though the words say less than its name. */
export const MAY_NAME_PART = 0.6;

/** With so much of it something of the plan is touched on at all. */
export const TOUCHES_PART = 0.35;

/** A longer word is none of any language: it is not looked up, cut or kept. */
export const LONGEST_WORD = 40;
