import { sayAnswer } from '../answer.ts';
import { figureOf } from '../quantity.ts';
import { found, type Result, refused } from '../result.ts';
import { SURFACES, type Surface } from '../tables/threads.ts';
import { formatFigure, formatQuantity, type Quantity } from '../units.ts';
import { preloadByFriction, preloadByNutFactor } from './bolt-force.ts';
import { strengthOf, threadOf } from './thread.ts';

/** Forces in newtons, or shares of a force, from the smallest to the largest that must be reckoned with. */
export type Band = { readonly low: number; readonly high: number };

export type PreloadQuestion = {
  readonly size: string;
  readonly boltClass: string;
  readonly surface: Surface;
  /** The stages in their order; the last one done is the last one given. */
  readonly stages: readonly { readonly torque?: Quantity; readonly angle?: Quantity }[];
  readonly source?: string;
};

export type ExpectedPreload = {
  /** Preload in N that covers both ways of working it out. */
  readonly band: Band;
  /** The band as a share of the proof load: 0.75 is 75 %. */
  readonly shareOfProof: Band;
  readonly proofLoad: number;
  /** VDI 2230 with the guide range of friction. */
  readonly byFriction: Band;
  /** T = K·d·F with the scatter of the tightening. */
  readonly byNutFactor: Band;
  readonly cautions: readonly string[];
  readonly answer: string;
};

/**
 * The preload a torque is expected to leave in one bolt, always as a band: friction alone spreads it.
 *
 * Two ways are worked out, VDI 2230 over the guide range of friction and T = K·d·F with its scatter, and the band
 * covers both. Sources: see `bolt-force.ts` and `tables/threads.ts`.
 *
 * Refused: an unknown size, class or surface; no stage by torque; any stage by angle, since past it neither formula
 * holds; a torque that would take the bolt past its proof load however much friction there is.
 */
export function expectedPreload(question: PreloadQuestion): Result<ExpectedPreload> {
  const thread = threadOf(question.size);
  if (!thread.ok) return thread;
  const { diameter, name, stressArea } = thread.value;
  const strength = strengthOf(question.boltClass, diameter);
  if (!strength.ok) return strength;
  if (!Object.hasOwn(SURFACES, question.surface)) {
    return refused(
      `"${question.surface}" is not a surface in the table.`,
      `Give one of ${Object.keys(SURFACES).join(', ')}.`,
    );
  }
  const torque = torqueThatCounts(question.stages);
  if (!torque.ok) return torque;

  const surface = SURFACES[question.surface];
  const [least, most] = surface.friction;
  const byFriction = {
    low: preloadByFriction(torque.value, thread.value, most),
    high: preloadByFriction(torque.value, thread.value, least),
  };
  const middle = preloadByNutFactor(surface.nutFactor, diameter, torque.value);
  const byNutFactor = {
    low: middle * (1 - surface.scatter),
    high: middle * (1 + surface.scatter),
  };
  const band = {
    low: Math.min(byFriction.low, byNutFactor.low),
    high: Math.max(byFriction.high, byNutFactor.high),
  };
  const proofLoad = strength.value.proof * stressArea;
  if (band.low > proofLoad) {
    return refused(
      `${formatQuantity(torque.value, 'N.m')} is past the proof load of ${name} class ${question.boltClass} even with the most friction, so nothing can be said of its preload.`,
      'Check the torque, the size and the class; if the bolt was turned to it, ask what the maker says about renewing it.',
    );
  }
  const shareOfProof = { low: band.low / proofLoad, high: band.high / proofLoad };
  const cautions =
    band.high > proofLoad
      ? [
          'With little friction the bolt is stretched past its proof load; do not add oil or torque.',
        ]
      : [];
  return found({
    band,
    shareOfProof,
    proofLoad,
    byFriction,
    byNutFactor,
    cautions,
    answer: sayAnswer({
      figure: `Expect ${kilonewtons(band)} kN of preload, ${percents(shareOfProof)} % of the proof load`,
      basis: `${name} class ${question.boltClass}, ${surface.says}, ${formatQuantity(torque.value, 'N.m')}; friction makes the spread`,
      cautions,
      source: question.source,
    }),
  });
}

/** The last torque in N·m, provided that no stage is by angle. */
function torqueThatCounts(stages: PreloadQuestion['stages']): Result<number> {
  const byAngle = stages.find((stage) => stage.angle !== undefined);
  if (byAngle?.angle) {
    return refused(
      `Nothing is worked out after the stage of ${formatQuantity(byAngle.angle.value, byAngle.angle.unit)}: past a stage by angle the torque no longer tells the preload, and the bolt may be past yield.`,
      "Go by the maker's stages, or ask for the torque stage before the angle alone.",
    );
  }
  const last = stages.findLast((stage) => stage.torque !== undefined);
  if (!last?.torque) {
    return refused('No stage has a torque.', 'Give the torque of the last stage, such as 80 N·m.');
  }
  return figureOf(last.torque, { name: 'The torque', unit: 'N.m', low: 0.1, high: 5000 });
}

function kilonewtons({ low, high }: Band): string {
  return `${formatFigure(low / 1000, 3)} to ${formatFigure(high / 1000, 3)}`;
}

function percents({ low, high }: Band): string {
  return `${Math.round(low * 100)} to ${Math.round(high * 100)}`;
}
