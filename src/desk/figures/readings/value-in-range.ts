// "is 0.05 ok for end play", "is 12.4 v ok, min 12.5": a reading against the plan's limits or those given.
import type { Ask } from '../../../../shared/plan.ts';
import { sayAnswer } from '../../../trade/answer.ts';
import { checkElectrical } from '../../../trade/electrical-reading.ts';
import { found, type Result, refused } from '../../../trade/result.ts';
import {
  convert,
  formatQuantity,
  isUnit,
  kindOf,
  type Quantity,
  type Unit,
} from '../../../trade/units.ts';
import { type Asked, aroundSaid, kindOfSaid, quantityOf, type Said } from '../asking/asked.ts';
import {
  answerOf,
  asks,
  figureKind,
  type Ground,
  means,
  type Read,
  type Reply,
} from '../figure-kind.ts';
import {
  asksIn,
  askWhichStep,
  fromPlan,
  isLabel,
  named,
  type Placed,
  sourceOf,
} from '../plan-figure.ts';
import { asksWhetherInRange } from './in-range-words.ts';
import { limitsIn } from './limits-said.ts';

type Limited = Extract<Ask['kind'], 'quantity' | 'drained' | 'filled'>;

export type RangeInputs = {
  readonly what: string;
  readonly reading: Quantity;
  readonly low?: number;
  readonly high?: number;
  /** Of the limits. */
  readonly unit: Unit;
  readonly from?: { readonly step: string; readonly of: string };
};

export const valueInRange = figureKind<RangeInputs>({
  kind: 'in-range',
  means: "a reading against the plan's limits, or against limits given with it",
  examples: [
    {
      type: 'is 55 ok for coolant temperature',
      plan: 'injectors-six-cylinder',
      means: {
        what: 'coolant temperature',
        reading: { value: 55, unit: 'Cel' },
        high: 50,
        unit: 'Cel',
        from: { step: 'let-cool', of: 'coolant temperature' },
      },
    },
    {
      type: 'battery 12.4 v ok? min 12.5',
      means: { what: 'battery', reading: { value: 12.4, unit: 'V' }, low: 12.5, unit: 'V' },
    },
    {
      type: 'is 0.6 ohm ok for the injector, limits 0.3 to 0.5',
      means: {
        what: 'injector',
        reading: { value: 0.6, unit: 'Ohm' },
        low: 0.3,
        high: 0.5,
        unit: 'Ohm',
      },
    },
  ],
  read,
  answer,
});

function answer({ what, reading, low, high, unit, from }: RangeInputs, { view }: Ground): Reply {
  const placed =
    from &&
    asksIn(view, ['quantity', 'drained', 'filled']).find(
      (each) => each.step.id === from.step && subjectOf(each.ask) === from.of,
    );
  const value = convert(reading.value, reading.unit, unit);
  if (typeof value !== 'number') return { says: `${value.what} ${value.doThis}` };
  const electrical = ['voltage', 'current', 'resistance'].includes(kindOf(unit));
  const limits = {
    ...(low === undefined ? {} : { low }),
    ...(high === undefined ? {} : { high }),
    ...(placed ? {} : { of: 'the limits given' }),
  };
  const result = electrical
    ? checkElectrical({ what, value, unit, limits })
    : inRange(
        what,
        { value, unit },
        { low, high },
        placed && view ? sourceOf(view, placed) : undefined,
      );
  const reply = answerOf(result);
  return result.ok && placed && view ? fromPlan(view, placed, reply) : reply;
}

/** A reading against two ends, both allowed. Refused: a volume, a mass or the like below nought. */
function inRange(
  what: string,
  { value, unit }: Quantity,
  { low, high }: { readonly low: number | undefined; readonly high: number | undefined },
  source: string | undefined,
): Result<{ readonly answer: string }> {
  if (value < 0 && ['volume', 'mass', 'distance', 'duration'].includes(kindOf(unit))) {
    return refused(`${formatQuantity(value, unit)} is below nought.`, 'Check the figure.');
  }
  const side =
    value < (low ?? -Infinity) ? 'below' : value > (high ?? Infinity) ? 'above' : 'within';
  const ends = [
    low === undefined ? '' : `at least ${formatQuantity(low, unit)}`,
    high === undefined ? '' : `at most ${formatQuantity(high, unit)}`,
  ].filter((end) => end !== '');
  return found({
    answer: sayAnswer({
      figure: `${formatQuantity(value, unit)} ${what} is ${side} the limits`,
      basis: ends.join(', '),
      cautions: side === 'within' ? [] : ['Measure again before going on.'],
      source,
    }),
  });
}

const subjectOf = (ask: Placed<Limited>['ask']): string =>
  ask.kind === 'quantity' ? ask.of : `${ask.fluid.replaceAll('-', ' ')} ${ask.kind}`;

function read(asked: Asked, ground: Ground): Read<RangeInputs> {
  if (!asksWhetherInRange(asked)) return undefined;
  const figures = asked.figures.filter((said) => !isLabel(asked, said.from));
  const limits = limitsIn(asked, figures);
  const given = figures.filter((said) => !limits.used.includes(said));
  const [reading] = given;
  if (!reading || given.length !== 1) return undefined;
  if (limits.low !== undefined || limits.high !== undefined) {
    const unit = reading.unit ?? limits.unit;
    if (unit === undefined) return undefined;
    return means({
      what: whatIn(asked, reading),
      reading: { value: reading.value, unit },
      ...(limits.low === undefined ? {} : { low: limits.low }),
      ...(limits.high === undefined ? {} : { high: limits.high }),
      unit: limits.unit ?? unit,
    });
  }
  return ofPlan(asked, reading, ground);
}

function ofPlan(asked: Asked, reading: Said, ground: Ground): Read<RangeInputs> {
  const fits = (placed: Placed<Limited>): boolean => {
    const unit = unitOf(placed.ask);
    if (placed.ask.min === undefined && placed.ask.max === undefined) return false;
    return (
      reading.unit === undefined || (unit !== undefined && kindOf(unit) === kindOfSaid(reading))
    );
  };
  const among = asksIn<Limited>(ground.view, ['quantity', 'drained', 'filled']).filter(fits);
  const best = named(ground.view, asked.plain, among);
  const [placed] = best;
  const unit = placed && unitOf(placed.ask);
  if (!placed || unit === undefined) {
    const electrical = ['voltage', 'resistance', 'current'].includes(kindOfSaid(reading) ?? '');
    if (!electrical) return undefined;
    return asks(
      `No limit is known for that. Ask again with the limits: "${asked.plain}, limits … to …".`,
    );
  }
  if (best.length > 1) return askWhichStep(asked, best);
  return means({
    what: subjectOf(placed.ask),
    reading: quantityOf(reading, unit),
    ...(placed.ask.min === undefined ? {} : { low: placed.ask.min }),
    ...(placed.ask.max === undefined ? {} : { high: placed.ask.max }),
    unit,
    from: { step: placed.step.id, of: subjectOf(placed.ask) },
  });
}

const unitOf = (ask: Placed<Limited>['ask']): Unit | undefined => {
  const unit = ask.unit ?? 'L';
  return isUnit(unit) ? unit : undefined;
};

/** What was measured, as far as the words say it. */
function whatIn(asked: Asked, reading: Said): string {
  const { before } = aroundSaid(asked, reading);
  const behind =
    /\b(?:for|für)\s+(?:the |a |den |die |das )?([\p{L}][\p{L} -]{1,30}?)(?=,|$|\?|\s(?:limits?|min|max|at least|between)\b)/u.exec(
      asked.plain,
    )?.[1];
  const ahead = /([\p{L}][\p{L} -]{2,30})\s*$/u
    .exec(before)?.[1]
    ?.replace(/^(?:is|are|ist|the)\s+/, '');
  const words = (behind ?? ahead ?? '').trim().replace(/^(?:is|are|ist|sind|was)$/, '');
  return words === '' ? 'reading' : words;
}
