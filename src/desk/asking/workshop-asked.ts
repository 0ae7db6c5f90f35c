// Whether a message asks about the workshop as a whole, and what: the whole message, or nothing.
import type { Asked, AskedKnown } from './asked.ts';
import { plainAsked } from './asked.ts';
import { jobsAsked } from './jobs-asked.ts';
import { historyAsked, hoursAsked, noteAsked, weekAsked } from './past-asked.ts';

/** @returns undefined where the message is no such question; words inside a report never are one */
export const workshopAsked = (text: string, known: AskedKnown): Asked | undefined => {
  const plain = plainAsked(text);
  if (!plain) return undefined;
  return (
    noteAsked(plain, known) ??
    weekAsked(plain) ??
    historyAsked(plain, known) ??
    hoursAsked(plain, known) ??
    jobsAsked(plain, known)
  );
};
