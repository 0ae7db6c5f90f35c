// The one question a report brings that says a step is done and leaves its figure out.
import type { Ask, Step } from '../../../shared/plan.ts';
import type { Act } from '../../../shared/reading.ts';
import { questionId } from '../facts/answers.ts';
import type { Fact } from '../facts/fact.ts';
import type { Want } from '../view.ts';
import { expected, listed, titled } from '../words.ts';
import type { Job } from './job.ts';
import type { Progress } from './progress.ts';

/** For each message one question about each step it leaves without a figure. */
export function askForFigures(job: Job): readonly Want[] {
  return job.graph.nodes.flatMap(({ id, step: stepId, onJob }) => {
    const step = job.plan.stepById.get(stepId);
    const run = job.done.latest(id);
    if (!onJob || step === undefined || run?.claim === undefined || run.state === 'done') return [];
    const whole = run.cycle.facts.find(({ report: { act } }) => saysAll(act));
    if (whole === undefined || run.missing.length === 0) return [];
    const { message } = whole.report;
    return [
      {
        question: questionId(message, 'figure', stepId),
        message,
        about: 'figure',
        asks: `${titled(job, stepId)} still needs ${listed(wanted(step, run))}.`,
        choices: choicesFor(step, run, whole),
      },
    ];
  });
}

/** "All torqued": said to be done as a whole, not one stage or some of the parts. */
const saysAll = (act: Act): boolean =>
  act.kind === 'done' &&
  act.stage === undefined &&
  (act.count === undefined || act.count.done >= (act.count.of ?? act.count.done));

function wanted(step: Step, run: Progress): readonly string[] {
  const limit = step.report?.find(
    (ask) => ask.kind === 'quantity' || ask.kind === 'drained' || ask.kind === 'filled',
  );
  if (limit === undefined || !('min' in limit || 'max' in limit) || run.missing.length !== 1) {
    return run.missing;
  }
  const { min, max } = limit;
  const range = expected({
    ...(min !== undefined && { min }),
    ...(max !== undefined && { max }),
    unit: limit.unit ?? 'L',
  });
  return run.missing.map((what) => `${what} (${range} expected)`);
}

/** What can be answered with one tap: as the plan has it. A measured figure has to be typed. */
function choicesFor(step: Step, run: Progress, whole: Fact): Want['choices'] {
  const { act } = whole.report;
  const acts = (step.report ?? []).map((ask) => plannedActs(ask, act, run));
  if (acts.length !== 1 || acts[0] === undefined || acts[0].acts.length === 0) return [];
  return [{ says: acts[0].says, acts: [...acts[0].acts] }];
}

function plannedActs(
  ask: Ask,
  act: Act,
  run: Progress,
): { readonly says: string; readonly acts: readonly Act[] } | undefined {
  switch (ask.kind) {
    case 'tightening':
    case 'loosening': {
      const left = ask.stages
        .map((_, index) => index + 1)
        .filter((stage) => !run.stages?.done.includes(stage));
      return {
        says: left.length === 1 ? 'As the plan says' : 'All stages, as the plan says',
        acts: left.map((stage) => ({ ...act, stage })),
      };
    }
    case 'off':
    case 'on':
      return {
        says: `All ${ask.count}`,
        acts: [{ ...act, count: { done: ask.count, of: ask.count } }],
      };
    case 'clearance':
      return {
        says: 'All at the target',
        acts: ask.valves.map(({ valve, target }) => ({
          ...act,
          valve,
          quantity: { value: target, unit: ask.unit ?? 'mm' },
          assumed: [...act.assumed, `clearance of ${valve}: the plan's target`],
        })),
      };
    case 'trouble-codes':
      return { says: 'There were none', acts: [{ ...act, count: { done: 0 } }] };
    default:
      return undefined;
  }
}
