// Clocking on and off, breaks: working time, not work.
import type { Act } from '../../shared/reading.ts';
import { type Clause, cueOf, endOf, figuresOf, startOf, verbsOf } from './clause.ts';
import type { Message } from './message.ts';

/** A clock act, where a clause speaks of working time and of nothing else. */
export function readClock(clause: Clause, message: Message): Act | undefined {
  const on = cueOf(clause, 'clock-on');
  const off = cueOf(clause, 'clock-off');
  if (!on && !off) return undefined;
  if (clause.question) return undefined;
  const parts = clause.pieces.some((piece) => piece.parts.size > 0);
  if (
    parts ||
    figuresOf(clause).some((figure) => figure.kind === 'quantity' && figure.unit !== 'min')
  )
    return undefined;
  if (
    verbsOf(clause).some(
      (verb) => verb.form === 'past' && !/^(clock|knock|book|finish|do)$/.test(verb.lemma),
    )
  )
    return undefined;
  const first = message.tokens[startOf(clause)];
  const last = message.tokens[endOf(clause) - 1];
  const words = message.raw.slice(first?.from ?? 0, last?.to ?? 0);
  return {
    kind: 'clock',
    positions: [],
    note: on && !off ? 'on' : 'off',
    assumed: [],
    span: [first?.from ?? 0, last?.to ?? words.length],
  };
}
