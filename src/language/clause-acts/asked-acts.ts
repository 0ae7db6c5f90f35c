// A clause that asks: the act of asking, and whether it asks for a limit or a figure.
import type { Act } from '../../../shared/reading.ts';
import { type Clause, hasCue } from '../clause.ts';
import type { ReadContext } from '../context.ts';
import { asksFigure, asksLimit } from '../find-command.ts';
import type { Lexicon } from '../lexicon.ts';
import type { Message } from '../message.ts';
import type { Stance } from '../stance.ts';
import { readClause } from './read-clause.ts';
import type { ReadSoFar } from './so-far.ts';

/** "Who's got the dolly", "where is the jack": talk among colleagues, unless it asks who did a step. */
function aboutPeople(clause: Clause): boolean {
  const piece = clause.pieces[0];
  const first = piece?.tokens[piece.from]?.word ?? '';
  if (!/^(who|whose|where|wer|wo|wessen)$/.test(first)) return false;
  return (
    !clause.pieces.some((one) =>
      one.verbs.some(
        (verb) => verb.form === 'past' && !/^(get|take|nick|hide|put|go|come)$/.test(verb.lemma),
      ),
    ) && !hasCue(clause, 'finished')
  );
}

/** Adds the acts of a clause that asks. */
export function askAct(
  clause: Clause,
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  soFar: ReadSoFar,
  stance: Stance,
): void {
  if (aboutPeople(clause)) return;
  const before = soFar.acts.length;
  const focus = soFar.focus;
  readClause(clause, stance, message, lexicon, context, soFar);
  const words = clause.pieces.flatMap((piece) =>
    piece.tokens.slice(piece.from, piece.to).map((token) => token.word),
  );
  const sized = clause.pieces.some((piece) =>
    piece.figures.some((figure) => figure.kind === 'quantity' || figure.kind === 'number'),
  );
  const verbs = clause.pieces.some((piece) => piece.verbs.some((verb) => verb.form === 'past'));
  const made = soFar.acts.length > before;
  // A figure asked about is none that was reached.
  for (let i = before; i < soFar.acts.length; i += 1) {
    const { quantity: _q, angle: _a, count: _c, stage, ...rest } = soFar.acts[i] as Act;
    const named = clause.pieces.some((piece) =>
      piece.figures.some((figure) => figure.kind === 'stage'),
    );
    soFar.acts[i] = { ...rest, ...(named && stage !== undefined ? { stage } : {}) };
  }
  const command = asksFigure(words)
    ? 'figure'
    : asksLimit(words) || (made && sized && !verbs)
      ? 'limit'
      : undefined;
  if (command === undefined) return;
  if (soFar.acts.length > before) {
    const last = soFar.acts.at(-1) as Act;
    soFar.acts[soFar.acts.length - 1] = { ...last, command };
  } else if (focus || soFar.acts.length === before) {
    const stage = message.figures.find((figure) => figure.kind === 'stage');
    if (stage?.kind === 'stage' || command === 'figure') {
      soFar.acts.push({
        kind: 'asks',
        command,
        positions: [],
        assumed: [],
        span: [0, message.raw.length],
        ...(stage?.kind === 'stage' && stage.stages[0] !== undefined
          ? { stage: stage.stages[0] }
          : {}),
      });
    }
  }
}
