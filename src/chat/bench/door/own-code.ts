// On a shared tablet the poster is only chosen: a release or an independent check takes that person's own code.
import type { Delivery } from '../../../../shared/delivery.ts';
import { timeWords } from '../draw/time-words.ts';
import { type Refusal, refusal } from '../refusal.ts';
import type { BenchParts, Looking } from './bench-parts.ts';
import { ownCodeKey } from './tries.ts';

/** A delivery may be handed in; `isProved` where the own code went with it and was the right one. */
type MayGo = { readonly isProved: boolean };

/** @returns why the delivery is not taken from this device yet, or that it may go */
export async function ownCodeAsked(
  parts: BenchParts,
  frame: Looking,
  delivery: Delivery,
  code: string | undefined,
): Promise<Refusal | MayGo> {
  const { door, intake } = parts;
  const { tablet, who } = frame;
  const asChosen = { isProved: false };
  if (door === undefined || tablet === undefined || who === undefined) return asChosen;
  const what = await intake.ownWordIn?.(delivery);
  if (what === undefined) return asChosen;
  if (!(await door.passes.ownCodes([who])).has(who)) {
    return refusal(
      403,
      `${what} takes ${who}'s own code, and ${who} has none yet.`,
      `${who} sets one on their own phone under "My pass", or does it from there.`,
    );
  }
  if (code === undefined) {
    return refusal(
      401,
      `${what} takes ${who}'s own code: on ${tablet} the name is only chosen.`,
      'Type the code, or do it from your own phone.',
      'code',
    );
  }
  const nowMs = Date.parse(frame.now);
  const key = ownCodeKey(who);
  const closed = await door.tries.take(key, false, nowMs);
  if (closed !== undefined) {
    return refusal(
      429,
      `Too many wrong codes for ${who}: none is taken until ${timeWords(new Date(closed).toISOString(), frame)}.`,
      'Do it from your own phone, or ask the controller.',
    );
  }
  if (await door.passes.ownCodeFits(who, code)) {
    await door.tries.right(key, nowMs);
    return { isProved: true };
  }
  return refusal(401, 'This code is not the one.', `Type ${who}'s own code again.`, 'code');
}
