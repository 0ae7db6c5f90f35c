// One clause with all that is needed to read it.
import { type Clause, endOf, startOf } from '../clause.ts';
import type { ReadContext } from '../context.ts';
import type { Lexicon } from '../lexicon.ts';
import type { Wanted } from '../match/score.ts';
import type { Message } from '../message.ts';
import type { Stance } from '../stance.ts';
import { personSaid } from '../who-said.ts';
import type { ReadSoFar } from './so-far.ts';
import { adapted, wantedOf, withoutName } from './wanted.ts';

export const span = (clause: Clause, message: Message): [number, number] => {
  const first = message.tokens[startOf(clause)];
  const last = message.tokens[endOf(clause) - 1];
  return [first?.from ?? 0, last?.to ?? 0];
};

/** What one clause offers, put together once for all that look at it. */
export type Work = {
  readonly clause: Clause;
  readonly stance: Stance;
  readonly message: Message;
  readonly lexicon: Lexicon;
  readonly context: ReadContext;
  readonly soFar: ReadSoFar;
  readonly wanted: Wanted;
  /** The same without the name of the person who did it. */
  readonly unnamed: Wanted;
  readonly by: string | undefined;
  readonly span: [number, number];
  readonly words: string;
};

export function workOf(
  clause: Clause,
  stance: Stance,
  message: Message,
  lexicon: Lexicon,
  context: ReadContext,
  soFar: ReadSoFar,
): Work {
  const wanted = adapted(wantedOf(clause), stance);
  const by = personSaid(clause, message, context);
  const place = span(clause, message);
  return {
    clause,
    stance,
    message,
    lexicon,
    context,
    soFar,
    wanted,
    unnamed: by ? withoutName(wanted, by) : wanted,
    by,
    span: place,
    words: message.raw.slice(place[0], place[1]),
  };
}
