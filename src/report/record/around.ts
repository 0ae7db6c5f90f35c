// What stands around the work: messages, photos, handovers, people, sign-off.
import type { JobRecord, RecordPhoto } from '../../../shared/record.ts';
import { eventsOf, type Sources } from './sources.ts';

/** What was posted, in order. A deleted message keeps its place without its words. */
export const recordMessages = (sources: Sources): JobRecord['messages'] => {
  const deleted = new Set(eventsOf(sources, 'message-deleted').map(({ message }) => message));
  return eventsOf(sources, 'message-posted').map((posted) => {
    const edits = eventsOf(sources, 'message-edited').filter(
      ({ message }) => message === posted.message,
    );
    const text = edits.length > 0 ? (edits.at(-1)?.text ?? null) : posted.text;
    return {
      message: posted.message,
      at: posted.at,
      by: posted.by,
      text: deleted.has(posted.message) ? null : text,
      edited: edits.length,
      deleted: deleted.has(posted.message),
    };
  });
};

export const recordPhotos = (sources: Sources): readonly RecordPhoto[] =>
  eventsOf(sources, 'photo-kept').map(({ at, by, name, type, bytes, sha256, message }) => ({
    at,
    by,
    name,
    type,
    bytes,
    sha256,
    message,
    shows: shownBy(sources, message, by, at),
  }));

/** A photo without words belongs to what the same person reported last: a phone often sends the picture after the text. */
const shownBy = (sources: Sources, message: string, by: string, at: string): string[] => {
  const { reports } = sources.view;
  const own = reports.some((report) => report.message === message)
    ? message
    : reports.findLast(
        ({ reporter, posted }) => reporter === by && Date.parse(posted) <= Date.parse(at),
      )?.message;
  const steps = reports
    .filter((report) => report.message === own)
    .flatMap(({ act }) => (act.step === undefined ? [] : [sources.titleOf(act.step)]));
  return [...new Set(steps)];
};

export const recordHandovers = (sources: Sources): JobRecord['handovers'] =>
  eventsOf(sources, 'handed-over').map(({ at, by, to, says }) => ({
    at,
    by,
    to: to ?? null,
    says,
  }));

export const recordNudges = (sources: Sources): NonNullable<JobRecord['nudges']> =>
  eventsOf(sources, 'wait-nudged').map(({ at, to, says }) => ({ at, to, says }));

/** Independent checks that count: steps with a `check` that are done. */
const checksOf = (sources: Sources): JobRecord['signOff']['checks'] =>
  sources.view.steps.flatMap(({ step, position, state, at, by }) => {
    const asked = sources.view.plan.stepById.get(step)?.check;
    if (!asked || state !== 'done' || at === null || by === null) return [];
    return [{ step, title: sources.titleOf(step), position, at, by }];
  });

export const recordSignOff = (sources: Sources): JobRecord['signOff'] => {
  const { status } = sources.view;
  const closed = eventsOf(sources, 'job-closed').at(-1);
  const cancelled = eventsOf(sources, 'job-cancelled').at(-1);
  const road = eventsOf(sources, 'road-released').at(-1);
  return {
    checks: checksOf(sources),
    closed: closed && status === 'closed' ? { at: closed.at, by: closed.by } : null,
    roadRelease: road ? { at: road.at, by: road.by, role: road.role ?? null } : null,
    reopened: eventsOf(sources, 'job-reopened').map(({ at, by, reason }) => ({ at, by, reason })),
    cancelled:
      cancelled && status === 'cancelled'
        ? { at: cancelled.at, by: cancelled.by, reason: cancelled.reason }
        : null,
  };
};

/** Everybody named, with what they did, in the order in which they first appear. */
export const recordPeople = (sources: Sources): JobRecord['people'] => {
  const did = new Map<string, Set<string>>();
  const add = (name: string | undefined, what: string): void => {
    if (name !== undefined && name !== 'chargehand')
      did.set(name, (did.get(name) ?? new Set<string>()).add(what));
  };
  const { view } = sources;
  add(view.technician, 'technician on the job');
  add(view.controller, 'controller on the job');
  for (const event of sources.events) if (DEEDS[event.kind]) add(event.by, DEEDS[event.kind] ?? '');
  for (const { worker, reporter } of view.reports) {
    add(worker, 'work');
    if (reporter !== worker) add(reporter, `reported work of ${worker}`);
  }
  for (const { by } of checksOf(sources)) add(by, 'independent check');
  return [...did].map(([name, what]) => ({ name, did: [...what] }));
};

const DEEDS: Readonly<Partial<Record<Sources['events'][number]['kind'], string>>> = {
  'job-opened': 'opened the job',
  'message-posted': 'posted',
  'hold-released': 'released a hold point',
  'hold-refused': 'refused a hold point',
  'flag-overridden': 'overrode a flag',
  'flag-acknowledged': 'acknowledged a stop',
  'finding-settled': 'decided a finding',
  'handed-over': 'handed over',
  'road-released': 'released it to the road',
  'job-closed': 'closed the job',
  'job-reopened': 'opened it again',
  'job-cancelled': 'cancelled the job',
};

/** What the hash at the end of a record says, and what it does not. */
export const chainWords = (job: string, events: number, end: string | null): string =>
  end === null
    ? 'The end of the chain of hashes was not handed over with these events, so nothing ties this record to the stored job.'
    : [
        `This record was made from the first ${events} events of job ${job}. Each event is stored with a SHA-256 hash over itself and the hash before it; the last one is printed here.`,
        `"npx chargehand verify ${job}" follows the chain in the workshop's data folder and prints its end: this hash, as long as nothing was added; after that, event ${events} still carries it. Then none of these ${events} events was changed, left out, added or put in another order since this record was made.`,
        'Words and names removed on request leave the chain whole. It does not prove that what was posted is true, nor who held the telephone.',
      ].join(' ');
