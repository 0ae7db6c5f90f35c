// The pictures and papers of this folder as the desk asks for them.
import { calendarOf } from '../desk/calendar.ts';
import { forecastWorkshop } from '../desk/forecast/forecast.ts';
import type { Reports, Shown } from '../desk/reports.ts';
import { claimFolder } from './claim-folder.ts';
import { hoursAheadPicture } from './picture/hours-ahead.ts';
import type { Mode, Picture } from './picture/svg.ts';
import { timelinePicture } from './picture/timeline.ts';

const both = (what: string, draw: (mode: Mode) => Picture): Shown => {
  const light = draw('light');
  // The words stand beside the picture on every channel; twice would be read out twice.
  const alt = `${what}: ${light.text.split('\n')[0] ?? ''} The list beside it says the same.`;
  return { picture: { svg: light.svg, dark: draw('dark').svg, alt }, text: light.text };
};

export const REPORTS: Reports = {
  timeline: (view, events, { settings, now, past }) => {
    const forecast =
      view.status === 'open'
        ? forecastWorkshop([view], { settings, now, past }).get(view.job)
        : undefined;
    return both('Timeline', (mode) =>
      timelinePicture(view, events, {
        now,
        zone: settings.zone,
        mode,
        calendar: calendarOf(settings),
        ...(forecast && forecast.left > 0 ? { ready: forecast } : {}),
      }),
    );
  },
  hoursAhead: (views, ground) => {
    const ready = new Map([...forecastWorkshop(views, ground)].filter(([, { left }]) => left > 0));
    return both('Bars', (mode) =>
      hoursAheadPicture(views, { now: ground.now, zone: ground.settings.zone, mode, ready }),
    );
  },
  claim: (view, events, { now, zone }) => {
    const { complaint, cause, correction, lacks, onlyForClaim } = claimFolder(view, events, {
      chainEnd: null,
      now,
      zone,
    });
    return { complaint, cause, correction, lacks, onlyForClaim };
  },
};
