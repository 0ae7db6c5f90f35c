// "hours booked against planned": hours on the job, for those the settings name.
import { labourTotal } from '../../../trade/labour.ts';
import { hoursCard } from '../../answers/hours.ts';
import { plannedMinutes } from '../../answers/open-jobs.ts';
import { figureKind, means } from '../figure-kind.ts';

export type HoursInputs = { readonly job: string };

const HOURS =
  /\b(?:(?:hours|time|labour) (?:booked|so far|spent|used|against|on (?:this|the|job|\d))|(?:how many|what) hours|booked (?:hours|time)|stunden (?:gebucht|auf)|gebuchte (?:stunden|zeit))\b/;
const OTHER = /\b(?:worked|did|from|between|left|until)\b/;

export const hoursBooked = figureKind<HoursInputs>({
  kind: 'hours-booked',
  means: 'hours booked on the job against hours planned',
  examples: [
    {
      type: 'how many hours are booked against planned',
      plan: 'injectors-six-cylinder',
      means: { job: '1042' },
    },
  ],
  read: (asked, { view }) => {
    const begins = /^(?:hours|labour)\b/.test(asked.plain);
    if (!view || !(asked.question || begins) || !HOURS.test(asked.plain)) return undefined;
    if (OTHER.test(asked.plain)) return undefined;
    const named = /\b(?:job|auftrag|on)\s*#?(\d{3,8})\b/.exec(asked.plain)?.[1];
    return named === undefined || named === view.job ? means({ job: view.job }) : undefined;
  },
  answer: ({ job }, { view, labour, mayHours = false }) => {
    if (!view) return { says: 'Ask in the thread of the job.' };
    if (!labour || !mayHours) return { says: hoursCard(view, mayHours).text };
    const total = labourTotal(labour, job, plannedMinutes(view));
    const own = labour.questions.filter((question) => question.job === job);
    return { says: [total.answer, ...own.map(({ asks }) => asks)].join(' ') };
  },
});
