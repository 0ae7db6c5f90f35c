// Figures: ranges the right way round, stages that say something, and a source for every limit.
import type { DraftAsk } from '../draft.ts';
import { type Path, short } from '../place.ts';
import {
  type MeaningRule,
  type Placed,
  type PlacedStep,
  placed,
  type Say,
  type Survey,
  UNITS_OF_VOLUME,
} from '../survey.ts';

export const figures: MeaningRule = (survey, say) => {
  for (const step of survey.steps) {
    for (const ask of step.asks) {
      range(ask.it, ask.at, `of a report of ${step.says}`, say);
      stages(ask, step, say);
      volume(ask, step, say);
      valves(ask, step, say);
      if (hasLimit(ask.it)) source(ask.it, ask.at, 'a limit', step, survey, say);
    }
    doubledAsks(step, say);
    times(step, say);
    for (const wait of placed(step.it.waits, [...step.at, 'waits'])) {
      source(wait.it, wait.at, 'a waiting time', step, survey, say);
    }
    const { within } = step.it;
    if (within) {
      const at = [...step.at, 'within'];
      if (within.km) range(within.km, [...at, 'km'], `of "within" of ${step.says}`, say);
      source(within, at, 'a time or distance', step, survey, say);
    }
  }
  engine(survey, say);
};

type Range = { readonly min?: number | undefined; readonly max?: number | undefined };

function range(it: object, at: Path, where: string, say: Say): void {
  const { min, max } = it as Range;
  if (typeof min !== 'number' || typeof max !== 'number' || min <= max) return;
  say([...at, 'min'], {
    what: `min ${min} is more than max ${max} ${where}.`,
    expected: 'The smaller figure as min. The ends of a range are allowed values.',
    mend: `Write min: ${max} and max: ${min}, if the two were only exchanged.`,
  });
}

function stages(ask: Placed<DraftAsk>, step: PlacedStep, say: Say): void {
  if (ask.it.kind !== 'tightening' && ask.it.kind !== 'loosening') return;
  for (const { at, it } of placed(ask.it.stages, [...ask.at, 'stages'])) {
    const stage = `Stage ${Number(at.at(-1)) + 1} of ${step.says}`;
    if (it.torque === undefined && it.angle === undefined) {
      say(at, {
        what: `${stage} has neither torque nor angle.`,
        expected: 'A torque, an angle, or both.',
        mend: 'Add "torque: 60" or "angle: 90".',
      });
      continue;
    }
    const idle = (key: 'unit' | 'tolerance' | 'tolerance-angle', needs: 'torque' | 'angle') => {
      if (it[key] === undefined || it[needs] !== undefined) return;
      say([...at, key], {
        what: `${stage} has ${key} and no ${needs}.`,
        expected: `${key} beside the ${needs} it belongs to.`,
        mend: `Add the ${needs}, or take ${key} out.`,
      });
    };
    idle('unit', 'torque');
    idle('tolerance', 'torque');
    idle('tolerance-angle', 'angle');
  }
}

function volume(ask: Placed<DraftAsk>, step: PlacedStep, say: Say): void {
  if (ask.it.kind !== 'drained' && ask.it.kind !== 'filled') return;
  const { unit } = ask.it;
  if (unit === undefined || UNITS_OF_VOLUME.includes(unit)) return;
  say([...ask.at, 'unit'], {
    what: `What is ${ask.it.kind} in ${step.says} is to be reported in ${unit}.`,
    expected: `A unit of volume: ${UNITS_OF_VOLUME.join(', ')}.`,
    mend: 'Write L, with the range in litres.',
  });
}

function valves(ask: Placed<DraftAsk>, step: PlacedStep, say: Say): void {
  if (ask.it.kind !== 'clearance') return;
  const seen = new Set<string>();
  for (const { at, it } of placed(ask.it.valves, [...ask.at, 'valves'])) {
    const name = it.valve ?? '';
    range(it, at, `of valve "${short(name)}" of ${step.says}`, say);
    const { min, max, target } = it;
    const outside =
      target !== undefined &&
      min !== undefined &&
      max !== undefined &&
      min <= max &&
      (target < min || target > max);
    if (outside) {
      say([...at, 'target'], {
        what: `The target ${target} of valve "${short(name)}" of ${step.says} is not within ${min} to ${max}.`,
        expected: 'A target within its own range.',
        mend: 'Correct the target or the range.',
      });
    }
    if (name !== '' && seen.has(name.trim().toLowerCase())) {
      say([...at, 'valve'], {
        what: `Valve "${short(name)}" stands twice in ${step.says}.`,
        expected: 'Each valve once.',
        mend: 'Name the other valve, or take one out.',
      });
    }
    seen.add(name.trim().toLowerCase());
  }
}

function hasLimit(ask: DraftAsk): boolean {
  switch (ask.kind) {
    case 'quantity':
    case 'drained':
    case 'filled':
      return ask.min !== undefined || ask.max !== undefined;
    case 'tightening':
    case 'loosening':
    case 'clearance':
      return true;
    default:
      return false;
  }
}

function source(
  it: object,
  at: Path,
  what: string,
  step: PlacedStep,
  survey: Survey,
  say: Say,
): void {
  const own = (it as { readonly source?: string | undefined }).source;
  if (own !== undefined || step.it.source !== undefined || survey.plan.source !== undefined) return;
  say(at, {
    what: `S${step.says.slice(1)} has ${what} without a source.`,
    expected: 'Where the figure comes from: beside it, in its step, or once for the plan.',
    mend: 'Add "source: ..." with the document and its date.',
  });
}

/** Two reports of one step that go by the same name could not be told apart in a message. */
function doubledAsks(step: PlacedStep, say: Say): void {
  const seen = new Set<string>();
  for (const { at, it } of step.asks) {
    if (it.kind === undefined) continue;
    const about: string[] = [it.kind];
    for (const key of ['of', 'fluid', 'part', 'do', 'ask'] as const) {
      const value = (it as Readonly<Record<string, unknown>>)[key];
      if (typeof value === 'string') about.push(value.trim().toLowerCase());
    }
    const name = about.join(' ');
    if (seen.has(name)) {
      say(at, {
        what: `S${step.says.slice(1)} asks twice for "${short(name)}".`,
        expected: 'Each thing to report once in a step.',
        mend: 'Give one another name (of, fluid, part), or put it in a step of its own.',
      });
    }
    seen.add(name);
  }
}

function times(step: PlacedStep, say: Say): void {
  const { best, likely, worst } = step.it.time ?? {};
  if (best === undefined || likely === undefined || worst === undefined) return;
  if (best <= likely && likely <= worst) return;
  say([...step.at, 'time'], {
    what: `The time of ${step.says} is best ${best}, likely ${likely}, worst ${worst}.`,
    expected: 'best no more than likely, likely no more than worst, in minutes.',
    mend: 'Put the three in order.',
  });
}

function engine(survey: Survey, say: Say): void {
  const order = survey.plan.engine?.['firing-order'] ?? [];
  for (const [index, cylinder] of order.entries()) {
    if (cylinder === undefined) continue;
    const twice = order.indexOf(cylinder) !== index;
    if (!twice && cylinder <= order.length) continue;
    say(['engine', 'firing-order', index], {
      what: twice
        ? `Cylinder ${cylinder} stands twice in the firing order.`
        : `The firing order has ${order.length} cylinders and names number ${cylinder}.`,
      expected: 'Each cylinder from 1 up, once.',
      mend: 'Correct the firing order.',
    });
  }
}
