// The handover: what the next technician has to know, vehicle state in the first line.
import type { JobEvent } from '../../../shared/event.ts';
import type { Around, Figure, JobView } from '../../job/view.ts';
import { formatQuantity, isUnit } from '../../trade/units.ts';
import type { Card } from '../card.ts';
import { grouped } from '../flag-groups.ts';
import { supervised } from '../office/supervision.ts';
import { freeNext, isOut, limitsOutWords } from '../out-of-limits.ts';
import {
  bareSentence,
  clockTime,
  ended,
  list,
  rowsSaid,
  stepsGathered,
  stepTitle,
} from '../say.ts';
import { namesAround, waitsOf } from '../waits.ts';
import { partsOff } from './parts-off.ts';
import { flagsStanding, progressOf, vehicleNow } from './where.ts';

const figureWords = ({ of, quantity: { value, unit } }: Figure): string =>
  unit === 'count'
    ? `${value} ${of}`
    : isUnit(unit)
      ? formatQuantity(value, unit)
      : `${value} ${unit}`;

/** Figures reported so far, newest last: "Drain the coolant: 28 L". */
const figuresOf = (view: JobView): readonly string[] =>
  [...view.steps]
    .sort((a, b) => (a.at ?? '').localeCompare(b.at ?? ''))
    .flatMap((step) =>
      step.figures
        .filter((figure) => !figure.assumed)
        .map((figure) => {
          const at = step.position === null ? '' : `, ${step.position}`;
          return `${stepTitle(view, step.step)}${at}: ${figureWords(figure)}`;
        }),
    );

/** Items that are phrases with commas of their own: set apart by semicolons, the rest counted. */
const listed = (items: readonly string[], most: number): string => {
  const shown = items.slice(0, most);
  const left = items.length - shown.length;
  return [...shown, ...(left > 0 ? [`and ${left} more`] : [])].join('; ');
};

/** The last of many, with how many stand before them in the record. */
const newest = (items: readonly string[], most: number): string => {
  const left = items.length - most;
  return left > 0
    ? `${items.slice(-most).join('; ')}; ${left} before these in the record`
    : items.join('; ');
};

export const handoverCard = (
  view: JobView,
  now: string,
  zone: string,
  beside: {
    readonly events?: readonly JobEvent[];
    readonly around?: Around;
    /** The shift that ended, where it is made at its end. */
    readonly shift?: string;
  } = {},
): Card => {
  const { done, total } = progressOf(view);
  const part = (state: string) => view.steps.filter((step) => step.state === state);
  const inHand = [...part('started'), ...part('partial')];
  const again = part('due-again');
  const last = [...part('done').filter((step) => !isOut(view, step))]
    .sort((a, b) => (a.at ?? '').localeCompare(b.at ?? ''))
    .slice(-6);
  const flags = flagsStanding(view);
  const waits = waitsOf(view, now, zone, namesAround(beside.around ?? {}));
  const figures = figuresOf(view);
  const first = ended(`Vehicle now: ${vehicleNow(view, beside.around)}`);
  const next = freeNext(view);
  const out = limitsOutWords(view);
  const off = partsOff(view, beside.events ?? []);
  const rows: (readonly [string, string])[] = [
    [
      'Done',
      `${done} of ${total}${last.length > 0 ? `, last: ${stepsGathered(view, last).join('; ')}` : ''}`,
    ],
  ];
  if (inHand.length > 0)
    rows.push([
      'In hand',
      listed(
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
  if (again.length > 0) rows.push(['To do again', listed(stepsGathered(view, again), 6)]);
  if (out.length > 0) rows.push(['Put right first', out.join('; ')]);
  if (next.length > 0) rows.push(['Next', listed(stepsGathered(view, next), 4)]);
  const under = supervised(beside.events ?? [], view);
  if (under.length > 0) rows.push(['Supervised', list(under, 4)]);
  if (flags.length > 0)
    rows.push([
      'Flags open',
      listed(
        grouped(flags).map(({ level, says }) => `${level}: ${bareSentence(says)}`),
        5,
      ),
    ]);
  if (waits.length > 0) rows.push(['Waits for', listed(waits, 5)]);
  if (off.length > 0) rows.push(['Removed parts', listed(off, 8)]);
  if (figures.length > 0) rows.push(['Figures so far', newest(figures, 8)]);
  const end = beside.shift === undefined ? '' : `, end of the ${beside.shift} shift`;
  const title = `Handover, job ${view.job}, ${view.opened.vehicle.name}, ${clockTime(now, now, zone)}${end}`;
  return {
    title,
    text: `${title}. ${first} ${rowsSaid(rows)}`,
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
