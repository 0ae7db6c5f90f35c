// "compression 28 27.5 21 28": one reading from each cylinder side by side.
import { type CylinderReading, compareCylinders } from '../../../trade/cylinder-readings.ts';
import { isUnit, symbolOf, type Unit } from '../../../trade/units.ts';
import { type Asked, aroundSaid, type Said } from '../asking/asked.ts';
import { answerOf, asks, figureKind, type Ground, means, type Read } from '../figure-kind.ts';
import { asksIn, fromPlan, named } from '../plan-figure.ts';
import { limitsIn } from './limits-said.ts';

export type CylinderInputs = {
  readonly what: string;
  readonly unit: Unit;
  readonly step: number;
  readonly readings: readonly CylinderReading[];
  readonly low?: number;
  readonly high?: number;
  readonly spread?: number;
  readonly spreadPercent?: number;
  readonly from?: { readonly step: string; readonly of: string };
};

/** What is measured, the unit that is usual for it, and the largest figure that can be that unit. */
const KINDS: readonly {
  readonly words: RegExp;
  readonly what: string;
  readonly unit: Unit;
  readonly most: number;
  readonly others: readonly Unit[];
}[] = [
  {
    words: /\bcompressions?\b|\bkompression/,
    what: 'compression',
    unit: 'bar',
    most: 60,
    others: ['psi', 'kPa'],
  },
  {
    words: /\bleak[ -]?down\b|\bcylinder leakage\b|\bdruckverlust/,
    what: 'leak-down',
    unit: '%',
    most: 100,
    others: [],
  },
  {
    words: /\b(?:return[ -]?flows?|leak[ -]?offs?|back[ -]?leak(?:age)?|rücklaufmengen?)\b/,
    what: 'return flow',
    unit: 'mL',
    most: 10_000,
    others: [],
  },
  {
    words: /\b(?:balance|smooth running|laufruhe|mengenausgleich)\b/,
    what: 'balance',
    unit: 'count',
    most: 10_000,
    others: [],
  },
];

export const cylinders = figureKind<CylinderInputs>({
  kind: 'cylinders',
  means: 'compression, leak-down, return flow or balance, cylinder against cylinder',
  examples: [
    {
      type: 'compression 28 27.5 21 28',
      means: {
        what: 'compression',
        unit: 'bar',
        step: 0.1,
        readings: [
          { cylinder: 1, value: 28 },
          { cylinder: 2, value: 27.5 },
          { cylinder: 3, value: 21 },
          { cylinder: 4, value: 28 },
        ],
      },
    },
    {
      type: 'return flow 42 40 81 43 ml spread 20',
      means: {
        what: 'return flow',
        unit: 'mL',
        step: 1,
        readings: [
          { cylinder: 1, value: 42 },
          { cylinder: 2, value: 40 },
          { cylinder: 3, value: 81 },
          { cylinder: 4, value: 43 },
        ],
        spread: 20,
      },
    },
    {
      type: 'leak down 1: 5 2: 6 3: 22 4: 5 percent max 15',
      means: {
        what: 'leak-down',
        unit: '%',
        step: 1,
        readings: [
          { cylinder: 1, value: 5 },
          { cylinder: 2, value: 6 },
          { cylinder: 3, value: 22 },
          { cylinder: 4, value: 5 },
        ],
        high: 15,
      },
    },
  ],
  read,
  answer: ({ what, unit, step, readings, low, high, spread, spreadPercent, from }, { view }) => {
    const placed =
      from &&
      asksIn(view, ['quantity']).find(
        (each) => each.step.id === from.step && each.ask.of === from.of,
      );
    const reply = answerOf(
      compareCylinders({
        what,
        unit,
        step,
        readings,
        limits: {
          ...(low === undefined ? {} : { low }),
          ...(high === undefined ? {} : { high }),
          ...(spread === undefined ? {} : { spread }),
          ...(spreadPercent === undefined ? {} : { spreadPercent }),
          ...(placed ? {} : { of: 'the limits given' }),
        },
      }),
    );
    return placed && view ? fromPlan(view, placed, reply) : reply;
  },
});

function read(asked: Asked, ground: Ground): Read<CylinderInputs> {
  const { plain } = asked;
  const kind = KINDS.find(({ words }) => words.test(plain));
  if (!kind || (asked.reports && !asked.question)) return undefined;
  const planned = named(
    ground.view,
    kind.what,
    asksIn(ground.view, ['quantity']).filter(({ ask }) => ask.of.toLowerCase().includes(kind.what)),
  )[0];
  // Where the plan wants to hear these readings, a bare list of them is a report.
  if (planned && !asked.question) return undefined;
  const limits = limitsIn(asked, asked.figures);
  const spread = asked.figures.find((said) =>
    /\bspread\b[\s\p{L}]*$/u.test(aroundSaid(asked, said).before),
  );
  const rest = asked.figures.filter((said) => !limits.used.includes(said) && said !== spread);
  const readings = numbered(asked, rest);
  if (readings.length < 3) return undefined;
  const typed = rest.findLast((said) => said.unit !== undefined)?.unit;
  const largest = Math.max(...readings.map(({ value }) => value));
  if (typed === undefined && kind.others.length > 0 && largest > kind.most) {
    return asks(
      'In which unit?',
      kind.others.map((unit) => ({
        label: symbolOf(unit),
        text: `${plain} ${unit.toLowerCase()}`,
      })),
    );
  }
  const planUnit = planned && isUnit(planned.ask.unit) ? planned.ask.unit : undefined;
  const decimals = Math.max(...rest.map((said) => said.decimals));
  const { ask } = planned ?? {};
  const low = limits.low ?? ask?.min;
  const high = limits.high ?? ask?.max;
  return means({
    what: kind.what,
    unit: typed ?? planUnit ?? kind.unit,
    step: 10 ** -decimals,
    readings,
    ...(low === undefined ? {} : { low }),
    ...(high === undefined ? {} : { high }),
    ...(spread === undefined
      ? {}
      : spread.unit === '%' && (typed ?? kind.unit) !== '%'
        ? { spreadPercent: spread.value }
        : { spread: spread.value }),
    ...(planned && limits.used.length === 0
      ? { from: { step: planned.step.id, of: planned.ask.of } }
      : {}),
  });
}

/** "28 27 21", or with the cylinder before each: "1: 28 2: 27", "cyl 1 28, cyl 2 27". */
function numbered(asked: Asked, figures: readonly Said[]): readonly CylinderReading[] {
  const labelled = figures.every((said, index) =>
    index % 2 === 0
      ? Number.isInteger(said.value) &&
        said.unit === undefined &&
        /^\s*[:=]/.test(asked.plain.slice(said.to))
      : true,
  );
  const byWord = figures.every((said, index) =>
    index % 2 === 0
      ? /\b(?:cyl|cylinder|zyl|zylinder|no|nr)\.?\s*$/.test(asked.plain.slice(0, said.from))
      : true,
  );
  if (figures.length >= 4 && figures.length % 2 === 0 && (labelled || byWord)) {
    return figures.flatMap((said, index) =>
      index % 2 === 0
        ? [{ cylinder: said.value, value: figures[index + 1]?.value ?? Number.NaN }]
        : [],
    );
  }
  return figures.map((said, index) => ({ cylinder: index + 1, value: said.value }));
}
