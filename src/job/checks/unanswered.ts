// Means: a question about a report has been open for 30 working minutes.
// Why it matters: until it is answered the record is not sure, and what rests on it may be wrong.
// What to do: answer it in the thread, or ask the one who posted.
// When it may be left: when the report is taken back or posted anew; the question is then over by itself.
import { openQuestions } from '../state/questions.ts';
import { clock } from '../words.ts';
import type { Check, Raised } from './check.ts';

/** Working minutes; our own value, no source. */
const PATIENCE = 30;

export const unanswered: Check = {
  rule: 'unanswered',
  run: (job, { wants }) => {
    const between =
      job.around.workingMinutes ??
      ((from: string, to: string) => (Date.parse(to) - Date.parse(from)) / 60_000);
    const record = new Map(job.log.map((one) => [one.message, one]));
    return openQuestions(job, wants).flatMap(
      ({ question, message, asks, askedAt, state, settledBy }): Raised[] => {
        const answer = job.answers.get(question);
        const until = answer === undefined ? job.nowIso : new Date(answer.at).toISOString();
        if (state === 'lapsed' || between(askedAt, until) < PATIENCE) return [];
        const by = record.get(message)?.by;
        return [
          {
            step: null,
            position: null,
            part: question,
            level: 'caution' as const,
            says: `Unanswered: ${asks} Job ${job.opened.job}, asked at ${clock(askedAt)}. Answer it in the thread${by === undefined ? '' : `, or ask ${by}`}.`,
            raisedBy: [message],
            coveredFrom: Date.parse(askedAt),
            ...(settledBy !== undefined && {
              cleared: { by: [settledBy], how: 'settled' as const },
            }),
          },
        ];
      },
    );
  },
};
