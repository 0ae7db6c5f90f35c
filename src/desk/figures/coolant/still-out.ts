// "how much coolant is still out": what was drained against what went back in.
import {
  type BalanceTolerance,
  type FluidEntry,
  fluidBalance,
  USUAL_BALANCE_TOLERANCE,
} from '../../../trade/coolant/balance.ts';
import { type Asked, aroundSaid, saidOf } from '../asking/asked.ts';
import {
  answerOf,
  asks,
  figureKind,
  type Ground,
  means,
  type Read,
  type Reply,
} from '../figure-kind.ts';

export type BalanceInputs = {
  readonly fluid: string;
  readonly entries: readonly FluidEntry[];
  readonly tolerance: BalanceTolerance;
  /** The fluid's name in the plan whose reports were added up. */
  readonly ofPlan?: string;
};

const BALANCE =
  /\b(?:still (?:out|missing|to (?:go|come) (?:back )?in|to fill)|(?:is|are|did) (?:it |all |the )*[\p{L} ]{0,30}\bback in\b|unaccounted|accounted for|balance|drained (?:against|and|vs|versus) filled|how much .{0,40}\b(?:missing|short|still|left (?:out|to (?:fill|go in))|to go back in)|noch (?:raus|draußen|offen|aufzufüllen)|fehlt noch|wie ?viel .{0,30}\bfehlt)\b/u;

export const stillOut = figureKind<BalanceInputs>({
  kind: 'still-out',
  means: 'what was drained against what was filled',
  examples: [
    {
      type: 'drained 28 l, filled 26 l, how much coolant is missing?',
      means: {
        fluid: 'coolant',
        entries: [
          { what: 'drained', volume: { value: 28, unit: 'L' } },
          { what: 'filled', volume: { value: 26, unit: 'L' } },
        ],
        tolerance: { litres: 1, percent: 5 },
      },
    },
  ],
  read,
  answer: ({ fluid, entries, tolerance, ofPlan }, { view }): Reply => {
    const reply = answerOf(fluidBalance(entries, fluid, tolerance));
    if (ofPlan === undefined || !view) return reply;
    return { ...reply, says: `${reply.says} From the reports on job ${view.job}.` };
  },
});

const DID: readonly (readonly [RegExp, FluidEntry['what']])[] = [
  [/\bspil(?:t|led) (?:while |when )?fill\w*\s*$/, 'spilled-filling'],
  [/\b(?:spilt|spilled|lost|verschüttet)(?: (?:while |when )?draining)?\s*$/, 'spilled-draining'],
  [/\b(?:drained|drain|out|abgelassen)\s*(?:was|is|:|=)?\s*$/, 'drained'],
  [/\b(?:topped up|top up|topped)\s*(?:with|by)?\s*$/, 'topped-up'],
  [/\b(?:filled|refilled|fill|in|back|aufgefüllt|eingefüllt)\s*(?:with|was|is|:|=)?\s*$/, 'filled'],
];

function read(asked: Asked, ground: Ground): Read<BalanceInputs> {
  const plainly = /^\p{L}+ balance$/u.test(asked.plain);
  if (!(asked.question || plainly) || !BALANCE.test(asked.plain)) return undefined;
  const volumes = saidOf(asked, 'volume');
  if (volumes.length > 0) {
    const entries = volumes.flatMap((said): FluidEntry[] => {
      const { before } = aroundSaid(asked, said);
      const what = DID.find(([words]) => words.test(before))?.[1];
      return what && said.unit ? [{ what, volume: { value: said.value, unit: said.unit } }] : [];
    });
    if (entries.length !== volumes.length) return undefined;
    const fluid = /\b(?:oil|öl)\b/.test(asked.plain) ? 'oil' : 'coolant';
    return means({ fluid, entries, tolerance: USUAL_BALANCE_TOLERANCE });
  }
  const { view } = ground;
  if (!view) return undefined;
  const named = Object.entries(view.plan.fluids ?? {}).filter(([name, fluid]) =>
    [
      name,
      fluid.title,
      ...(fluid.words ?? []),
      ...Object.values(fluid.also ?? {}).flatMap((other) => [
        other.title ?? '',
        ...(other.words ?? []),
      ]),
    ].some((word) => word !== '' && asked.plain.includes(word.toLowerCase())),
  );
  const moved = view.fluids.filter(({ drained, filled }) => drained > 0 || filled > 0);
  // Without the name of a fluid the words mean something else as easily: "how much is missing".
  if (named.length === 0 && !/\b(?:drained|balance|unaccounted|back in)\b/.test(asked.plain)) {
    return undefined;
  }
  const chosen = named[0]?.[0] ?? (moved.length === 1 ? moved[0]?.fluid : undefined);
  if (chosen === undefined) {
    if (moved.length === 0) return undefined;
    return asks(
      'Which fluid?',
      moved.map(({ fluid }) => ({
        label: titleOf(view, fluid),
        text: `how much ${titleOf(view, fluid).toLowerCase()} is still out`,
      })),
    );
  }
  const total = view.fluids.find(({ fluid }) => fluid === chosen);
  return means({
    fluid: titleOf(view, chosen).toLowerCase(),
    entries: [
      ...(total && total.drained > 0
        ? [{ what: 'drained' as const, volume: { value: total.drained, unit: 'L' as const } }]
        : []),
      ...(total && total.filled > 0
        ? [{ what: 'filled' as const, volume: { value: total.filled, unit: 'L' as const } }]
        : []),
    ],
    tolerance: view.plan.fluids?.[chosen]?.tolerance ?? USUAL_BALANCE_TOLERANCE,
    ofPlan: chosen,
  });
}

const titleOf = (view: NonNullable<Ground['view']>, fluid: string): string =>
  view.plan.fluids?.[fluid]?.title ?? fluid.replaceAll('-', ' ');
