// The handover: what the next technician has to know, vehicle state in the first line.
import type { JobEvent } from '../../../shared/event.ts';
import type { Around, JobView } from '../../job/view.ts';
import type { Card } from '../card.ts';
import { supervised } from '../office/supervision.ts';
import { clockTime, list, stepsGathered, stepTitle } from '../say.ts';
import { flagsStanding, progressOf, vehicleStateWords, waitsOf } from './where.ts';

/** Figures reported so far, newest last: "Drain the coolant: 28 L". */
const figuresOf = (view: JobView): readonly string[] =>
  view.steps.flatMap((step) =>
    step.figures
      .filter((figure) => !figure.assumed)
      .map((figure) => {
        const at = step.position === null ? '' : `, ${step.position}`;
        return `${stepTitle(view, step.step)}${at}: ${figure.quantity.value} ${figure.quantity.unit}`;
      }),
  );

export const handoverCard = (
  view: JobView,
  now: string,
  zone: string,
  beside: { readonly events?: readonly JobEvent[]; readonly around?: Around } = {},
): Card => {
  const states = vehicleStateWords(view, beside.around);
  const { done, total } = progressOf(view);
  const part = (state: string) => view.steps.filter((step) => step.state === state);
  const inHand = [...part('started'), ...part('partial')];
  const again = part('due-again');
  const last = [...part('done')].sort((a, b) => (a.at ?? '').localeCompare(b.at ?? '')).slice(-6);
  const flags = flagsStanding(view);
  const waits = waitsOf(view, now, zone);
  const figures = figuresOf(view);
  const first =
    states.length > 0
      ? `Vehicle now: ${states.join('; ')}.`
      : 'Vehicle now: nothing open, as far as reported.';
  const rows: (readonly [string, string])[] = [
    [
      'Done',
      `${done} of ${total}${last.length > 0 ? `, last: ${list(stepsGathered(view, last))}` : ''}`,
    ],
  ];
  if (inHand.length > 0)
    rows.push([
      'In hand',
      list(
        inHand.map((step) => {
          const name = stepsGathered(view, [step])[0] ?? step.step;
          const stages =
            step.stages.length > 0 ? `, stages reported: ${list(step.stages.map(String))}` : '';
          const missing = step.missing.length > 0 ? `, still to report: ${list(step.missing)}` : '';
          return `${name}${stages}${missing}`;
        }),
        6,
      ),
    ]);
  if (again.length > 0) rows.push(['To do again', list(stepsGathered(view, again), 6)]);
  if (view.next.length > 0) rows.push(['Next', list(stepsGathered(view, view.next), 4)]);
  const under = supervised(beside.events ?? [], view);
  if (under.length > 0) rows.push(['Supervised', list(under, 4)]);
  if (flags.length > 0)
    rows.push([
      'Flags open',
      list(
        flags.map((flag) => flag.says),
        5,
      ),
    ]);
  if (waits.length > 0) rows.push(['Waits for', list(waits, 5)]);
  if (figures.length > 0) rows.push(['Figures so far', list(figures.slice(-8), 8)]);
  const title = `Handover, job ${view.job}, ${view.opened.vehicle.name}, ${clockTime(now, now, zone)}`;
  return {
    title,
    text: `${title}. ${first} ${rows.map(([label, value]) => `${label}: ${value}.`).join(' ')}`,
    blocks: [
      { kind: 'text', text: first },
      { kind: 'facts', rows },
    ],
    actions: [
      {
        label: 'I take over',
        weight: 'plain',
        intent: { do: 'say', job: view.job, text: 'taking over' },
      },
    ],
  };
};
