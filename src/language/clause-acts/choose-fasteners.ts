// Bolts and nuts named alone belong to the part that was spoken of before.
import { stepsBehind } from '../match/figure-of-another.ts';
import type { StepPhrases } from '../match/phrases.ts';
import type { Wanted } from '../match/score.ts';
import type { Message } from '../message.ts';
import type { Stance } from '../stance.ts';
import type { Focus } from './so-far.ts';

/** Words for what holds any part: whose they are is told by what was spoken of before. */
export const FASTENERS = /^(bolt|nut|screw|stud|clip|fastener|schraube|schraub|mutter)$/;

/** "Gearbox in, bolts finger tight": the bolts are those that are tightened once it is in. */
export function ofTheirPart(
  wanted: Wanted,
  focus: Focus | undefined,
  stance: Stance,
  message: Message,
): StepPhrases | undefined {
  if (focus?.from !== '' || wanted.unknown > 0) return undefined;
  const roots = [...wanted.parts].filter(([, value]) => value > 0.9).map(([root]) => root);
  if (roots.length === 0 || !roots.every((root) => FASTENERS.test(root))) return undefined;
  const bare = wanted.classes.length === 0 && !wanted.calledDone && stance.kind !== 'done';
  if (!bare && !wanted.classes.includes('tighten')) return undefined;
  const tightens = (one: StepPhrases) => one.step?.report?.some((ask) => ask.kind === 'tightening');
  const fits = focus.step.phrases.some(
    (phrase) =>
      phrase.from === 'title' && phrase.classes.some((one) => /^(fit|renew|connect)$/.test(one)),
  );
  if (!fits) return undefined;
  if (tightens(focus.step)) return focus.step;
  for (const one of stepsBehind(focus.step, message))
    if (
      tightens(one) &&
      one.phrases.some((phrase) => roots.every((root) => phrase.parts.has(root)))
    )
      return one;
  return undefined;
}
