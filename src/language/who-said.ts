// The person named as having done it: "Jo did the fuel lines", "Mo says stage 2 is done", "according to Kit".
import { type Clause, startOf } from './clause.ts';
import type { ReadContext } from './context.ts';
import type { Message } from './message.ts';

const BEHIND =
  /^(did|has|have|says|said|reckons|told|was|is|made|make|put|took|just|already|hat|sagt|meint|claims|confirms|finished|got)$/;
const NOT_NAMES =
  /^(mate|lads|guys|boss|right|ok|all|both|now|just|everything|everyone|nobody|someone|somebody|anyone|it|that|this|the|which|who|morning|sorry|cheers|thanks)$/;

/** The name as written, or the name of the settings it belongs to. */
export function personSaid(
  clause: Clause,
  message: Message,
  context: ReadContext,
): string | undefined {
  const people = context.people ?? [];
  const start = startOf(clause);
  const piece = clause.pieces[0];
  if (!piece) return undefined;
  for (let i = start; i < Math.min(piece.to, start + 4); i += 1) {
    const token = message.tokens[i];
    if (token?.kind !== 'word') continue;
    const raw = message.raw.slice(token.from, token.to);
    const written = raw.endsWith("'s") ? raw.slice(0, -2) : raw;
    const known = people.find((person) =>
      [person.name, ...(person.also ?? [])].some(
        (name) =>
          name.toLowerCase() === written.toLowerCase() ||
          name.toLowerCase().split(' ')[0] === written.toLowerCase(),
      ),
    );
    const next = message.tokens[i + 1];
    const acts =
      next?.kind === 'word' &&
      (message.tongue.pack.nounCapitals
        ? /^(has|sagt|meint|sagte|meinte)$/.test(next.word)
        : BEHIND.test(next.word) || (next.entry?.forms.includes('past') ?? false));
    const before = message.tokens[i - 1]?.word;
    const led =
      (before === 'to' && message.tokens[i - 2]?.word === 'according') || before === 'laut';
    const colleague = before === 'colleague';
    if (known && (acts || led || colleague)) return known.name;
    const firstName =
      !message.tongue.pack.nounCapitals &&
      token.capital === true &&
      i === start &&
      /^[A-Z][a-z]{1,10}('s)?$/.test(message.raw.slice(token.from, token.to)) &&
      namesSubject(message, i);
    if (firstName && !NOT_NAMES.test(token.word)) return written;
    if (
      message.tongue.pack.nounCapitals &&
      i === start &&
      token.capital === true &&
      token.entry?.plan !== true &&
      (token.entry?.forms.length ?? 0) === 0 &&
      /^[\p{Lu}]\p{Ll}{1,10}$/u.test(written) &&
      next?.word === 'has' &&
      /^(the|all|both|a|it|beim|schon|gerade|links|rechts)$/.test(
        message.tokens[i + 2]?.word ?? '',
      ) &&
      !NOT_NAMES.test(token.word)
    )
      return written;
    if (
      NOT_NAMES.test(token.word) ||
      token.entry?.plan ||
      token.entry?.stop ||
      (token.entry?.forms.length ?? 0) > 0 ||
      token.entry?.side
    )
      continue;
    const shouted = i !== start && message.raw === message.raw.toUpperCase();
    const nameLike = (token.capital === true && !shouted) || (!token.entry?.known && i === start);
    if (
      nameLike &&
      !token.entry?.known &&
      written.length > 1 &&
      written.length < 12 &&
      (acts || led || colleague)
    )
      return written;
  }
  return undefined;
}

/** "Kit fitted the pads", "Mo did it": a verb with an object behind it, so the capital word is who did it. */
function namesSubject(message: Message, i: number): boolean {
  const next = message.tokens[i + 1];
  const then = message.tokens[i + 2];
  if (next?.kind !== 'word') return false;
  if (/^(did|says|said|reckons)$/.test(next.word)) return true;
  if (next.word === 'is' && then?.entry?.forms.includes('ing') === true) return true;
  const verb = next.entry?.forms.includes('past') ?? false;
  return (
    verb &&
    then?.kind === 'word' &&
    (/^(the|it|them|all|both|his|her|my|our|up)$/.test(then.word) ||
      then.entry?.plan === true ||
      then.entry?.side !== undefined)
  );
}
