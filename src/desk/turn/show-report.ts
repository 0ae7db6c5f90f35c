// "Forecast", "timeline", "hours ahead", "record", "claim": what is shown of a job, or of the workshop, beyond words.
import { forecastCard } from '../answers/forecast.ts';
import { claimCard, lacksAtClosing, recordCard } from '../answers/papers.ts';
import { pictureCard } from '../answers/pictures.ts';
import { ORDER } from '../cards/gather.ts';
import { type Asker, type Obeyed, only, says, shows } from './obeyed.ts';
import type { JobState, Moment } from './turn.ts';

export const REPORT_COMMANDS = ['forecast', 'timeline', 'hours-ahead', 'record', 'claim'] as const;
export type ReportCommand = (typeof REPORT_COMMANDS)[number];

/** A photo with "picture" under it is a photo, and asks for nothing. */
const isCaption = (state: JobState, asker: Asker): boolean =>
  state.events.some((event) => event.kind === 'photo-kept' && event.message === asker.message);

export const showReport = (
  state: JobState,
  command: ReportCommand,
  asker: Asker,
  moment: Moment,
): Obeyed => {
  const { view, events } = state;
  const { reports, now, workshop, openJobs } = moment;
  const ground = { settings: workshop.settings, now, past: moment.paces ?? new Map() };
  if (command === 'record') return shows(recordCard(view));
  if (command === 'timeline' && isCaption(state, asker)) return { events: [], pieces: [] };
  if (command === 'forecast' && !openJobs) return { events: [], pieces: [], needs: 'open-jobs' };
  if (command === 'forecast') return shows(forecastCard(view, openJobs ?? [view], ground));
  if (!reports) return only('Pictures and papers are made in the channel, not here.');
  if (command === 'claim')
    return shows(
      claimCard(view, reports.claim(view, events, { now, zone: workshop.settings.zone })),
    );
  if (!openJobs) return { events: [], pieces: [], needs: 'open-jobs' };
  return shows(
    pictureCard(
      command === 'timeline'
        ? reports.timeline(view, events, ground)
        : reports.hoursAhead(openJobs, ground),
    ),
  );
};

/**
 * What a claim would lack, said with the answer to "close job": while the vehicle is still here. Only of a job that came
 * in with a complaint; nobody claims for a service.
 */
export const withLacks = (obeyed: Obeyed, state: JobState, moment: Moment): Obeyed => {
  const { view, events } = state;
  if (!moment.reports || !view.opened.complaint || view.status !== 'open') return obeyed;
  if (obeyed.pieces.length === 0) return obeyed;
  const { now, workshop } = moment;
  const claim = moment.reports.claim(view, events, { now, zone: workshop.settings.zone });
  const line = lacksAtClosing(claim.onlyForClaim);
  return line === undefined
    ? obeyed
    : { ...obeyed, pieces: [...obeyed.pieces, says(line, ORDER.remark)] };
};
