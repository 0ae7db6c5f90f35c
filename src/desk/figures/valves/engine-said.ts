// "order 1-5-3-6-2-4", "153624": the engine that a question about valves means.
import type { JobView } from '../../../job/view.ts';
import { type Engine, type EngineDescription, layEngine } from '../../../trade/engine-layout.ts';
import type { Result } from '../../../trade/result.ts';
import type { Asked } from '../asking/asked.ts';
import { asks, type Reply } from '../figure-kind.ts';

const DASHED = /(?<!\d)\d{1,2}(?:\s*[-–]\s*\d{1,2}){1,15}(?![\d-])/;
const SPOKEN =
  /\b(?:order|zündfolge|reihenfolge)\s*(?:is|of|:|=|von)?\s*(\d{1,2}(?:[\s,]+\d{1,2}){1,15})(?!\d)/;
const COMPACT = /(?<![\d.-])([1-9]{3,8})(?![\d.-])/;

/** The firing order in the text, where it is one: each cylinder from 1 up once. */
export function orderIn(
  plain: string,
): { readonly order: readonly number[]; readonly text: string } | undefined {
  const dashed = DASHED.exec(plain)?.[0];
  const spoken = SPOKEN.exec(plain)?.[1];
  const compact = COMPACT.exec(plain)?.[1];
  const texts: readonly (readonly [string | undefined, RegExp | ''])[] = [
    [dashed, /\s*[-–]\s*/],
    [spoken, /[\s,]+/],
    [compact, ''],
  ];
  for (const [text, between] of texts) {
    if (text === undefined) continue;
    const order = text.split(between).map(Number);
    const sorted = [...order].sort((a, b) => a - b);
    if (order.length >= 2 && sorted.every((cylinder, index) => cylinder === index + 1)) {
      return { order, text };
    }
  }
  return undefined;
}

/** The engine of the question: the order typed, else the plan's, else undefined. */
export function engineSaid(asked: Asked, view: JobView | undefined): EngineDescription | undefined {
  const typed = orderIn(asked.plain);
  if (typed) return { firingOrder: typed.order };
  const engine = view?.plan.engine;
  if (!engine) return undefined;
  return {
    firingOrder: engine['firing-order'],
    ...(engine.inlet === undefined && engine.exhaust === undefined
      ? {}
      : { perCylinder: { inlet: engine.inlet ?? 1, exhaust: engine.exhaust ?? 1 } }),
  };
}

export const askOrder = (asked: Asked): { readonly reply: Reply } =>
  asks('What is the firing order?', [
    { label: '1-5-3-6-2-4', text: `${asked.plain}, order 1-5-3-6-2-4` },
    { label: '1-3-4-2', text: `${asked.plain}, order 1-3-4-2` },
    { label: '1-2-4-5-3', text: `${asked.plain}, order 1-2-4-5-3` },
  ]);

/** The question without the firing order, so that its numbers are no cylinders. */
export function withoutOrder(plain: string): string {
  const typed = orderIn(plain);
  return typed ? plain.replace(typed.text, ' ') : plain;
}

export const laid = (engine: EngineDescription): Result<Engine> => layEngine(engine);

const VALVES = /\b(?:valves?|tappets?|clearances?|rockers?|lash)\b|ventil/;
export const speaksOfValves = (plain: string): boolean => VALVES.test(plain);

const ROUND =
  /\b(?:shortest|fewest|quickest|least turn\w*|round|in what order|(?:valve|tappet) order|which order|what order|sequence|how (?:do|should) (?:i|we) set|runde|reihenfolge)\b/;
/** Whether the words ask for the whole round, not for the valves of one stop. */
export const asksForRound = (plain: string): boolean => ROUND.test(plain);

const CYLINDER = '(?:cyl(?:inder)?|no|nr|number|zyl(?:inder)?|pot)?\\.?\\s*#?(\\d{1,2}|one)';
const AT_TDC = [
  new RegExp(
    `${CYLINDER}\\s*(?:is |being |stands? |steht )?(?:at|on|in|auf|im)\\s*(?:its )?(?:firing |compression |zünd-?)?(?:tdc|top dead|ot\\b|top\\b|fire\\b|compression\\b)`,
  ),
  new RegExp(
    `\\b(?:tdc|top dead centre|top dead center|ot)\\s*(?:of|on|for|von|am|,)?\\s*${CYLINDER}(?![\\d.])`,
  ),
];
const ON_THE_ROCK = [
  new RegExp(`${CYLINDER}\\s*(?:is |valves )?(?:rocking|on the rock|on overlap|überschneid)`),
  new RegExp(`\\b(?:rocking|on the rock|overlap)\\s*(?:on|of|at)?\\s*${CYLINDER}(?![\\d.])`),
];

/** Where the crank stands: a cylinder at firing top dead centre, or one with both valves on the rock. */
export function crankSaid(
  plain: string,
): { readonly cylinder: number; readonly rock: boolean } | undefined {
  const text = withoutOrder(plain);
  for (const [patterns, rock] of [
    [ON_THE_ROCK, true],
    [AT_TDC, false],
  ] as const) {
    for (const pattern of patterns) {
      const found = pattern.exec(text)?.[1];
      if (found !== undefined) return { cylinder: found === 'one' ? 1 : Number(found), rock };
    }
  }
  return undefined;
}
