// "What torque for stage 2": a limit of the plan, with its source and the caution that the maker's data comes first.
import type { Ask, Stage, Step } from '../../../shared/plan.ts';
import type { Act } from '../../../shared/reading.ts';
import type { JobView } from '../../job/view.ts';
import { formatQuantity, type Unit } from '../../trade/units.ts';
import type { Card } from '../card.ts';
import { list } from '../say.ts';

/** The plan's own notice: shown wherever one of its limits is shown. */
export const NOTICE = (view: Pick<JobView, 'plan'>): string => view.plan.notice;

const amount = (value: number, unit: string): string => formatQuantity(value, unit as Unit);

const range = (low: number | undefined, high: number | undefined, unit: string): string => {
  if (low !== undefined && high !== undefined)
    return `${amount(low, unit)} to ${amount(high, unit)}`;
  if (low !== undefined) return `at least ${amount(low, unit)}`;
  if (high !== undefined) return `at most ${amount(high, unit)}`;
  return `in ${unit}`;
};

export const stageWords = (stage: Stage, index: number): string => {
  const parts: string[] = [];
  if (stage.torque !== undefined)
    parts.push(`${amount(stage.torque, stage.unit ?? 'N.m')} ±${stage.tolerance ?? 5} %`);
  if (stage.angle !== undefined)
    parts.push(`${amount(stage.angle, 'deg')} ±${stage['tolerance-angle'] ?? 5}°`);
  return `stage ${index + 1}: ${parts.join(' and ')}`;
};

/** The limit of one thing to report, in words; undefined where it has none. */
export const limitOfAsk = (ask: Ask, stage?: number): string | undefined => {
  switch (ask.kind) {
    case 'quantity':
      return `${ask.of} ${range(ask.min, ask.max, ask.unit)}`;
    case 'drained':
    case 'filled':
      return `${ask.fluid.replaceAll('-', ' ')} ${ask.kind} ${range(ask.min, ask.max, ask.unit ?? 'L')}`;
    case 'tightening':
    case 'loosening': {
      const chosen = ask.stages
        .map((each, index) => ({ each, index }))
        .filter(({ index }) => stage === undefined || index + 1 === stage);
      if (chosen.length === 0) return undefined;
      const what = ask.fasteners ? `${ask.fasteners} ${ask.of}` : ask.of;
      const how = ask.pattern ? `, ${ask.pattern.replaceAll('-', ' ')}` : '';
      return `${what}${how}, ${chosen.map(({ each, index }) => stageWords(each, index)).join('; ')}`;
    }
    case 'clearance':
      return ask.valves
        .map((valve) => `${valve.valve} ${range(valve.min, valve.max, ask.unit ?? 'mm')}`)
        .join('; ');
    case 'code':
      return `${ask.of.replaceAll('-', ' ')} of the form ${ask.form}`;
    default:
      return undefined;
  }
};

const sourceOf = (view: JobView, step: Step, ask: Ask): string | undefined =>
  ('source' in ask ? ask.source : undefined) ?? step.source ?? view.plan.source;

/** Answers a question for a figure of the plan; the step in hand is meant where none is named. */
export const limitCard = (view: JobView, act: Act): Card => {
  const named =
    act.step ??
    view.next.find(({ step }) => hasLimit(view.plan.stepById.get(step), act.stage))?.step;
  const step = named === undefined ? undefined : view.plan.stepById.get(named);
  const found = (step?.report ?? [])
    .map((ask) => ({ ask, says: limitOfAsk(ask, act.stage) }))
    .filter((limit): limit is { ask: Ask; says: string } => limit.says !== undefined);
  if (!step || found.length === 0) {
    const with_ = view.plan.steps
      .filter((each) => hasLimit(each, undefined))
      .map((each) => `"${each.title}"`);
    const says = step
      ? `The plan states no such figure for "${step.title}". It states figures for ${list(with_, 5)}.`
      : `Say which step the figure is for: the plan states figures for ${list(with_, 5)}.`;
    return { text: says, blocks: [{ kind: 'text', text: says }] };
  }
  const sources = [
    ...new Set(
      found.map(({ ask }) => sourceOf(view, step, ask)).filter((source) => source !== undefined),
    ),
  ];
  const says = `${found.map(({ says: limit }) => limit).join('. ')}. For "${step.title}".`;
  const basis = `Source: ${list(sources)}. ${NOTICE(view)}`;
  const assumed =
    act.step === undefined ? ' The step was not named: this is the next one with a figure.' : '';
  return {
    text: `${says}${assumed} ${basis}${step.caution ? ` ${step.caution}` : ''}`,
    blocks: [
      { kind: 'text', text: `${says}${assumed}` },
      { kind: 'text', text: basis },
      ...(step.caution ? [{ kind: 'caution' as const, text: step.caution }] : []),
    ],
  };
};

const hasLimit = (step: Step | undefined, stage: number | undefined): boolean =>
  step?.report?.some((ask) => limitOfAsk(ask, stage) !== undefined) ?? false;
