// A question for a figure of the trade, asked in the middle of a job: answered beside what is recorded.
import type { Act } from '../../../shared/reading.ts';
import type { JobView } from '../../job/view.ts';
import { forecastCard } from '../answers/forecast.ts';
import { ORDER } from '../cards/gather.ts';
import { answerFigure } from '../figures/answer-figure.ts';
import type { Moment, Piece } from './turn.ts';

/** Whether a message records something or is answered otherwise; a report is never taken for a question. */
const isTaken = (act: Act): boolean =>
  act.kind !== 'asks' &&
  act.kind !== 'unsure' &&
  !(act.kind === 'command' && act.command === 'figure');

/** The answer, or undefined where the words ask for no figure. A limit of the plan is answered from the plan. */
export const figurePiece = (
  text: string,
  acts: readonly Act[],
  view: JobView | undefined,
  asker: { readonly roles: readonly string[] },
  moment: Pick<Moment, 'workshop' | 'now'>,
): Piece | undefined => {
  if (acts.some(isTaken) || acts.some((act) => act.command === 'limit')) return undefined;
  const { settings, tools, calendar } = moment.workshop;
  const shownTo = settings.hours?.['shown-to'] ?? ['controller', 'manager'];
  const answer = answerFigure(text, view, moment.now, {
    tools: tools.map(({ id, kind, title, range, calibrated, due }) => ({
      id,
      kind,
      ...(title ? { title } : {}),
      ...(range ? { range } : {}),
      ...(calibrated ? { calibrated } : {}),
      ...(due ? { due } : {}),
    })),
    ...(calendar ? { calendar } : {}),
    ready: (job) => forecastCard(job, [job], { settings, now: moment.now, past: new Map() }).text,
    mayHours: shownTo.some((role) => asker.roles.includes(role)),
  });
  return answer ? { order: ORDER.answer, card: answer.card } : undefined;
};
