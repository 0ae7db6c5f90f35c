import type { JobView } from '../../job/view.ts';
import type { Card } from '../card.ts';
import { readAsked } from './asking/asked.ts';
import type { FigureAround, Reply } from './figure-kind.ts';
import { FIGURE_KINDS } from './index.ts';

export type FigureAnswer = {
  readonly card: Card;
  /** Which kind of question it was: a name of {@link FIGURE_KINDS}. */
  readonly kind: string;
};

/**
 * The answer to a question for a figure; undefined where the text is none: a report, a command, talk.
 *
 * @param view the job in whose thread it is asked, where there is one: its plan's limits and its reports are used
 * @param today ISO 8601 day in the workshop, or an instant with offset where the time of day is known
 * @param around register of tools, shift calendar, bookings; see {@link FigureAround}
 */
export function answerFigure(
  text: string,
  view: JobView | undefined,
  today: string,
  around: FigureAround = {},
): FigureAnswer | undefined {
  const asked = readAsked(text);
  if (!asked) return undefined;
  const ground = { ...around, view, today };
  for (const { kind, reply } of FIGURE_KINDS) {
    const said = reply(asked, ground);
    if (said) return { card: cardOf(said, view?.job), kind };
  }
  return undefined;
}

function cardOf(reply: Reply, job: string | undefined): Card {
  const { says, notice, choices = [], picture } = reply;
  return {
    text: notice === undefined ? says : `${says} ${notice}`,
    blocks: [
      { kind: 'text', text: says },
      ...(notice === undefined ? [] : [{ kind: 'text' as const, text: notice }]),
    ],
    ...(choices.length > 0
      ? {
          actions: choices.map(({ label, text }) => ({
            label,
            weight: 'plain' as const,
            intent: { do: 'say' as const, ...(job === undefined ? {} : { job }), text },
          })),
        }
      : {}),
    ...(picture === undefined ? {} : { picture }),
  };
}
