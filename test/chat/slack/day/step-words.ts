// What a technician posts for a step of a shipped plan: the plan's own words, with the figures, counts and parts it asks for.
import type { Plan } from '../../../../src/job/plan.ts';

type Step = Plan['steps'][number];
export type Random = () => number;

const pick = <T>(random: Random, from: readonly T[]): T => {
  const found = from[Math.floor(random() * from.length)];
  if (found === undefined) throw new Error('There is nothing to pick from.');
  return found;
};

const UNIT: Readonly<Record<string, string>> = { Cel: 'deg', '%': '%' };

/** A figure between two limits, not at their edge, with so many decimals as the limits have. */
const between = (random: Random, min: number, max: number): string => {
  const decimals = max - min < 2 ? 2 : 0;
  const low = min + (max - min) * 0.25;
  return (low + random() * (max - min) * 0.5).toFixed(decimals);
};

/** What is drained goes back in: one figure for a fluid, in the middle of what the plan takes. */
const litres = (plan: Plan, fluid: string): string => {
  let min = 0;
  let max = Number.POSITIVE_INFINITY;
  for (const step of plan.steps)
    for (const asked of step.report ?? []) {
      if (asked.kind !== 'filled' && asked.kind !== 'drained') continue;
      if (asked.fluid !== fluid) continue;
      min = Math.max(min, asked.min ?? 0);
      max = Math.min(max, asked.max ?? max);
    }
  return ((min + max) / 2).toFixed(max - min < 2 ? 2 : 0);
};

/** Posts for one step at one place, in order; several where it is tightened or loosened in stages. */
export const stepWords = (
  plan: Plan,
  step: Step,
  position: string | null,
  random: Random,
): readonly string[] => {
  const said = step.words?.[0] ?? step.title.toLowerCase();
  const where = position === null ? '' : ` ${position}`;
  const extras: string[] = [];
  let stages: readonly string[] = [];
  for (const asked of step.report ?? []) {
    if (asked.kind === 'drained' || asked.kind === 'filled')
      extras.push(`${litres(plan, asked.fluid)} L`);
    if (asked.kind === 'quantity') {
      const max = asked.max ?? (asked.min ?? 0) + 1;
      const min = asked.min ?? max * 0.4;
      const figure = between(random, min, max);
      extras.push(`${asked.of} ${figure} ${UNIT[asked.unit] ?? asked.unit}`);
    }
    if (asked.kind === 'on' || asked.kind === 'off')
      extras.push(`${asked.count} ${asked.words?.[0] ?? asked.part} ${asked.kind}`);
    if (asked.kind === 'tightening' || asked.kind === 'loosening')
      stages = asked.stages.map((stage, index) => {
        const size =
          'torque' in stage && stage.torque !== undefined
            ? `${stage.torque} Nm`
            : `${stage.angle} deg`;
        return `stage ${index + 1} ${size}`;
      });
  }
  for (const { part, count } of step.renew ?? [])
    extras.push(`new ${part}${count !== undefined && count > 1 ? ` x${count}` : ''}`);
  const tail = extras.length > 0 ? `, ${extras.join(', ')}` : '';
  if (stages.length === 0) return [`${said}${where}${tail}`];
  return stages.map((stage, index) => `${said}${where} ${stage}${index === 0 ? tail : ''}`);
};

export { pick };
