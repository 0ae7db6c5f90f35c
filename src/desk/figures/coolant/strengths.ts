// "at 30 percent to 50", "reads -15, want -37": how strong a coolant is, shall be, and what is filled in.
import type { Strength } from '../../../trade/coolant/dilution.ts';
import { type Asked, aroundSaid, kindOfSaid, type Said } from '../asking/asked.ts';

export type StrengthsSaid = {
  readonly have?: Said;
  readonly target?: Said;
  /** Per cent of what is filled in; undefined where nothing is said of it. */
  readonly fill?: number;
};

const WORDS =
  '(?:\\s*(?:is|at|of|a|an|it|the|with|be|=|:|mixture|mix|coolant|glycol|only|to|get|auf|ist|von))*\\s*$';
const HAVE = new RegExp(
  `(?:\\b(?:at|from|reads?|reading|shows?|showing|tester|measured|measures|has|have|is|now|currently|zeigt|von|aus|bei)|^|[,(])${WORDS}`,
);
const TARGET = new RegExp(
  `\\b(?:to|want|wants|wanted|need|needs|target|reach|get|make|for|should|soll|auf|until|up to)${WORDS}`,
);
const FILL = new RegExp(
  `\\b(?:fill(?:ing|ed)?|refill(?:ing|ed)?|top(?:ped|ping)?(?: it)? up|top up|using|with|mit)(?:\\s*(?:with|in|up|it|again|mit))*${WORDS}`,
);
const NEAT = /\b(?:concentrate|neat|undiluted|pure (?:antifreeze|glycol)|konzentrat|100 ?%)\b/;
const WATER =
  /\b(?:with|fill|refill|using|top(?:ping)? up with|mit) (?:plain |clean |just )?(?:water|wasser)\b/;

/** A figure that may be a strength: per cent, a temperature, or a bare number, which takes the unit of another one. */
function mayBeStrength(said: Said): boolean {
  const kind = kindOfSaid(said);
  return kind === undefined || kind === 'percentage' || kind === 'temperature';
}

/** The strengths among the figures of a question, by the words before each. */
export function strengthsIn(asked: Asked): StrengthsSaid {
  let have: Said | undefined;
  let target: Said | undefined;
  let fill: number | undefined;
  for (const said of asked.figures.filter(mayBeStrength)) {
    const { before } = aroundSaid(asked, said);
    if (kindOfSaid(said) !== 'temperature' && FILL.test(before) && said.value >= 0) {
      fill ??= said.value;
    } else if (!target && TARGET.test(before)) target = said;
    else if (!have && (HAVE.test(before) || /^\s*$/.test(before))) have = said;
  }
  if (fill === undefined && WATER.test(asked.plain)) fill = 0;
  if (fill === undefined && NEAT.test(asked.plain)) fill = 100;
  return {
    ...(have ? { have } : {}),
    ...(target ? { target } : {}),
    ...(fill === undefined ? {} : { fill }),
  };
}

/** A strength for the calculation. A bare number is a temperature where it is below nought or the other one is. */
export function strengthOf(said: Said, other: Said | undefined): Strength {
  const cold = (each: Said | undefined) =>
    each !== undefined &&
    (kindOfSaid(each) === 'temperature' || (each.unit === undefined && each.value < 0));
  if (said.unit === '%') return { percent: said.value };
  if (said.unit !== undefined) return { freezesAt: { value: said.value, unit: said.unit } };
  if (said.value < 0) return { freezesAt: { value: said.value, unit: 'Cel' } };
  return cold(other) && other?.unit !== '%'
    ? { freezesAt: { value: said.value, unit: other?.unit ?? 'Cel' } }
    : { percent: said.value };
}

/** Whether the words make it a matter of coolant strength at all: a per cent sign, a temperature, or the word. */
export function speaksOfStrength(asked: Asked): boolean {
  return (
    asked.figures.some(
      (said) =>
        said.unit === '%' ||
        kindOfSaid(said) === 'temperature' ||
        (said.unit === undefined && said.value < 0),
    ) ||
    /\b(?:glycol|antifreeze|coolant|concentration|mix|frostschutz|kühlmittel)\b/.test(asked.plain)
  );
}
