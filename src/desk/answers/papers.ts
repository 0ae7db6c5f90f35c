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

const MOST_AT_CLOSING = 3;

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

/** At closing: what only a claim would lack, while the vehicle is still here. Undefined where it lacks nothing. */
export const lacksAtClosing = (lacks: readonly string[]): string | undefined => {
  if (lacks.length === 0) return undefined;
  const shown = lacks.slice(0, MOST_AT_CLOSING).join(' ');
  const left = lacks.length - MOST_AT_CLOSING;
  return `Before it leaves, for a claim: ${shown}${left > 0 ? ` And ${left} more: type "claim".` : ''}`;
};
