// What became of a filled opening form: the job's number once it is open, or the form again with what is wrong.
import type { Card } from '../../../desk/card.ts';
import { formMarkup } from '../draw/form.ts';
import type { BenchParts } from './bench-parts.ts';

/** How long the page is kept waiting: the answer stands in the yard as well, so nothing is lost after it. */
const LONGEST_MS = 4_000;

/**
 * Begins to listen at once, so call it before the form is handed in. A refusal that comes in time is shown on the page
 * that sent the form, and nowhere else; a later one stands in the yard.
 * @param delivery the id under which the form is handed in
 * @returns nothing where neither came in time
 */
export const openingOutcome = (
  { answeredOnPage, conversation, options }: BenchParts,
  delivery: string,
  number: unknown,
): Promise<{ readonly opened?: string; readonly form?: string; readonly what?: string }> =>
  new Promise((resolve) => {
    const done = (outcome: Parameters<typeof resolve>[0]) => {
      answeredOnPage.delete(delivery);
      stopJobs();
      stopEntries();
      clearTimeout(limit);
      resolve(outcome);
    };
    const shown = (card: Card): void => {
      const action = card.actions?.find(({ intent, form }) => intent.do === 'open-job' && form);
      const form =
        action?.form === undefined
          ? {}
          : { form: formMarkup(action.form, action.intent, undefined, true).markup };
      done({ ...form, what: card.text });
    };
    answeredOnPage.set(delivery, shown);
    // Where another process posts, its answer stands in the yard, and here too.
    const stopEntries = conversation.onEntry(({ entry }) => {
      if (entry?.card !== undefined && entry.key?.endsWith(`|reply:${delivery}`)) shown(entry.card);
    });
    const stopJobs = options.view.onChange((job) => {
      if (typeof number === 'string' && job === number.trim()) done({ opened: job });
    });
    const limit = setTimeout(() => done({}), LONGEST_MS);
  });
