// "which valves with 1 at tdc": the valves that can be set where the crank stands.
import { CYCLE, type EngineDescription, withinCycle } from '../../../trade/engine-layout.ts';
import { settableAt } from '../../../trade/valve-round.ts';
import { answerOf, figureKind, means, stopped } from '../figure-kind.ts';
import {
  askOrder,
  asksForRound,
  crankSaid,
  engineSaid,
  laid,
  speaksOfValves,
} from './engine-said.ts';

export type AtStopInputs = {
  readonly engine: EngineDescription;
  readonly cylinder: number;
  /** The cylinder named has both valves on the rock, so its partner is at firing top dead centre. */
  readonly rock: boolean;
};

export const valvesAtStop = figureKind<AtStopInputs>({
  kind: 'valves-at-stop',
  means: 'which valves can be set with one cylinder at top dead centre',
  examples: [
    {
      type: 'which valves with 1 at tdc',
      plan: 'injectors-six-cylinder',
      means: {
        engine: { firingOrder: [1, 5, 3, 6, 2, 4], perCylinder: { inlet: 1, exhaust: 1 } },
        cylinder: 1,
        rock: false,
      },
    },
    {
      type: 'what tappets can i do with 4 rocking, order 1-3-4-2',
      means: { engine: { firingOrder: [1, 3, 4, 2] }, cylinder: 4, rock: true },
    },
  ],
  read: (asked, { view }) => {
    const { plain } = asked;
    if (!speaksOfValves(plain) || asksForRound(plain)) return undefined;
    if (!/\b(?:which|what|welche)\b/.test(plain) && !/\bcan (?:i|we)\b/.test(plain))
      return undefined;
    const crank = crankSaid(plain);
    if (!crank) return undefined;
    const engine = engineSaid(asked, view);
    return engine ? means({ engine, ...crank }) : askOrder(asked);
  },
  answer: ({ engine, cylinder, rock }) => {
    const made = laid(engine);
    if (!made.ok) return stopped(made.problem);
    if (!rock) return answerOf(settableAt(made.value, cylinder));
    const own = made.value.firesAt.get(cylinder);
    const partner = [...made.value.firesAt].find(
      ([, angle]) => own !== undefined && Math.abs(withinCycle(angle - own) - CYCLE / 2) < 1e-6,
    )?.[0];
    if (own !== undefined && partner === undefined) {
      return {
        says: `No cylinder fires while ${cylinder} is on the rock in this firing order. Say which cylinder is at firing top dead centre.`,
      };
    }
    return answerOf(settableAt(made.value, partner ?? cylinder));
  },
});
