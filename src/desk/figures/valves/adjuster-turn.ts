// "how far do i turn the adjuster from 0.45 to 0.35, pitch 1": from a reading to the target by the screw.
import { adjusterTurn } from '../../../trade/clearance.ts';
import { type Asked, aroundSaid, kindOfSaid, type Said } from '../asking/asked.ts';
import { answerOf, asks, figureKind, type Ground, means, type Read } from '../figure-kind.ts';
import { fromPlan } from '../plan-figure.ts';
import { plannedValve, valveSaid } from './valve-names.ts';

export type AdjusterInputs = {
  readonly reading: number;
  readonly target: number;
  readonly pitch: number;
  readonly gain?: number;
  /** The target or the pitch is the plan's for this kind of valve. */
  readonly ofPlan?: 'inlet' | 'exhaust';
};

const TARGET = /\b(?:to|target|want|need|auf|soll)\s*(?:is|of|:|=)?\s*$/;
const PITCH = /\b(?:pitch|steigung)\s*(?:is|of|:|=|a)?\s*$/;
const PITCH_BEHIND = /^\s*(?:mm\s*)?(?:pitch|steigung)\b/;
const RATIO = /\b(?:ratio|gain|übersetzung)\s*(?:is|of|:|=)?\s*$/;

export const adjuster = figureKind<AdjusterInputs>({
  kind: 'adjuster-turn',
  means: 'how far to turn an adjusting screw from a reading to the target',
  examples: [
    {
      type: 'how far do i turn the adjuster from 0.45 to 0.35, pitch 1',
      means: { reading: 0.45, target: 0.35, pitch: 1 },
    },
    {
      type: 'turn the screw how far from 0.2 to 0.3 with 0.75 pitch, ratio 1.5?',
      means: { reading: 0.2, target: 0.3, pitch: 0.75, gain: 1.5 },
    },
  ],
  read,
  answer: ({ ofPlan, ...given }, { view }) => {
    const reply = answerOf(adjusterTurn(given));
    const planned = ofPlan && plannedValve(view, ofPlan);
    return planned && view ? fromPlan(view, planned.placed, reply) : reply;
  },
});

function read(asked: Asked, ground: Ground): Read<AdjusterInputs> {
  const { plain } = asked;
  if (!asked.question || !/\b(?:adjust\w*|screw|einstellschraube)\b/.test(plain)) return undefined;
  if (!/\b(?:how far|how much|turns?|what turn|degrees|wie weit)\b/.test(plain)) return undefined;
  const lengths = asked.figures.filter(
    (said) => said.unit === undefined || kindOfSaid(said) === 'length',
  );
  const take = (test: (said: Said) => boolean) => {
    const index = lengths.findIndex(test);
    return index < 0 ? undefined : lengths.splice(index, 1)[0]?.value;
  };
  const typedPitch =
    take((said) => PITCH.test(aroundSaid(asked, said).before)) ??
    take((said) => PITCH_BEHIND.test(aroundSaid(asked, said).after));
  const gain = take((said) => RATIO.test(aroundSaid(asked, said).before));
  const typedTarget = take((said) => TARGET.test(aroundSaid(asked, said).before));
  const reading = lengths[0]?.value;
  if (reading === undefined || lengths.length > 1) return undefined;
  const valve = valveSaid(plain);
  const planned = valve ? plannedValve(ground.view, valve) : undefined;
  const target = typedTarget ?? planned?.valve.target;
  if (target === undefined) return undefined;
  const pitch = typedPitch ?? planned?.placed.ask.pitch;
  if (pitch === undefined) {
    return asks(
      'What is the pitch of the adjusting screw? It is the travel of one turn in mm.',
      ['0.75', '1', '1.25'].map((each) => ({
        label: `${each} mm`,
        text: `${plain}, pitch ${each}`,
      })),
    );
  }
  const ofPlan = planned && (typedTarget === undefined || typedPitch === undefined);
  return means({
    reading,
    target,
    pitch,
    ...(gain === undefined ? {} : { gain }),
    ...(ofPlan && valve ? { ofPlan: valve } : {}),
  });
}
