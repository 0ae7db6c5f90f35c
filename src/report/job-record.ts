// The record of a job, from its events alone. The same events give the same record, whatever the order they come in.
import type { JobEvent } from '../../shared/event.ts';
import { type JobRecord, RECORD_VERSION } from '../../shared/record.ts';
import { plannedMinutes } from '../desk/answers/open-jobs.ts';
import type { JobView } from '../job/view.ts';
import {
  chainWords,
  recordHandovers,
  recordMessages,
  recordNudges,
  recordPeople,
  recordPhotos,
  recordSignOff,
} from './record/around.ts';
import { recordCodes, recordTrouble } from './record/codes.ts';
import {
  recordFindings,
  recordFlags,
  recordHolds,
  recordOverrides,
  recordQuestions,
} from './record/decisions.ts';
import { recordClearances, recordFluids, recordParts } from './record/measures.ts';
import { eventsOf, type Sources, sourcesOf } from './record/sources.ts';
import { recordFigures, recordReports, recordSteps } from './record/steps.ts';
import { recordTightening } from './record/tightening.ts';

export type RecordOptions = {
  /** Hash of the last stored event, 64 hexadecimal digits; null where it is not known. */
  readonly chainEnd: string | null;
  /** IANA time zone of the workshop. */
  readonly zone: string;
  /** ISO 8601 with offset: when the record is made. */
  readonly now: string;
  /** Whether booked minutes may be shown; see `hours` in the settings. Left out: they may not. */
  readonly hours?: boolean;
};

/**
 * @param view the job as `check` derives it from the same events
 * @param events all stored events of the job
 */
export const jobRecord = (
  view: JobView,
  events: readonly JobEvent[],
  { chainEnd, zone, now, hours }: RecordOptions,
): JobRecord => {
  const sources = sourcesOf(view, events);
  const count = sources.events.length;
  return {
    version: RECORD_VERSION,
    madeAt: now,
    zone,
    job: jobOf(sources),
    plan: planOf(sources),
    people: recordPeople(sources),
    steps: [...recordSteps(sources)],
    figures: [...recordFigures(sources)],
    tightening: [...recordTightening(sources)],
    codes: [...recordCodes(sources)],
    fluids: [...recordFluids(sources)],
    clearances: [...recordClearances(sources)],
    troubleCodes: recordTrouble(sources),
    parts: recordParts(sources),
    photos: [...recordPhotos(sources)],
    flags: [...recordFlags(sources)],
    overrides: recordOverrides(sources),
    holds: recordHolds(sources),
    questions: recordQuestions(sources),
    findings: recordFindings(sources),
    waits: view.blocked.map(({ message, says, by, since }) => ({ message, says, by, since })),
    handovers: recordHandovers(sources),
    nudges: recordNudges(sources),
    reports: [...recordReports(sources)],
    messages: recordMessages(sources),
    ...(hours
      ? { minutes: { booked: round(view.minutesBooked), planned: round(plannedMinutes(view)) } }
      : {}),
    signOff: recordSignOff(sources),
    stillNeeded: view.status === 'open' ? [...view.closeNeeds] : [],
    chain: { events: count, end: chainEnd, proves: chainWords(view.job, count, chainEnd) },
  };
};

/** Tenths of a minute. */
const round = (minutes: number): number => Math.round(minutes * 10) / 10;

const jobOf = (sources: Sources): JobRecord['job'] => {
  const { view } = sources;
  const { opened } = view;
  const closed = eventsOf(sources, 'job-closed').at(-1);
  return {
    number: view.job,
    status: view.status,
    vehicle: { name: opened.vehicle.name, vin: opened.vehicle.vin ?? null },
    complaint: opened.complaint ?? null,
    openedAt: opened.at,
    openedBy: opened.by,
    promised: view.promised ?? null,
    technician: view.technician ?? null,
    controller: view.controller ?? null,
    readings: [
      ...(opened.reading ? [{ when: 'opened' as const, ...opened.reading }] : []),
      ...(closed?.reading ? [{ when: 'closed' as const, ...closed.reading }] : []),
    ],
    positions: [...view.positions].map(([set, names]) => ({ set, names: [...names] })),
    options: view.options.map((option) => ({
      option,
      title: view.plan.options?.[option] ?? option,
    })),
  };
};

const planOf = (sources: Sources): JobRecord['plan'] => {
  const { plan } = sources.view;
  return {
    id: plan.plan,
    title: plan.title,
    machine: plan.machine,
    hash: plan.hash,
    openedWith: sources.view.opened.plan.hash,
    notice: plan.notice,
    moved: eventsOf(sources, 'plan-moved').map(({ at, by, plan: to, changes }) => ({
      at,
      by,
      hash: to.hash,
      changes: [...changes],
    })),
  };
};
