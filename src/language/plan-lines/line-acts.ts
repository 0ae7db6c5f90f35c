// What a line of the plan says of its step, with the places and figures beside it.
import type { Act } from '../../../shared/reading.ts';
import type { ReadContext } from '../context.ts';
import type { Lexicon } from '../lexicon.ts';
import { withAttributes } from '../match/attributes-said.ts';
import { quantityFit } from '../match/figure-fit.ts';
import { figuresSaid, withFigures } from '../match/figures-said.ts';
import { oneOfASide } from '../match/one-of-a-side.ts';
import type { StepPhrases } from '../match/phrases.ts';
import { placesSaid } from '../match/places-said.ts';
import type { Message } from '../message.ts';
import type { Figure } from '../scan/figure.ts';
import { whenSaid } from '../when-said.ts';
import { type Line, stepOf } from './lines.ts';

/** What a line says of one step, if nothing but its figures and courtesy stands beside it. */
export function actsOf(
  line: Line,
  beside: Message,
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
): Act[] | undefined {
  const step = stepOf(line.step, lexicon);
  if (!step) return undefined;
  const figures = beside.figures;
  const places = oneOfASide(
    placesSaid(step, figures, lexicon, context.positions),
    figures,
    message.tokens,
  );
  if (places.unknown) return undefined;
  if (step.step?.each === undefined && figures.some((one) => one.kind === 'positions' && !one.bare))
    return undefined;
  if (!line.title && strangeFigure(step, figures)) return undefined;
  const clause = message.clauses[0];
  if (places.missing && (!line.title || !clause)) return undefined;
  const time = figures.find((figure) => figure.kind === 'time');
  const when = time?.kind === 'time' ? whenSaid(time, context, false) : { assumed: [] };
  const parts = figuresSaid(step.step, figures, places.unused);
  if (parts.some((part) => part.doubt !== undefined)) return undefined;
  return parts.map((part): Act => {
    const bare: Act = {
      kind: 'done',
      step: step.id,
      positions: [...places.positions],
      ...(when.time === undefined ? {} : { time: when.time }),
      assumed: [...places.assumed, ...when.assumed],
      span: [0, message.raw.length],
    };
    const act = withFigures(bare, part);
    const full = clause
      ? withAttributes(
          act,
          step,
          { ...clause, pieces: message.clauses.flatMap((one) => one.pieces) },
          lexicon.plan,
          message.tongue,
        )
      : act;
    if (!places.missing) return fewerThanAll(full, step);
    const { kind, ...rest } = full;
    return {
      ...rest,
      kind: 'unsure',
      candidates: [
        {
          says: `all ${places.allowed.length}: ${step.title}`,
          kind,
          step: step.id,
          positions: [...places.allowed],
        },
      ],
    };
  });
}

/** "Pressure plate on, 48 Nm": the figure is of another step. */
export const strangeFigure = (step: StepPhrases, figures: readonly Figure[]): boolean =>
  figures.some(
    (figure) => figure.kind === 'quantity' && quantityFit(step.step, figure.value, figure.unit) < 0,
  );

/** Fewer than the plan's count is a part of the step. */
function fewerThanAll(act: Act, step: StepPhrases): Act {
  const ask = (step.step?.report ?? []).find((one) => one.kind === 'off' || one.kind === 'on');
  const of = act.count?.of ?? (ask && 'count' in ask ? ask.count : undefined);
  return of !== undefined && act.count !== undefined && act.count.done < of
    ? { ...act, kind: 'partial' }
    : act;
}
