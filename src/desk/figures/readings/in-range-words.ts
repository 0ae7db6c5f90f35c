// "is … ok", "… in range?", "… too much?": somebody asks whether a figure may stand.
import type { Asked } from '../asking/asked.ts';

const RANGE =
  /\b(?:ok|okay|alright|good|fine|acceptable|allowed|enough|within|in (?:range|limits?|spec|tolerance|tol)|out of (?:range|limits?|spec|tolerance)|(?:right|correct) for|too (?:much|little|high|low|tight|wide|loose|big|small|far)|(?:zu (?:viel|wenig|hoch|niedrig|eng|weit))|in ordnung|erlaubt|reicht|passt|zulässig|i\.o)\b/;
/** A question that begins so may ask about a figure; "what is ok" does not. */
const BEGINS = /^(?:is|are|was|would|will|does|do|can|ist|sind|wäre|reicht|passt|darf)\b/;

/** The word that asks stands right before the mark, and what comes behind it is short. */
const ENDS = new RegExp(`${RANGE.source}(?: (?:for|für) [^?.!]{1,30})?\\s*\\?.{0,40}$`);

/** Whether the words ask if a figure is in range. */
export function asksWhetherInRange(asked: Asked): boolean {
  if (!asked.question || asked.figures.length === 0) return false;
  if (!RANGE.test(asked.plain)) return false;
  if (BEGINS.test(asked.plain)) return true;
  // "0.05 end play ok?": the figure and then the question, and no report.
  return ENDS.test(asked.raw.toLowerCase()) && !asked.reports;
}
