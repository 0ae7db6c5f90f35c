// "… for clamp stage 2": the stage of the plan's tightening that a question means.
import type { JobView } from '../../../job/view.ts';
import type { Unit } from '../../../trade/units.ts';
import type { Asked } from '../asking/asked.ts';
import { asks, type Reply } from '../figure-kind.ts';
import {
  asksIn,
  askWhichStep,
  named,
  type Placed,
  sourceOf,
  stageInWords,
  stageSaid,
  torqueUnit,
} from '../plan-figure.ts';

type Tight = 'tightening' | 'loosening';

/** A stage of the plan by name: step, fasteners, number from 1. */
export type PlanStage = { readonly step: string; readonly of: string; readonly stage: number };

export type NamedStage = PlanStage & {
  readonly torque: number | undefined;
  readonly unit: Unit;
  readonly angle: number | undefined;
};

/**
 * The stage a question names in words of the plan. Undefined: it names no tightening of this plan. A reply: it names
 * several steps or stages alike.
 * @param part what the stage must have to be meant where no number is said
 */
function namedStage(
  asked: Asked,
  view: JobView | undefined,
  part: 'torque' | 'angle',
): NamedStage | { readonly reply: Reply } | undefined {
  if (!view) return undefined;
  const tight = asksIn(view, ['tightening']);
  const loose = asksIn(view, ['loosening']);
  const among = /\b(?:loosen|slacken|undo|lösen)/.test(asked.plain) ? loose : tight;
  const found = named<Tight>(view, asked.plain, among);
  const [placed] = found;
  if (!placed) return undefined;
  if (new Set(found.map(({ step }) => step.id)).size > 1) return askWhichStep(asked, found);
  const { stages, of } = placed.ask;
  const said = stageSaid(asked.plain);
  const fitting = stages.flatMap((stage, index) => (stage[part] === undefined ? [] : [index + 1]));
  const only = fitting.length === 1 ? fitting[0] : undefined;
  const number = said === 'last' ? stages.length : (said ?? only);
  const stage = number === undefined ? undefined : stages[number - 1];
  if (number !== undefined && stage) {
    return {
      step: placed.step.id,
      of,
      stage: number,
      torque: stage.torque,
      unit: torqueUnit(stage),
      angle: stage.angle,
    };
  }
  if (number !== undefined) {
    return asks(
      `"${placed.step.title}" has ${stages.length} ${stages.length === 1 ? 'stage' : 'stages'}, not ${number}. Say which one is meant.`,
    );
  }
  return asks(
    `Which stage of "${placed.step.title}"?`,
    stages.map((each, index) => ({
      label: `Stage ${index + 1}: ${stageInWords(each)}`,
      text: `${asked.plain} stage ${index + 1}`,
    })),
  );
}

function placedStage(view: JobView, { step, of }: PlanStage): Placed<Tight> | undefined {
  return asksIn(view, ['tightening', 'loosening']).find(
    (placed) => placed.step.id === step && placed.ask.of === of,
  );
}

export const planStage = { named: namedStage, placed: placedStage, source: sourceOf };
