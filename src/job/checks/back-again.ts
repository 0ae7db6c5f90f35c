// Means: the same vehicle is back for the same work soon after a job for it was closed.
// Why it matters: the fault was not found, the repair did not hold, or a part was faulty.
// What to do: look at the record of the earlier job before beginning.
// When it may be left: when the work is due again by its nature.
import { listed } from '../words.ts';
import type { Check } from './check.ts';

const DAY = 86_400_000;
/** Days after closing within which a vehicle counts as back; our own value, no source, the settings may change it. */
const USUAL_DAYS = 30;

/** What the last one found, as a sentence of its own; empty where nothing is known of it. */
const foundWords = (found: readonly string[] | undefined): string =>
  found === undefined
    ? ''
    : found.length === 0
      ? ' It found nothing beside the work.'
      : ` It found: ${listed(found)}.`;

export const backAgain: Check = {
  rule: 'back-again',
  run: (job) => {
    const { opened, around, plan } = job;
    const from = Date.parse(opened.at);
    const days = around.backAgainDays ?? USUAL_DAYS;
    const earlier = (around.earlier ?? []).find((one) => {
      const since = from - Date.parse(one.closedAt);
      return one.plan === plan.plan && since >= 0 && since <= days * DAY;
    });
    if (earlier === undefined) return [];
    return [
      {
        step: null,
        position: null,
        part: null,
        level: 'caution' as const,
        says: `Back again: ${opened.vehicle.name}. Job ${earlier.job} was the same work (${plan.title}), closed on ${earlier.closedAt.slice(0, 10)}. Job ${opened.job}.${foundWords(earlier.found)} Look at the record of job ${earlier.job} before beginning.`,
        raisedBy: [opened.id],
        coveredFrom: from,
      },
    ];
  },
};
