// Slips in a message: what they were meant for is a guess, and a grave step is asked about instead where another
// guess would have turned the report, placed it elsewhere or named another work.
import type { Act } from '../../../shared/reading.ts';
import { askedInstead } from '../asked-instead.ts';
import type { Lexicon } from '../lexicon.ts';
import type { Message } from '../message.ts';
import { SLIPS_TO_ASK } from '../thresholds.ts';
import { mayTurn } from './may-turn.ts';

/** How many words of a message had to be mended; a word heard for another one and short forms are none. */
function slipsIn(message: Message): number {
  let slips = 0;
  let last = -1;
  const { soundAlikes } = message.tongue.pack;
  for (const token of message.tokens) {
    if (token.kind !== 'word' || token.from === last) continue;
    last = token.from;
    const strange = token.entry?.known === false && !token.entry.stop && !token.capital;
    const mended = token.mended !== undefined && soundAlikes[token.mended] === undefined;
    const ordinary = message.tongue.common.has(token.word);
    if (mended) slips += weightOf(token, message);
    else if (strange && !ordinary && token.word.length > 1) slips += 1;
  }
  return slips;
}

/** A long word with one slip in it is hardly another word; a short one may be. */
const LONG = 7;

const weightOf = (token: Message['tokens'][number], message: Message): number => {
  if (token.entry?.plan && namesOther(message, token)) return 3;
  return token.word.length >= LONG ? 1 : 2;
};

/** "Getriebe kommt jacj der Pause raus": beside a part that is spelled right a mended one is a guess. */
const namesOther = (message: Message, mended: Message['tokens'][number]): boolean => {
  const at = message.tokens.indexOf(mended);
  const others = message.tokens.flatMap((token, index) =>
    token.entry?.plan === true &&
    token.entry.side === undefined &&
    token.mended === undefined &&
    token.entry.root !== mended.entry?.root
      ? [index]
      : [],
  );
  // "Presure plate": the word beside it is of the same name.
  return others.length > 0 && !others.some((index) => Math.abs(index - at) === 1);
};

/** Asks before a safety-critical step is taken as done from a message with several slips. */
export function doubtSlips(
  acts: readonly Act[],
  message: Message,
  lexicon: Lexicon,
): readonly Act[] {
  const grave = (act: Act) =>
    act.kind === 'done' &&
    act.step !== undefined &&
    lexicon.plan.stepById.get(act.step)?.weight === 'safety-critical';
  if (!acts.some(grave)) return acts;
  if (slipsIn(message) < SLIPS_TO_ASK && !mayTurn(message, acts.filter(grave), lexicon))
    return acts;
  return acts.map((act) =>
    grave(act) ? askedInstead(act, lexicon.plan.stepById.get(act.step ?? '')?.title ?? '') : act,
  );
}
