// "which clearances are out": the readings outside the plan's limits, from the job or typed.
import {
  type ClearanceLimit,
  type ClearanceReading,
  clearancesOut,
} from '../../../trade/clearance.ts';
import type { ValveKind } from '../../../trade/engine-layout.ts';
import { convert, isUnit, type Unit } from '../../../trade/units.ts';
import type { Asked } from '../asking/asked.ts';
import { answerOf, asks, figureKind, type Ground, means, type Read } from '../figure-kind.ts';
import { asksIn, fromPlan } from '../plan-figure.ts';
import { speaksOfValves } from './engine-said.ts';
import { kindOfValve, plannedValve } from './valve-names.ts';

export type ClearancesInputs = {
  readonly readings: readonly ClearanceReading[];
  readonly limits: Readonly<Record<ValveKind, ClearanceLimit>>;
  readonly step: string;
};

const OUT =
  /\b(?:out of (?:range|limits?|spec)|(?:are|is) out|in (?:range|limits?|spec)|within|ok|okay|good|tight|wide|außerhalb|in ordnung)\b/;
const KIND = /\b(inlets?|intakes?|in|exhausts?|exh|ex|einlass|auslass)\b/g;

export const outOfRange = figureKind<ClearancesInputs>({
  kind: 'clearances-out',
  means: "which valve clearances are outside the plan's limits",
  examples: [
    {
      type: 'are these clearances ok: inlet 0.30 0.28 0.36 exhaust 0.60 0.52',
      plan: 'injectors-six-cylinder',
      means: {
        readings: [
          { valve: 'inlet 1', kind: 'inlet', mm: 0.3 },
          { valve: 'inlet 2', kind: 'inlet', mm: 0.28 },
          { valve: 'inlet 3', kind: 'inlet', mm: 0.36 },
          { valve: 'exhaust 1', kind: 'exhaust', mm: 0.6 },
          { valve: 'exhaust 2', kind: 'exhaust', mm: 0.52 },
        ],
        limits: { inlet: { low: 0.25, high: 0.35 }, exhaust: { low: 0.55, high: 0.65 } },
        step: 'set-valve-clearance',
      },
    },
  ],
  read,
  answer: ({ readings, limits, step }, { view }) => {
    const reply = answerOf(clearancesOut(readings, limits));
    const placed = asksIn(view, ['clearance']).find((each) => each.step.id === step);
    return placed && view ? fromPlan(view, placed, reply) : reply;
  },
});

function read(asked: Asked, ground: Ground): Read<ClearancesInputs> {
  const { view } = ground;
  if (!asked.question || !view) return undefined;
  const speaks = speaksOfValves(asked.plain) || /\b(?:inlet|exhaust)\b/.test(asked.plain);
  if (!speaks || !OUT.test(asked.plain)) return undefined;
  const inlet = plannedValve(view, 'inlet');
  const exhaust = plannedValve(view, 'exhaust');
  const placed = inlet?.placed ?? exhaust?.placed;
  if (!placed) return undefined;
  const unit = placed.ask.unit ?? 'mm';
  const limitOf = (valve: NonNullable<typeof inlet>['valve'] | undefined): ClearanceLimit => ({
    low: inMm(valve?.min ?? 0, unit),
    high: inMm(valve?.max ?? 5, unit),
  });
  const limits = { inlet: limitOf(inlet?.valve), exhaust: limitOf(exhaust?.valve) };
  const typed = typedReadings(asked, unit);
  if (typed.length > 0) return means({ readings: typed, limits, step: placed.step.id });
  if (asked.figures.length > 0) return undefined;
  const reported = reportedReadings(view, placed.step.id);
  if (reported.length === 0) {
    return asks(
      'No clearance is reported on this job yet. Report them, such as "cyl 1 inlet 0.30".',
    );
  }
  return means({ readings: reported, limits, step: placed.step.id });
}

function inMm(value: number, unit: Unit): number {
  const mm = convert(value, unit, 'mm');
  return typeof mm === 'number' ? mm : Number.NaN;
}

/** "inlet 0.30 0.28 exhaust 0.60": counted from cylinder 1 for each kind. */
function typedReadings(asked: Asked, unit: Unit): readonly ClearanceReading[] {
  const words = [...asked.plain.matchAll(KIND)];
  const counts = { inlet: 0, exhaust: 0 };
  return asked.figures.flatMap((said): ClearanceReading[] => {
    const word = words.findLast((each) => each.index < said.from)?.[1];
    const kind = word === undefined ? undefined : kindOfValve(word);
    if (kind === undefined) return [];
    counts[kind] += 1;
    return [{ valve: `${kind} ${counts[kind]}`, kind, mm: inMm(said.value, said.unit ?? unit) }];
  });
}

/** The last reading of each valve that the job's reports hold. */
function reportedReadings(
  view: NonNullable<Ground['view']>,
  step: string,
): readonly ClearanceReading[] {
  const last = new Map<string, ClearanceReading>();
  for (const { act } of view.reports) {
    if (act.step !== step || !act.quantity || act.valve === undefined) continue;
    const kind = kindOfValve(act.valve);
    if (kind === undefined || !isUnit(act.quantity.unit)) continue;
    const mm = inMm(act.quantity.value, act.quantity.unit);
    for (const position of act.positions.length > 0 ? act.positions : ['']) {
      const valve = `${position} ${act.valve}`.trim();
      last.set(valve, { valve, kind, mm });
    }
  }
  return [...last.values()];
}
