// "Waiting on the big puller, Jorn has it", "parts arrived": the work stands still, or goes on again, in words that name
// no step of the plan. The language reads what names one.
import type { Act } from '../../../shared/reading.ts';
import { askedIn, waitKind } from '../waits.ts';

const STANDS =
  /^(?:(?:still|i'm|i am|we're|we are|job|this one|it's|is|all)\s+)*(?:(?:waiting|wait)\s+(?:for|on)\s+\S|(?:held up|stuck|stopped|blocked)\s+(?:by|for|until|till|waiting|on|without|with)\s*\S|(?:can(?:'t|not)|cant)\s+(?:go on|carry on|continue|start|do any more)\s+(?:until|till|without|because|with)\s+\S|need\s+(?:the\s+|a\s+)?\S)/iu;
/** Waiting that is part of the work. */
const PART_OF_WORK =
  /\b(?:to\s+(?:cool|warm|cure|set|dry|drain|drip|settle|bleed|fill|build|charge|heat)|cool(?:ing)?\s+down|dinner|lunch|tea|brew|home time|match|weekend)\b/iu;
const GOES_ON =
  /^(?:ok\s+|right\s+)?(?:(?:the\s+)?(?:parts?|delivery|bits|stuff)\s+(?:are|is|have|has|'ve)?\s*(?:in|here|arrived|come|came|turned up|there|delivered)(?:\s+now)?|(?:got|have)\s+(?:the\s+)?parts?(?:\s+now)?|(?:the\s+)?(?:bay|pit|ramp|lift)(?:\s+\w+)?\s+(?:is\s+)?(?:free|clear|empty)(?:\s+(?:now|again))?|(?:carrying|cracking|getting)\s+on(?:\s+(?:with it|again|now))?|going again|back to it|(?:got|have)\s+(?:the\s+)?(?:puller|wrench|tool|jack|press|tester|laptop)(?:\s+(?:now|back))?|(?:approval|go-ahead)\s+(?:is\s+)?(?:in|here|given|got)|got\s+(?:the\s+)?(?:approval|go-ahead))(?:[,;.]\s.*)?$/iu;

const whole = (kind: 'blocked' | 'resumed', text: string): Act => ({
  kind,
  positions: [],
  ...(kind === 'blocked' ? { note: text.replace(/\s+/gu, ' ').trim() } : {}),
  assumed: [],
  span: [0, text.length],
});

/** The two ways of waiting that name parts only, taken for the absence of a part by other rules. */
const isSideRemark = (act: Act): boolean => act.kind === 'not-done';

/**
 * Adds that the work stands still, or goes on, to what was read of a message; the same acts where it says neither.
 * @param people names of the workshop, to see who was asked
 * @param blocked what the job waits for now, in the words it was said
 */
export const withWaiting = (
  acts: readonly Act[],
  text: string,
  people: readonly string[],
  blocked: readonly string[] = [],
): readonly Act[] => {
  const plain = text.replace(/[’`]/gu, "'").replace(/\s+/gu, ' ').trim();
  if (plain.length > 160 || plain.includes('?')) return acts;
  // What was waited for has come: "seals are in" is then no report of their fitting.
  if (arrived(plain, blocked)) return [whole('resumed', text)];
  if (acts.some(({ kind }) => kind === 'blocked' || kind === 'resumed' || kind === 'command'))
    return acts;
  if (STANDS.test(plain) && !PART_OF_WORK.test(plain)) {
    const known = waitKind(plain) !== 'other' || askedIn(plain, people) !== undefined;
    // "Need a tea" and "waiting for the match" stop nothing.
    if (/^need\b/iu.test(plain) ? !taken(plain) : !known) return acts;
    const kept = acts.filter((act) => !isSideRemark(act));
    return kept.length > 0 ? acts : [whole('blocked', text)];
  }
  // "Carrying on" means something only where something stood still.
  return acts.length === 0 && blocked.length > 0 && GOES_ON.test(plain)
    ? [whole('resumed', text)]
    : acts;
};

const ARRIVED =
  /^(?:ok\s+|right\s+)?(?:(?:the|our|new)\s+)*(?<what>[\p{L}][\p{L} -]{1,30}?)\s+(?:(?:is|are|have|has)\s+)?(?:just\s+)?(?:in|here|arrived|come|came|turned up|delivered)(?:\s+(?:now|at last|finally))?(?:\s*[,;.]\s*.*)?$/iu;

/** Whether something comes that one of the open waits names. */
const arrived = (plain: string, blocked: readonly string[]): boolean => {
  const what = ARRIVED.exec(plain)?.groups?.what;
  if (what === undefined) return false;
  const last = (what.split(' ').at(-1) ?? '').toLowerCase().replace(/s$/u, '');
  return (
    last.length > 2 && blocked.some((words) => new RegExp(`\\b${last}s?\\b`, 'iu').test(words))
  );
};

/** "Need bay 3, it's taken": what is needed is not to be had. */
const taken = (plain: string): boolean =>
  waitKind(plain) !== 'other' &&
  /\b(?:taken|busy|in use|occupied|not free|has it|have it|is on it|is in it|using it|not here|gone|away|broken|none left|out of stock)\b/iu.test(
    plain,
  );
