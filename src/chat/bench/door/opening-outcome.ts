// What became of a filled opening form: the job's number once it is open, or the form again with what is wrong.

import { formMarkup } from '../draw/form.ts';
import type { Entry } from '../talk/entry.ts';
import type { BenchParts } from './bench-parts.ts';

/** How long the page is kept waiting: the answer stands in the yard as well, so nothing is lost after it. */
const LONGEST_MS = 4_000;

/** The opening form in an answer to this person, where the job was not opened. */
const formAgain = (entry: Entry, who: string) =>
  entry.only === undefined || entry.only === who
    ? entry.card?.actions?.find(({ intent, form }) => intent.do === 'open-job' && form)
    : undefined;

/**
 * Begins to listen at once, so call it before the form is handed in.
 * @returns nothing where neither came in time
 */
export const openingOutcome = (
  { conversation, options }: BenchParts,
  who: string,
  number: unknown,
): Promise<{ readonly opened?: string; readonly form?: string; readonly what?: string }> =>
  new Promise((resolve) => {
    const done = (outcome: Parameters<typeof resolve>[0]) => {
      stopEntries();
      stopJobs();
      clearTimeout(limit);
      resolve(outcome);
    };
    const stopEntries = conversation.onEntry(({ entry }) => {
      const action = formAgain(entry, who);
      if (action?.form !== undefined)
        done({
          form: formMarkup(action.form, action.intent, undefined, true).markup,
          what: entry.card?.text ?? '',
        });
    });
    const stopJobs = options.view.onChange((job) => {
      if (typeof number === 'string' && job === number.trim()) done({ opened: job });
    });
    const limit = setTimeout(() => done({}), LONGEST_MS);
  });
