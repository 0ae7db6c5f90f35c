// Means: the job was to be closed, or was closed, with something open.
// Why it matters: a closed job is what everybody later relies on; what is open in it will not be looked at again.
// What to do: see to what is listed, then close the job.
// When it may be left: never by a word; a step that is not needed is released by the controller with a reason.

import type { Level } from '../../../shared/plan.ts';
import { LEVELS } from '../../../shared/plan.ts';
import { closeNeeds } from '../state/close-needs.ts';
import type { Job } from '../state/job.ts';
import { where } from '../words.ts';
import { type Check, levelOf } from './check.ts';

const MOST = 12;

export const earlyClose: Check = {
  rule: 'early-close',
  run: (job, { flags, needsAt }) => {
    const attempt = lastAttempt(job);
    if (attempt === undefined) return [];
    const now = closeNeeds(job, flags);
    const needs = now.length > 0 ? now : needsAt(attempt.at);
    if (needs.length === 0) return [];
    const shown = needs.slice(0, MOST);
    const more = needs.length > MOST ? ` And ${needs.length - MOST} more.` : '';
    const level = job.graph.nodes
      .filter(({ id, onJob }) => onJob && !job.done.isDone(id))
      .map(({ step }) => levelOf(job, 'early-close', step))
      .concat(job.states.all.some(({ until }) => until === undefined) ? ['stop'] : [])
      .reduce<Level>((so, one) => (LEVELS.indexOf(one) < LEVELS.indexOf(so) ? one : so), 'advice');
    const last = job.posting.at(-1)?.report.message;
    return [
      {
        step: null,
        position: null,
        part: null,
        level,
        says: `Not closed: something is open. ${shown.join(' ')}${more} ${where(job, null, attempt.iso)} See to these, then close the job.`,
        raisedBy: [attempt.id],
        coveredFrom: attempt.at,
        override: 'never' as const,
        ...(now.length === 0 && {
          cleared: { by: [last ?? attempt.id], how: 'settled' as const },
        }),
      },
    ];
  },
};

type Attempt = { readonly id: string; readonly at: number; readonly iso: string };

/** The last time the job was to be closed, since it was last opened again. */
function lastAttempt(job: Job): Attempt | undefined {
  const attempts: Attempt[] = job.others
    .filter(({ act }) => act.kind === 'command' && act.command === 'close-job')
    .map(({ record, posted, postedIso }) => ({ id: record.message, at: posted, iso: postedIso }));
  let reopened = -Infinity;
  for (const { event, at } of job.events) {
    if (event.kind === 'job-closed') attempts.push({ id: event.id, at, iso: event.at });
    if (event.kind === 'job-reopened') reopened = at;
  }
  return attempts
    .filter(({ at }) => at > reopened)
    .sort((a, b) => a.at - b.at)
    .at(-1);
}
