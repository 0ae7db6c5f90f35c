// "When did we last do the pump on bus 17": earlier jobs on the vehicle, what they were and what they found.
import type { JobView } from '../../job/view.ts';
import { isWork } from '../asking/asked.ts';
import type { Card } from '../card.ts';
import { clockDate, list } from '../say.ts';

/** A job that is over, with when it was closed or cancelled. */
export type PastJob = { readonly view: JobView; readonly closedAt: string };

const MOST = 5;

/** What a job found: findings with what was decided, and figures that were put right by override. */
export const foundBy = (view: Pick<JobView, 'findings'>): readonly string[] =>
  view.findings.map(({ says, state }) => {
    const bare = says
      .replace(/\s+/gu, ' ')
      .replace(/[.\s]+$/u, '')
      .replace(/^(?:#\S+\s+)?(?:(?:i|we)\s+)?(?:(?:found|saw|noticed)\s+)?/iu, '');
    return state === 'open' ? bare : `${bare} (${state})`;
  });

const readingOf = (view: JobView): string => {
  const said = view.opened.reading;
  return said ? ` at ${said.value.toLocaleString('en-GB')} ${said.unit}` : '';
};

const lineOf = ({ view, closedAt }: PastJob, zone: string): string => {
  const found = foundBy(view);
  const parts = [
    `Job ${view.job}, ${view.plan.title}${readingOf(view)}`,
    `${view.status === 'cancelled' ? 'cancelled' : 'closed'} ${clockDate(closedAt, zone)}${view.technician ? ` by ${view.technician}` : ''}`,
    found.length > 0 ? `found: ${list(found, 3)}` : 'nothing found beside the work',
    ...(view.opened.complaint ? [`it was in for: ${view.opened.complaint}`] : []),
  ];
  return `${parts.join(' · ')}.`;
};

/** Whether a past job did the work named: its plan, or a step of it that is done. */
const didWork = (view: JobView, work: string): boolean =>
  isWork({ plan: view.plan.plan, title: view.plan.title }, work) ||
  view.plan.steps.some(
    ({ id, title }) =>
      isWork({ plan: id, title }, work) &&
      view.steps.some(({ step, state }) => step === id && state === 'done'),
  );

export type HistoryAsked = {
  readonly vehicle?: string;
  readonly work?: string;
  readonly lastOnly: boolean;
};

/**
 * @param past jobs on the vehicle that are over, newest first
 * @param open jobs on it that are open
 * @param known of how many earlier jobs `past` holds the newest
 */
export const historyCard = (
  asked: HistoryAsked,
  past: readonly PastJob[],
  open: readonly JobView[],
  known: number,
  zone: string,
): Card => {
  const vehicle =
    past[0]?.view.opened.vehicle.name ?? open[0]?.opened.vehicle.name ?? asked.vehicle;
  const { work } = asked;
  const fitting = past.filter(
    ({ view }) => view.status === 'closed' && (work === undefined || didWork(view, work)),
  );
  const shown = asked.lastOnly ? fitting.slice(0, 1) : past.slice(0, MOST);
  const title = `History of ${vehicle ?? 'the vehicle'}`;
  const now = open.map((view) => `Open now: job ${view.job}, ${view.plan.title}.`);
  if (shown.length === 0) {
    const none = work
      ? `No closed job on ${vehicle} did "${work}"`
      : `No earlier job on ${vehicle}`;
    const others =
      work && past.length > 0
        ? ` Other work on it: ${list(
            past.map(({ view, closedAt }) => `${view.plan.title} (${clockDate(closedAt, zone)})`),
            3,
          )}.`
        : '';
    const says = [`${none} is on record.${others}`, ...now].join(' ');
    return { title, text: says, blocks: [{ kind: 'text', text: says }] };
  }
  const lines = [...shown.map((job) => lineOf(job, zone)), ...now];
  const all = asked.lastOnly ? fitting.length : Math.max(known, past.length);
  const left = all - shown.length;
  if (left > 0)
    lines.push(
      asked.lastOnly
        ? `${left} before ${left === 1 ? 'it' : 'that'}: ask "history of ${vehicle}".`
        : `and ${left} earlier.`,
    );
  return {
    title,
    text: `${title}. ${lines.join('\n')}`,
    blocks: [{ kind: 'list', items: lines }],
  };
};
