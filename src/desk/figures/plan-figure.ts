// "… for clamp stage 2": which step, and which of its limits, a question for a figure means.
import type { Ask, Stage, Step } from '../../../shared/plan.ts';
import type { JobView } from '../../job/view.ts';
import { formatQuantity, type Unit } from '../../trade/units.ts';
import type { Asked } from './asking/asked.ts';
import { asks, type Choice, type Reply } from './figure-kind.ts';

type OneOf<Each extends Ask, Kind> = Each extends Ask
  ? Kind & Each['kind'] extends never
    ? never
    : Each
  : never;
export type AskOf<Kind extends Ask['kind']> = OneOf<Ask, Kind>;
/** Something a step asks to be reported, with its step. */
export type AnyPlaced = { readonly step: Step; readonly ask: Ask };
export type Placed<Kind extends Ask['kind']> = { readonly step: Step; readonly ask: AskOf<Kind> };

const SMALL = new Set(
  'the and for what with this that step stage set ok good fine can you are was how much many does new all from into over under out off back has have had been your our any some und aus auf von dem des ein eine bei nach vor der die das den für mit ist'.split(
    ' ',
  ),
);

const wordsOf = (text: string): readonly string[] =>
  (text.toLowerCase().match(/\p{L}{3,}/gu) ?? [])
    .filter((word) => !SMALL.has(word))
    .map((word) => word.replace(word.length > 5 ? /(?:en|es|s|n|e)$/u : /(?<=\p{L}{3})s$/u, ''));

/** Every ask of the given kinds in the plan, with its step. */
export function asksIn<Kind extends Ask['kind']>(
  view: JobView | undefined,
  kinds: readonly Kind[],
): readonly Placed<Kind>[] {
  const wanted: readonly string[] = kinds;
  return (view?.plan.steps ?? []).flatMap((step) =>
    (step.report ?? [])
      .filter((ask): ask is AskOf<Kind> => wanted.includes(ask.kind))
      .map((ask) => ({ step, ask })),
  );
}

/**
 * The asks whose step or subject a text names best; several where it fits them equally, none where it names none.
 * A word counts once, whether it stands in the title, among the plan's own words, or in a synonym of a part.
 */
export function named<Kind extends Ask['kind']>(
  view: JobView | undefined,
  text: string,
  among: readonly Placed<Kind>[],
): readonly Placed<Kind>[] {
  const typed = new Set(wordsOf(text));
  const scored = among.map((placed) => ({ placed, score: scoreOf(view, placed, typed) }));
  const best = Math.max(0, ...scored.map(({ score }) => score));
  return best === 0 ? [] : scored.filter(({ score }) => score === best).map((each) => each.placed);
}

function scoreOf(
  view: JobView | undefined,
  { step, ask }: AnyPlaced,
  typed: ReadonlySet<string>,
): number {
  const of = 'of' in ask ? ask.of : 'fluid' in ask ? ask.fluid.replaceAll('-', ' ') : '';
  const own = [
    ...('words' in ask ? (ask.words ?? []) : []),
    ...(step.words ?? []),
    ...Object.values(step.also ?? {}).flatMap(({ title, words = [] }) => [title ?? '', ...words]),
  ].join(' ');
  const title = `${step.title} ${of}`.toLowerCase();
  const parts = Object.entries(view?.plan.parts ?? {})
    .filter(([part]) => title.includes(part.toLowerCase()))
    .flatMap(([, { words = [], also = {} }]) => [
      ...words,
      ...Object.values(also).flatMap((other) => other.words ?? []),
    ])
    .join(' ');
  const score = (text: string, weight: number, seen: Set<string>) => {
    let sum = 0;
    for (const word of wordsOf(text)) {
      if (!typed.has(word) || seen.has(word)) continue;
      seen.add(word);
      sum += weight;
    }
    return sum;
  };
  const seen = new Set<string>();
  return score(of, 3, seen) + score(step.title, 2, seen) + score(`${own} ${parts}`, 1, seen);
}

/** Where a limit comes from, as `source` of an answer: "the plan: demonstration value". */
export const sourceOf = (view: JobView, { step, ask }: AnyPlaced): string =>
  `the plan: ${('source' in ask ? ask.source : undefined) ?? step.source ?? view.plan.source ?? 'no source given'}`;

/** An answer that rests on the plan: its source is named where the calculation did not, and its notice added. */
export function fromPlan(view: JobView, placed: AnyPlaced, reply: Reply): Reply {
  const source = sourceOf(view, placed);
  const says = reply.says.includes(source) ? reply.says : `${reply.says} Figures from ${source}.`;
  const caution = placed.step.caution;
  return {
    ...reply,
    says: caution === undefined ? says : `${says} ${caution}`,
    notice: view.plan.notice,
  };
}

const ORDINAL: Readonly<Record<string, number>> = {
  first: 1,
  second: 2,
  third: 3,
  fourth: 4,
  erste: 1,
  zweite: 2,
  dritte: 3,
};

/** The stage a text names, and the text without it, so that its number is no figure. */
export function stageSaid(plain: string): number | 'last' | undefined {
  const number = /\b(?:stage|stg|pass|step|stufe)\s*(\d{1,2})\b/.exec(plain)?.[1];
  if (number !== undefined) return Number(number);
  const word =
    /\b(first|second|third|fourth|last|final|erste|zweite|dritte|letzte)\p{L}?\s+(?:stage|pass|step|stufe)\b/u.exec(
      plain,
    )?.[1];
  if (word === undefined) return undefined;
  return ORDINAL[word] ?? 'last';
}

/** Where the number of a stage or of a position stands: no figure of the question. */
export function isLabel(asked: Asked, from: number): boolean {
  return /\b(?:stage|stg|pass|step|stufe|cyl|cylinder|cylinders|zyl|zylinder|axle|no|nr|number|job)\.?\s*$/.test(
    asked.plain.slice(0, from),
  );
}

/** The figure of a stage in words: "45 N·m ±5 %". */
export function stageInWords(stage: Stage): string {
  const parts = [
    stage.torque === undefined
      ? ''
      : `${formatQuantity(stage.torque, torqueUnit(stage))} ±${stage.tolerance ?? 5} %`,
    stage.angle === undefined
      ? ''
      : `${formatQuantity(stage.angle, 'deg')} ±${stage['tolerance-angle'] ?? 5}°`,
  ];
  return parts.filter((part) => part !== '').join(' and ');
}

export const torqueUnit = (stage: Stage): Unit => stage.unit ?? 'N.m';

/** Asks which of several steps is meant, each with its name in the question put again. */
export function askWhichStep(asked: Asked, among: readonly AnyPlaced[]): { readonly reply: Reply } {
  const titles = [...new Set(among.map(({ step }) => step.title))];
  const choices: Choice[] = titles
    .slice(0, 3)
    .map((title) => ({ label: title, text: `${asked.plain} for ${title.toLowerCase()}` }));
  return asks('Which step is meant?', choices);
}
