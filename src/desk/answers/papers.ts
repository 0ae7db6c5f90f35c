// "Record", "claim": papers of the job, made of its events and sent to its thread.
import type { JobView } from '../../job/view.ts';
import type { Card } from '../card.ts';
import type { ClaimNow } from '../reports.ts';
import { progressOf } from './where.ts';

/** The record goes out as it stands: the floor makes the files before the card is posted. */
export const recordCard = (view: JobView): Card => {
  const { done, total } = progressOf(view);
  const stands =
    view.status === 'open'
      ? `The job is open, ${done} of ${total} steps are on record; ask again after closing for the whole.`
      : `The job is ${view.status}.`;
  const title = `Record of job ${view.job}, ${view.opened.vehicle.name}`;
  const says = `${stands} To print (PDF), for a spreadsheet (CSV), for other programs (JSON).`;
  return {
    title,
    text: `${title}. ${says}`,
    blocks: [{ kind: 'text', text: says }],
    wants: ['record-pdf', 'record-csv', 'record-json'],
  };
};

const lacksWords = (lacks: readonly string[], open: boolean): string =>
  lacks.length === 0
    ? 'Nothing is lacking.'
    : `Still lacking${open ? ', to be asked for before the vehicle leaves' : ''}:`;

/** The three paragraphs, what is lacking, and the folder to print. */
export const claimCard = (view: JobView, claim: ClaimNow): Card => {
  const title = `Claim folder of job ${view.job}, ${view.opened.vehicle.name}`;
  const paragraphs = [
    `Complaint. ${claim.complaint}`,
    `Cause. ${claim.cause}`,
    `Correction. ${claim.correction}`,
  ];
  const lacks = lacksWords(claim.lacks, view.status === 'open');
  return {
    title,
    text: [`${title}.`, lacks, ...claim.lacks.map((each) => `- ${each}`), ...paragraphs].join('\n'),
    blocks: [
      { kind: 'text', text: lacks },
      ...(claim.lacks.length > 0 ? [{ kind: 'list' as const, items: claim.lacks }] : []),
      ...paragraphs.map((text) => ({ kind: 'text' as const, text })),
    ],
    wants: ['claim-pdf'],
  };
};

/** At closing: what a claim would lack, while the vehicle is still here. Undefined where it lacks nothing. */
export const lacksAtClosing = (claim: Pick<ClaimNow, 'lacks'>): string | undefined => {
  if (claim.lacks.length === 0) return undefined;
  const shown = claim.lacks.slice(0, 3).join(' ');
  const left = claim.lacks.length - 3;
  return `Before it leaves, a claim folder would still lack: ${shown}${left > 0 ? ` And ${left} more: type "claim".` : ''}`;
};
