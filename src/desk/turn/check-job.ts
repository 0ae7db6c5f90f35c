// The check of a job with what a controller put right about its opening: the wrong vehicle, the wrong positions.
import type { JobEvent } from '../../../shared/event.ts';
import { check } from '../../job/check.ts';
import type { Check, JobView } from '../../job/view.ts';

type Correction = Extract<JobEvent, { kind: 'job-corrected' }>;

const corrects = (event: JobEvent): event is Correction => event.kind === 'job-corrected';

const last = <K extends 'vehicle' | 'positions' | 'reading'>(
  corrections: readonly Correction[],
  what: K,
): Correction[K] => corrections.findLast((each) => each[what] !== undefined)?.[what];

/** The events with the opening as it was put right; the same list where nothing was. */
export const asCorrected = (events: readonly JobEvent[]): readonly JobEvent[] => {
  const corrections = events
    .filter(corrects)
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : 1));
  if (corrections.length === 0) return events;
  const reading = last(corrections, 'reading');
  return events.map((event) =>
    event.kind === 'job-opened'
      ? {
          ...event,
          vehicle: last(corrections, 'vehicle') ?? event.vehicle,
          positions: last(corrections, 'positions') ?? event.positions,
          ...(reading ? { reading } : {}),
        }
      : event,
  );
};

type Made = {
  readonly given: Parameters<Check>;
  readonly view: JobView;
};

/** A turn checks the same events more than once, with little else in between. */
const MOST_MADE = 2;
const lately: Made[] = [];

/** The same events in the same order; those of a turn are the same objects each time. */
const areSame = (a: readonly JobEvent[], b: readonly JobEvent[]): boolean =>
  a.length === b.length && a.every((event, index) => event === b[index]);

/**
 * `check` of src/job/check.ts on the job as it was put right. Its last results are remembered: given the same again, it
 * is the same view.
 */
export const checkJob: Check = (plan, events, now, around) => {
  const known = lately.find(
    ({ given }) =>
      given[2] === now && given[0] === plan && given[3] === around && areSame(given[1], events),
  );
  if (known) return known.view;
  const view = check(plan, asCorrected(events), now, around);
  lately.push({ given: [plan, events, now, around], view });
  if (lately.length > MOST_MADE) lately.shift();
  return view;
};
