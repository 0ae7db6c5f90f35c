// What the acts of one message say of one another: contradictions, a doubt at the end, a look that found work undone.
import type { Act } from '../../../shared/reading.ts';
import { askedInstead } from '../asked-instead.ts';
import type { Lexicon } from '../lexicon.ts';
import type { Message } from '../message.ts';

/** What the same message also calls not done is not done; what it calls done is not only begun. */
export function settleContradictions(acts: readonly Act[], lexicon: Lexicon): Act[] {
  return acts.filter((act, index) => {
    // "Pipe nuts torqued? not a chance": who answers himself asks nobody.
    if (act.kind === 'asks' && act.command === undefined)
      return !acts
        .slice(index + 1)
        .some((one) => one.step === act.step && /^(done|partial|not-done|started)$/.test(one.kind));
    if (act.kind === 'started')
      return !acts
        .slice(0, index)
        .some(
          (one) =>
            one.kind === 'done' &&
            one.step === act.step &&
            act.positions.every((position) => one.positions.includes(position)),
        );
    // "Odd cylinders done, pulled the injectors on them": the plainer words answer the question.
    // "One clip is missing; five of six are fitted" counts what is wanting.
    if (act.kind === 'finding' && act.step !== undefined)
      return !acts.some(
        (one) =>
          one.kind === 'partial' &&
          one.count?.of !== undefined &&
          /\b(?:missing|left|seized|stuck|short)\b/.test(act.note ?? ''),
      );
    if (act.kind === 'unsure' && act.step === undefined && act.candidates)
      return !acts.some(
        (one) =>
          one !== act &&
          (one.kind === 'done' || (one.kind === 'not-done' && one.positions.length === 0)) &&
          one.span[0] !== act.span[0] &&
          act.candidates?.some((candidate) => candidate.step === one.step),
      );
    if (act.kind === 'unsure' && act.step !== undefined && !act.quantity)
      return !acts.some(
        (one) =>
          one.kind === 'done' &&
          one.step === act.step &&
          act.stage === undefined &&
          act.positions.every((position) => one.positions.includes(position)),
      );
    if (act.kind !== 'done' && act.kind !== 'partial') return true;
    if (act.step === undefined || lexicon.plan.stepById.get(act.step)?.weight === undefined)
      return true;
    return !acts.some(
      (one) =>
        one.kind === 'not-done' &&
        one.step === act.step &&
        one.stage === act.stage &&
        (one.positions.length === 0 ||
          one.positions.some((position) => act.positions.includes(position))) &&
        one.count === undefined,
    );
  });
}

/** "Gearbox out and down apparently": a doubt at the very end is about all that was said. */
export function doubtedAtTheEnd(
  acts: readonly Act[],
  message: Message,
  lexicon: Lexicon,
): readonly Act[] {
  const last = message.clauses.at(-1);
  const end = last?.pieces.at(-1);
  const doubt = end?.cues.find((cue) => cue.name === 'doubt' && cue.to >= end.to - 1);
  if (!last || !end || !doubt || end.joint === ',') return acts;
  return acts.map((act) => {
    if (act.kind !== 'done' || act.step === undefined) return act;
    if (lexicon.plan.stepById.get(act.step)?.weight !== 'safety-critical') return act;
    return askedInstead(act, lexicon.plan.stepById.get(act.step)?.title ?? act.step);
  });
}

/** "I looked over the pipes, but three plugs are still off": a look that found work undone is in doubt. */
export function doubtLooks(acts: readonly Act[], message: Message, lexicon: Lexicon): Act[] {
  if (acts.length < 2) return [...acts];
  const but = message.tokens.some((token) => /^(but|only|though|aber|nur)$/.test(token.word));
  return acts.map((act, index) => {
    if (!but || act.kind !== 'done' || act.quantity || act.step === undefined) return act;
    const phrases = message.tongue.steps.find((step) => step.id === act.step)?.phrases ?? [];
    const looks = phrases.some(
      (phrase) => phrase.from === 'title' && phrase.classes.includes('check'),
    );
    const grave = lexicon.plan.stepById.get(act.step)?.weight === 'safety-critical';
    const undone = acts
      .slice(index + 1)
      .some((one) => one.step !== act.step && !/^(done|asks|command|clock)$/.test(one.kind));
    if (!looks || !grave || !undone) return act;
    return askedInstead(act, lexicon.plan.stepById.get(act.step)?.title ?? act.step);
  });
}
