// What the figures are asked with in the tests: the shipped register of tools, a calendar, a day.
import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import type { Settings } from '../../../shared/settings.ts';
import { forecastCard } from '../../../src/desk/answers/forecast.ts';
import { answerFigure, type FigureAnswer } from '../../../src/desk/figures/answer-figure.ts';
import type { FigureAround, RegisteredTool } from '../../../src/desk/figures/figure-kind.ts';
import type { JobView } from '../../../src/job/view.ts';
import { WEEKDAYS, workCalendar } from '../../../src/trade/work-calendar.ts';
import { valueIn } from '../../trade/unwrap.ts';

const register = parse(
  readFileSync(new URL('../../../data/tools.yaml', import.meta.url), 'utf8'),
) as { readonly tools: readonly RegisteredTool[] };

const shifts = [
  { name: 'early', from: '06:00', to: '14:00', breaks: [{ from: '10:00', to: '10:20' }] },
  { name: 'late', from: '14:00', to: '22:00', breaks: [{ from: '18:00', to: '18:30' }] },
];

/** Two shifts on every day, in London. */
export const calendar = valueIn(
  workCalendar({
    zone: 'Europe/London',
    week: Object.fromEntries(WEEKDAYS.map((day) => [day, shifts])),
  }),
);

/** A Wednesday. */
export const NOW = '2026-03-04T09:00:00Z';

const settings: Settings = {
  workshop: 'Harrow Lane depot',
  zone: 'Europe/London',
  people: [{ name: 'Nell', roles: ['technician'] }],
  shifts: shifts.map(({ breaks, ...shift }) => ({
    ...shift,
    days: [...WEEKDAYS],
    breaks: breaks.map((pause) => ({ name: 'break', ...pause })),
  })),
};

export const AROUND: FigureAround = {
  tools: register.tools,
  calendar,
  mayHours: true,
  ready: (view) => forecastCard(view, [view], { settings, now: NOW, past: new Map() }).text,
};

export function ask(
  text: string,
  view?: JobView,
  around: FigureAround = AROUND,
): FigureAnswer | undefined {
  return answerFigure(text, view, NOW, around);
}

/** The text of the card that answers; the question is expected to be one. */
export function told(text: string, view?: JobView, around: FigureAround = AROUND): string {
  const answer = ask(text, view, around);
  if (!answer) throw new Error(`Not taken for a question: ${text}`);
  return answer.card.text;
}
