// "About to fit the injectors": one line before the harm, when a safety-critical step is still missing.
import type { Act } from '../../../shared/reading.ts';
import type { JobView } from '../../job/view.ts';
import { ORDER } from '../cards/gather.ts';
import { list, stepTitle } from '../say.ts';
import type { Piece } from './turn.ts';

/** Safety-critical steps before a step that have no record, at the same position where both run over the same set. */
export const missingBefore = (
  view: JobView,
  step: string,
  positions: readonly string[],
): readonly string[] => {
  const own = view.plan.stepById.get(step);
  const before = view.plan.before.get(step) ?? new Set<string>();
  return view.plan.steps
    .filter((each) => before.has(each.id) && each.weight === 'safety-critical')
    .filter((each) =>
      view.steps.some(
        (progress) =>
          progress.step === each.id &&
          progress.state !== 'done' &&
          progress.state !== 'not-on-job' &&
          (progress.position === null ||
            positions.length === 0 ||
            each.each !== own?.each ||
            positions.includes(progress.position)),
      ),
    )
    .map((each) => each.id);
};

/** At most one line, for everything the message says it is about to do. */
export const warnAhead = (view: JobView, acts: readonly Act[]): readonly Piece[] => {
  for (const act of acts) {
    if (act.kind !== 'intends' || act.step === undefined) continue;
    const missing = missingBefore(view, act.step, act.positions);
    if (missing.length === 0) continue;
    const states =
      view.vehicleState.length > 0
        ? ` Vehicle now: ${list(view.vehicleState.map((state) => state.title.toLowerCase()))}.`
        : '';
    const text = `Before "${stepTitle(view, act.step)}": ${list(
      missing.map((step) => `"${stepTitle(view, step)}"`),
      3,
    )} has no record yet.${states} Report it first, or ask the controller.`;
    return [
      { order: ORDER.warning, card: { text, level: 'caution', blocks: [{ kind: 'text', text }] } },
    ];
  }
  return [];
};
