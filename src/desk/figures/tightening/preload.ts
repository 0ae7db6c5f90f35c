// "preload m12 10.9 80 nm oiled": what a torque leaves in the bolt, as a band.

import type { Surface } from '../../../trade/tables/threads.ts';
import {
  expectedPreload,
  type PreloadQuestion,
} from '../../../trade/tightening/expected-preload.ts';
import { proofLoad } from '../../../trade/tightening/thread.ts';
import { formatFigure } from '../../../trade/units.ts';
import { type Asked, kindOfSaid, quantityOf, saidOf } from '../asking/asked.ts';
import {
  answerOf,
  asks,
  figureKind,
  type Ground,
  means,
  type Read,
  stopped,
} from '../figure-kind.ts';
import { fromPlan } from '../plan-figure.ts';
import { type PlanStage, planStage } from './plan-stage.ts';

export type PreloadInputs = { readonly question: PreloadQuestion; readonly stage?: PlanStage };

const SIZE = /\bm\s?(\d{1,3}(?:\s?[x×*]\s?\d+(?:[.,]\d+)?)?)(?![\p{L}\d])/u;
const CLASS = /(?<![\d.,x×*])(\d{1,2}\.\d)(?![\d.])(?!\s*(?:nm|n\.m|mm|%|lb))/;
const SURFACES: readonly (readonly [RegExp, Surface])[] = [
  [/\b(?:zinc|plated|galvani[sz]ed|verzinkt)/, 'zinc-dry'],
  [/\b(?:oil\w*|lub\w*|greas\w*|wet|moly|paste)\b|geölt|geschmiert|gefettet/, 'lubricated'],
  [/\b(?:dry|plain|black|trocken|unlubricated)\b/, 'dry'],
];
const PRELOAD =
  /\b(?:preload|pre-load|clamp(?:ing)? (?:load|force)|bolt (?:load|force|tension))\b|vorspannkraft/;

export const preload = figureKind<PreloadInputs>({
  kind: 'preload',
  means: 'the preload a torque leaves in a bolt, as a band',
  examples: [
    {
      type: 'preload m12 10.9 80 nm oiled',
      means: {
        question: {
          size: 'm12',
          boltClass: '10.9',
          surface: 'lubricated',
          stages: [{ torque: { value: 80, unit: 'N.m' } }],
        },
      },
    },
    {
      type: 'what clamp load for m16x1.5 8.8 dry at 150 lb ft',
      means: {
        question: {
          size: 'm16x1.5',
          boltClass: '8.8',
          surface: 'dry',
          stages: [{ torque: { value: 150, unit: 'lbf.ft' } }],
        },
      },
    },
    {
      type: 'preload m12 10.9 60 nm then 90 degrees oiled',
      means: {
        question: {
          size: 'm12',
          boltClass: '10.9',
          surface: 'lubricated',
          stages: [{ torque: { value: 60, unit: 'N.m' } }, { angle: { value: 90, unit: 'deg' } }],
        },
      },
    },
  ],
  read,
  answer: ({ question, stage }, { view }) => {
    const placed = view && stage && planStage.placed(view, stage);
    if (!view || !placed) return answerOf(expectedPreload(question));
    const result = expectedPreload({ ...question, source: planStage.source(view, placed) });
    return result.ok ? fromPlan(view, placed, answerOf(result)) : answerOf(result);
  },
});

function read(asked: Asked, ground: Ground): Read<PreloadInputs> {
  const { plain } = asked;
  const size = sizeIn(plain);
  if (!PRELOAD.test(plain) || /\bproof\b/.test(plain)) return undefined;
  if (asked.reports && !asked.question) return undefined;
  if (size === undefined) {
    // "Bearing preload" is another matter.
    if (!asked.question || /\b(?:bearing|hub|pinion|lager)/.test(plain)) return undefined;
    if (saidOf(asked, 'torque').length === 0) return undefined;
    return asks('Which size is the bolt? Ask again with it: "preload m12 10.9 80 nm oiled".');
  }
  const torques = saidOf(asked, 'torque');
  const stage = torques.length > 0 ? undefined : planStage.named(asked, ground.view, 'torque');
  if (stage && 'reply' in stage) return stage;
  const wrong = asked.figures.find((said) =>
    ['volume', 'pressure', 'mass'].includes(kindOfSaid(said) ?? ''),
  );
  if (torques.length === 0 && !stage) {
    return asks(
      wrong
        ? `${plain.slice(wrong.from, wrong.to)} is ${kindOfSaid(wrong)}, not torque. Give the torque, such as 80 nm.`
        : 'At which torque? Ask again with it: "preload m12 10.9 80 nm oiled".',
    );
  }
  const boltClass = CLASS.exec(plain)?.[1];
  if (boltClass === undefined) {
    return asks(
      'Which strength class is marked on the head?',
      ['8.8', '10.9', '12.9'].map((each) => ({ label: each, text: `${plain} ${each}` })),
    );
  }
  const surface = SURFACES.find(([words]) => words.test(plain))?.[1];
  if (surface === undefined) {
    return asks('How are the threads?', [
      { label: 'Oiled or greased', text: `${plain} oiled` },
      { label: 'Zinc plated, dry', text: `${plain} zinc` },
      { label: 'Plain, dry', text: `${plain} dry` },
    ]);
  }
  const angles = saidOf(asked, 'angle').map((said) => ({ angle: quantityOf(said, 'deg') }));
  const ownStages = [...torques.map((said) => ({ torque: quantityOf(said, 'N.m') })), ...angles];
  const planned =
    stage && ground.view && planStage.placed(ground.view, stage)?.ask.stages.slice(0, stage.stage);
  const stages = planned
    ? planned.map(({ torque, unit, angle }) => ({
        ...(torque === undefined
          ? {}
          : { torque: { value: torque, unit: unit ?? ('N.m' as const) } }),
        ...(angle === undefined ? {} : { angle: { value: angle, unit: 'deg' as const } }),
      }))
    : ownStages;
  return means({
    question: { size, boltClass, surface, stages },
    ...(stage ? { stage: { step: stage.step, of: stage.of, stage: stage.stage } } : {}),
  });
}

/** "m12 x 1.25" as one word: "m12x1.25". */
const sizeIn = (plain: string): string | undefined => {
  const found = SIZE.exec(plain)?.[1];
  return found === undefined
    ? undefined
    : `m${found.replace(/[\s×*]+/g, (gap) => (gap.trim() ? 'x' : '')).replace(',', '.')}`;
};

export type ProofLoadInputs = { readonly size: string; readonly boltClass: string };

export const proofLoadOf = figureKind<ProofLoadInputs>({
  kind: 'proof-load',
  means: 'the proof load of a bolt',
  examples: [{ type: 'proof load m12 10.9', means: { size: 'm12', boltClass: '10.9' } }],
  read: (asked) => {
    const { plain } = asked;
    const size = sizeIn(plain);
    if (!/\bproof (?:load|force)\b|prüfkraft/.test(plain) || size === undefined) return undefined;
    const boltClass = CLASS.exec(plain)?.[1];
    if (boltClass !== undefined) return means({ size, boltClass });
    return asks(
      'Which strength class is marked on the head?',
      ['8.8', '10.9', '12.9'].map((each) => ({ label: each, text: `proof load ${size} ${each}` })),
    );
  },
  answer: ({ size, boltClass }) => {
    const load = proofLoad(size, boltClass);
    if (!load.ok) return stopped(load.problem);
    return {
      says: `${formatFigure(load.value / 1000, 3)} kN proof load (${size.toUpperCase().replace('X', 'x')} class ${boltClass}, proof stress times stress area, ISO 898-1). It is what the bolt bears without stretching for good, not a torque to work to. The maker's data comes first.`,
    };
  },
});
