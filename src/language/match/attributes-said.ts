// What a clause says beside the figures of an act: the tool, the parts that are new, the valve.
import type { Act } from '../../../shared/reading.ts';
import type { Plan } from '../../job/plan.ts';
import { type Clause, figuresOf } from '../clause.ts';
import type { Tongue } from '../lexicon.ts';
import type { Figure } from '../scan/figure.ts';
import { partsRenewed } from './parts-renewed.ts';
import type { StepPhrases } from './phrases.ts';
import { valveSaid } from './valve-said.ts';

const REPORTS: ReadonlySet<Act['kind']> = new Set(['done', 'partial', 'started', 'unsure']);

/** The tool of a clause: named as one, or a short mark of letters and digits where the step asks for a tool. */
function toolSaid(step: StepPhrases, figures: readonly Figure[]): string | undefined {
  const tool = figures.find((figure) => figure.kind === 'tool');
  if (tool?.kind === 'tool') return tool.tool;
  const asks = step.step?.report ?? [];
  const wantsTool = asks.some((ask) => 'tool' in ask && ask.tool !== undefined);
  const wantsCode = asks.some((ask) => ask.kind === 'code');
  if (!wantsTool || wantsCode) return undefined;
  const mark = figures.find(
    (figure) => figure.kind === 'code' && /^[a-z]{1,4}-?\d{1,4}$/i.test(figure.code),
  );
  return mark?.kind === 'code' ? mark.code : undefined;
}

/** Adds tool, renewed parts and valve to an act that reports. */
export function withAttributes(
  act: Act,
  step: StepPhrases,
  clause: Clause,
  plan: Plan,
  tongue: Tongue,
): Act {
  if (!REPORTS.has(act.kind)) return act;
  const tool = toolSaid(step, figuresOf(clause));
  const renewed = partsRenewed(step.step, clause, plan, tongue);
  const valve = valveSaid(step.step, clause, act.quantity?.value);
  if (renewed === undefined && tool === undefined && valve === undefined) return act;
  return {
    ...act,
    ...(renewed === undefined ? {} : { renewed }),
    ...(tool === undefined ? {} : { tool }),
    ...(valve === undefined ? {} : { valve }),
  };
}
