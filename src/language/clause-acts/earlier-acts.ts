// What a clause changes in the acts before it: doubts them, adds to them, makes them a part.

import type { Act } from '../../../shared/reading.ts';
import { askedInstead } from '../asked-instead.ts';
import { nearest } from '../match/kinship.ts';
import type { Wanted } from '../match/score.ts';
import type { ReadSoFar } from './so-far.ts';

/** "Leaks checked, two weeping": a check that found something is a finding, never done. */
export function withdrawGoodResult(soFar: ReadSoFar): void {
  const last = soFar.acts.at(-1);
  const step = soFar.focus?.step;
  if (last?.kind !== 'done' || !step || step.id !== last.step) return;
  const looks = step.phrases.some(
    (phrase) =>
      phrase.from === 'title' &&
      phrase.classes.some((one) => one === 'check' || one === 'test' || one === 'measure'),
  );
  if (looks && !last.quantity) {
    const { kind: _, step: _step, ...rest } = last;
    soFar.acts[soFar.acts.length - 1] = {
      ...rest,
      kind: 'finding',
      note: 'a check that found something',
    };
  }
}

/** "Lowered, still on the jack": what was reported just before is no longer certain. */
export function doubtLast(soFar: ReadSoFar): void {
  const last = soFar.acts.at(-1);
  if (last?.kind !== 'done' || soFar.focus === undefined || soFar.focus.step.id !== last.step)
    return;
  soFar.acts[soFar.acts.length - 1] = askedInstead(last, soFar.focus.step.title);
}

/** Families of work said for an act, for what another clause says of the same step. */

/** "Cotter in, nut not": another part of the same step. */
const namesOther = (wanted: Wanted, before: Wanted): boolean => {
  const own = [...wanted.parts].filter(([, value]) => value > 0.9).map(([root]) => root);
  return own.length > 0 && own.every((root) => !before.parts.has(root));
};

/** "Prop on, bolts not torqued": one work of a step is done and another is not, so it is done in part. */
export function leavesPartOpen(soFar: ReadSoFar, act: Act, wanted: Wanted): boolean {
  if (act.kind !== 'not-done' || act.count !== undefined) return false;
  const at = soFar.acts.findIndex(
    (one) =>
      (one.kind === 'done' || one.kind === 'partial') &&
      one.step === act.step &&
      one.stage === undefined &&
      act.stage === undefined &&
      (act.positions.length === 0 || one.positions.join() === act.positions.join()),
  );
  const old = soFar.acts[at];
  const before = old === undefined ? undefined : soFar.said.get(old);
  if (!old || !before) return false;
  const other =
    wanted.classes.length > 0
      ? before.classes.length > 0 && nearest(before.classes, wanted.classes) < 0.5
      : wanted.lemmas.length > 0
        ? !wanted.lemmas.some((lemma) => before.lemmas.includes(lemma))
        : namesOther(wanted, before);
  if (!other) return false;
  soFar.acts[at] = { ...old, kind: 'partial' };
  return true;
}

/** A second word for the same report adds its figures instead of standing beside it. */
export function mergesInto(acts: Act[], act: Act): boolean {
  const at = acts.findIndex(
    (one) =>
      one.kind === act.kind &&
      one.step === act.step &&
      one.step !== undefined &&
      one.kind !== 'unsure',
  );
  const old = acts[at];
  if (!old) return false;
  const samePlace = old.positions.join() === act.positions.join();
  if (!samePlace) return false;
  for (const field of ['quantity', 'angle', 'stage', 'count', 'code'] as const) {
    if (
      old[field] !== undefined &&
      act[field] !== undefined &&
      JSON.stringify(old[field]) !== JSON.stringify(act[field])
    )
      return false;
  }
  if (
    (old.stage === undefined) !== (act.stage === undefined) &&
    (old.quantity || old.angle || act.quantity || act.angle) &&
    old.stage !== undefined &&
    act.quantity
  )
    return false;
  acts[at] = {
    ...act,
    ...old,
    ...(old.renewed && act.renewed
      ? { renewed: [...new Set([...old.renewed, ...act.renewed])] }
      : {}),
    assumed: [...new Set([...old.assumed, ...act.assumed])],
    span: [Math.min(old.span[0], act.span[0]), Math.max(old.span[1], act.span[1])],
  };
  return true;
}
