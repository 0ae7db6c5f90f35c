// The job sheet: the one card of a job that is kept up to date in place, pinned, and the root of its thread.
import type { JobView } from '../../job/view.ts';
import {
  flagsStanding,
  phaseOf,
  progressOf,
  vehicleStateWords,
  waitsOf,
} from '../answers/where.ts';
import type { Card } from '../card.ts';
import { clockTime, list, stepTitle } from '../say.ts';

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

/** @param now ISO; times are shown in the workshop's zone */
export const sheetCard = (view: JobView, now: string, zone: string): Card => {
  const { done, total } = progressOf(view);
  const states = vehicleStateWords(view);
  const flags = flagsStanding(view);
  const waits = waitsOf(view, view.lastEventAt, zone);
  const phase = phaseOf(view);
  const assumed = assumptions(view);
  const at = view.opened.reading ? ` at ${reading(view)}` : '';
  const title = `Job ${view.job} · ${view.opened.vehicle.name}${at}`;
  const status =
    view.status === 'open' ? `${done} of ${total}${phase ? `, ${phase}` : ''}` : view.status;
  const rows: (readonly [string, string])[] = [
    ['Vehicle now', states.length > 0 ? states.join('; ') : 'nothing open, as far as reported'],
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
  if (flags.length > 0)
    rows.push([
      'Flags open',
      list(
        flags.map((flag) => `${flag.level}: ${flag.says.split('. ')[0] ?? flag.says}`),
        4,
      ),
    ]);
  if (waits.length > 0) rows.push(['Waits for', list(waits, 3)]);
  if (assumed.length > 0) rows.push(['Assumed', list(assumed.slice(-4), 4)]);
  return {
    title,
    text: `${title}. ${rows.map(([label, value]) => `${label}: ${value}.`).join(' ')}`,
    blocks: [
      { kind: 'facts', rows },
      { kind: 'text', text: view.plan.notice },
    ],
  };
};
