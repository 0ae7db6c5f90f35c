// "All six", "1 and 3", "the left one": the place that was asked for, and nothing else.

import type { Act } from '../../shared/reading.ts';
import { partNamed } from './clause.ts';
import type { PendingQuestion, ReadContext, ReadResult } from './context.ts';
import type { Lexicon } from './lexicon.ts';
import { placesSaid } from './match/places-said.ts';
import type { Message } from './message.ts';

const PLACE = /^(positions|all|rest|number)$/;

/** Nothing but places and small words stands in the message. */
const onlyPlaces = (message: Message): boolean =>
  message.figures.length > 0 &&
  message.figures.every((figure) => PLACE.test(figure.kind)) &&
  message.clauses.every(
    (clause) =>
      !clause.question &&
      clause.pieces.every(
        (piece) =>
          piece.verbs.length === 0 &&
          piece.moved.length === 0 &&
          piece.unknown.length === 0 &&
          piece.excepted.length === 0 &&
          !piece.cross &&
          !piece.cues.some((cue) =>
            /^(not|not-yet|no|none|neither|left-to-do|later|future|next|except|still|doubt|nearly|mistake)$/.test(
              cue.name,
            ),
          ) &&
          !partNamed(piece),
      ),
  );

/** The answer to "where?": the asked report at the places said; undefined where the message is no such answer. */
export function answerPlaces(
  message: Message,
  pending: PendingQuestion,
  lexicon: Lexicon,
  context: ReadContext,
): ReadResult | undefined {
  const [choice] = pending.choices;
  const [asked] = choice?.acts ?? [];
  if (!choice || pending.choices.length !== 1 || !asked?.step || choice.acts?.length !== 1)
    return undefined;
  const step = message.tongue.steps.find((one) => one.id === asked.step);
  if (!step || !onlyPlaces(message)) return undefined;
  const places = placesSaid(step, message.figures, lexicon, context.positions);
  if (places.positions.length === 0 || places.unknown) return undefined;
  const all = asked.positions.every((name) => places.positions.includes(name));
  const act: Act = {
    ...asked,
    positions: [...places.positions],
    span: [0, message.raw.length],
  };
  return {
    acts: [act],
    relied: [pending.question],
    answers: { question: pending.question, choice: all ? 0 : null },
    explained: [`"${message.raw.trim()}": the answer to "${pending.asks}".`],
  };
}
