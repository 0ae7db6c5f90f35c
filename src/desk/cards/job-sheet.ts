// The job sheet: the one card of a job that is kept up to date in place, pinned, and the root of its thread.
import type { JobEvent } from '../../../shared/event.ts';
import { flagKey } from '../../../shared/flag.ts';
import type { Around, JobView } from '../../job/view.ts';
import { flagsStanding, phaseOf, progressOf, vehicleNow } from '../answers/where.ts';
import type { Card } from '../card.ts';
import { followUpsOf } from '../office/follow-ups.ts';
import { lastNoted } from '../office/last-noted.ts';
import { roadReleaseOf } from '../office/road.ts';
import { supervised } from '../office/supervision.ts';
import { bareSentence, clockTime, list, rowsSaid, stepTitle } from '../say.ts';
import { announcedFlags } from '../turn/log.ts';
import { namesAround, waitsOf } from '../waits.ts';

const reading = (view: JobView): string | undefined => {
  const said = view.opened.reading;
  return said ? `${said.value.toLocaleString('en-GB')} ${said.unit}` : undefined;
};

const assumptions = (view: JobView): readonly string[] =>
  view.steps.flatMap((step) =>
    step.assumed.map(
      (assumed) =>
        `${stepTitle(view, step.step)}${step.position ? `, ${step.position}` : ''}: ${assumed}`,
    ),
  );

/** What the sheet shows beside the view: the events for people and releases, what surrounds the job for its vehicle. */
type Beside = { readonly events?: readonly JobEvent[]; readonly around?: Around };

const roadWords = (view: JobView, events: readonly JobEvent[], now: string, zone: string) => {
  const road = roadReleaseOf(events, view);
  if (!road) return undefined;
  const words = `released by ${road.by}, ${clockTime(road.at, now, zone)}`;
  return road.stands ? words : `${words}; work was reported since, so release it again`;
};

/** @param now ISO; times are shown in the workshop's zone */
export const sheetCard = (view: JobView, now: string, zone: string, beside: Beside = {}): Card => {
  const { done, total } = progressOf(view);
  const events = beside.events ?? [];
  const said = announcedFlags(events);
  // One that is held back, for a question about its step or for some seconds, is not shown here either.
  const flags = flagsStanding(view).filter(
    (flag) => beside.events === undefined || said.get(flagKey(flag))?.standing === true,
  );
  const waits = waitsOf(view, view.lastEventAt, zone, namesAround(beside.around ?? {}));
  const phase = phaseOf(view);
  const assumed = assumptions(view);
  const at = view.opened.reading ? ` at ${reading(view)}` : '';
  const title = `Job ${view.job} · ${view.opened.vehicle.name}${at}`;
  const status =
    view.status === 'open' ? `${done} of ${total}${phase ? `, ${phase}` : ''}` : view.status;
  const rows: (readonly [string, string])[] = [
    ['Vehicle now', vehicleNow(view, beside.around)],
    ['Work', view.plan.title],
    ['Progress', status],
  ];
  if (view.opened.complaint) rows.push(['Complaint', view.opened.complaint]);
  const people = [
    view.technician,
    view.controller ? `controller ${view.controller}` : undefined,
  ].filter((name) => name !== undefined);
  if (people.length > 0) rows.push(['With', people.join(', ')]);
  if (view.promised) rows.push(['Promised', clockTime(view.promised, now, zone)]);
  const under = supervised(events, view);
  if (under.length > 0) rows.push(['Supervised', list(under, 4)]);
  const road = roadWords(view, events, now, zone);
  if (road) rows.push(['Road', road]);
  const noted = lastNoted(events);
  // Where a bot can put no sign on a message, this row is how its writer sees that it was taken.
  if (noted) {
    const said = noted.text.replace(/\s+/gu, ' ').trim();
    const shown = [...said].length > 60 ? `${[...said].slice(0, 59).join('')}…` : said;
    rows.push(['Last noted', `${clockTime(noted.at, now, zone)} ${noted.by}: "${shown}"`]);
  }
  const later = view.status === 'closed' ? followUpsOf(view) : [];
  if (later.length > 0)
    rows.push([
      'Still to come',
      list(
        later.map((each) => each.says),
        3,
      ),
    ]);
  if (flags.length > 0)
    rows.push([
      'Flags open',
      list(
        flags.map((flag) => `${flag.level}: ${bareSentence(flag.says)}`),
        4,
      ),
    ]);
  if (waits.length > 0) rows.push(['Waits for', list(waits, 3)]);
  if (assumed.length > 0) rows.push(['Assumed', list(assumed.slice(-4), 4)]);
  return {
    title,
    text: `${title}. ${rowsSaid(rows)}`,
    blocks: [
      { kind: 'facts', rows },
      { kind: 'text', text: view.plan.notice },
    ],
  };
};
