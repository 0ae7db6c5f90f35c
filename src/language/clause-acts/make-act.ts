// One act of a clause with its figures, place, time and person.
import type { Act, ActKind } from '../../../shared/reading.ts';
import { onlyFastenersSaid } from '../beside-work.ts';
import { hasCue } from '../clause.ts';
import { withAttributes } from '../match/attributes-said.ts';
import { type FigurePart, withFigures } from '../match/figures-said.ts';
import type { PlacesSaid } from '../match/places-said.ts';
import type { Figure } from '../scan/figure.ts';
import { whenSaid } from '../when-said.ts';
import type { ChosenStep } from './choose-step.ts';
import { leftOut, lessThanAll, withAngleStage, withCountOfAll } from './how-much.ts';
import type { PlacesOfAct } from './places-of-act.ts';
import { anyPlaces, askFigure, askWhere } from './questions.ts';
import type { Focus } from './so-far.ts';
import { asksSize } from './weak-report.ts';
import type { Work } from './work.ts';

/** The act with what it is, where, when and by whom, and its figures; nothing is doubted yet. */
function plainAct(
  work: Work,
  choice: ChosenStep,
  part: FigurePart,
  figures: readonly Figure[],
  places: PlacesSaid,
): Act {
  const { stance, clause, message, lexicon, context, soFar, wanted, words, by } = work;
  const step = choice.step;
  const time = figures.find((figure) => figure.kind === 'time');
  const when =
    time?.kind === 'time' ? whenSaid(time, context, stance.kind === 'intends') : { assumed: [] };
  const job = figures.find((figure) => figure.kind === 'job');
  const again = stance.kind === 'done' && hasCue(clause, 'again');
  const beside =
    time !== undefined || job !== undefined || by !== undefined || again || stance.note === true;
  const bare: Act = {
    kind: stance.kind as ActKind,
    step: step.id,
    positions: [...places.positions],
    assumed: [...choice.assumed, ...places.assumed, ...when.assumed],
    // Most acts have none of these.
    ...(beside && {
      ...(when.time === undefined ? {} : { time: when.time }),
      ...(by === undefined ? {} : { by }),
      ...(job?.kind === 'job' ? { job: job.job } : {}),
      ...(again ? { again: true } : {}),
      ...(stance.note ? { note: words } : {}),
    }),
    span: work.span,
  };
  const carries =
    stance.rule === 'and-the-same' && choice.fromContext && soFar.focus?.step.id === step.id;
  const sized = withFigures(bare, part);
  const act = carries && soFar.focus ? withCarried(sized, soFar.focus) : sized;
  return withAttributes(
    withAngleStage(act, step, wanted),
    step,
    clause,
    lexicon.plan,
    message.tongue,
  );
}

/** "And 5", "same on the other side": the stage and the figure of before hold here too. */
function withCarried(act: Act, focus: Focus): Act {
  const staged =
    act.stage === undefined && focus.stage !== undefined && !act.quantity
      ? { ...act, stage: focus.stage }
      : act;
  if (!focus.quantity || staged.quantity || staged.count) return staged;
  return {
    ...staged,
    quantity: focus.quantity,
    assumed: [...staged.assumed, 'figure: the one said before'],
  };
}

/** One act of a clause: whole or in part, a finding, or a question where figure or place is in doubt. */
export function makeAct(
  work: Work,
  choice: ChosenStep,
  part: FigurePart,
  figures: readonly Figure[],
  places: PlacesSaid,
  several: PlacesOfAct['several'],
  excepted: boolean,
): Act {
  const { stance, clause, lexicon, wanted } = work;
  const step = choice.step;
  let act = plainAct(work, choice, part, figures, places);
  if (several && !several.all)
    act = { ...act, kind: 'partial', positions: [], count: { done: several.count } };
  act = lessThanAll(withCountOfAll(act, step, figures), step);
  const some =
    (leftOut(clause) && !excepted) || (!act.quantity && onlyFastenersSaid(step, wanted.parts));
  if (act.kind === 'done' && !stance.step && some) act = { ...act, kind: 'partial' };
  const measured =
    act.quantity !== undefined &&
    !part.doubt &&
    asksSize(step) &&
    wanted.unknown === 0 &&
    figures.some((figure) => figure.kind === 'quantity');
  if (act.kind === 'finding' && measured) {
    const { note: _, ...rest } = act;
    act = { ...rest, kind: 'done' };
  }
  if (act.kind === 'finding' && act.positions.length === 0)
    act = { ...act, positions: anyPlaces(figures, lexicon) };
  if (part.doubt && (act.kind === 'done' || act.kind === 'partial'))
    act = askFigure(act, step, part);
  // "Nearly there on the clamps": at which place matters only once one is finished.
  if (
    stance.rule === 'nearly' &&
    !wanted.particleOnly &&
    places.missing &&
    act.kind === 'partial' &&
    !act.count
  )
    act = { ...act, kind: 'started' };
  const nowhere = places.missing || places.unknown;
  return nowhere && (act.kind === 'done' || act.kind === 'partial')
    ? askWhere(act, step, places.allowed)
    : act;
}
