// "shortest valve round", "which valves are still to do": the stops of the crank that set every valve left.
import type { JobView } from '../../../job/view.ts';
import type { Engine, EngineDescription } from '../../../trade/engine-layout.ts';
import { valveRound } from '../../../trade/valve-round.ts';
import { answerOf, figureKind, means, stopped } from '../figure-kind.ts';
import { asksIn } from '../plan-figure.ts';
import {
  askOrder,
  asksForRound,
  crankSaid,
  engineSaid,
  laid,
  speaksOfValves,
} from './engine-said.ts';
import { kindOfValve } from './valve-names.ts';

export type RoundInputs = {
  readonly engine: EngineDescription;
  readonly standsAt?: number;
  /** Leave out what the job's reports say is done. */
  readonly left?: true;
};

const LEFT =
  /\b(?:left|still|to do|outstanding|remaining|missing|not (?:set|done)|noch|offen|fehlen)\b/;

export const shortestRound = figureKind<RoundInputs>({
  kind: 'valve-round',
  means: 'the fewest stops of the crank that set every valve, or every one left',
  examples: [
    {
      type: 'shortest valve round for 1-3-4-2',
      means: { engine: { firingOrder: [1, 3, 4, 2] } },
    },
    {
      type: 'in what order do i set the tappets with 6 at tdc now',
      plan: 'injectors-six-cylinder',
      means: {
        engine: { firingOrder: [1, 5, 3, 6, 2, 4], perCylinder: { inlet: 1, exhaust: 1 } },
        standsAt: 6,
      },
    },
    {
      type: 'which valves are still to do',
      plan: 'injectors-six-cylinder',
      means: {
        engine: { firingOrder: [1, 5, 3, 6, 2, 4], perCylinder: { inlet: 1, exhaust: 1 } },
        left: true,
      },
    },
  ],
  read: (asked, { view }) => {
    const { plain } = asked;
    if (!speaksOfValves(plain) || /\bvalve (?:cover|body|block)/.test(plain)) return undefined;
    const left =
      asked.question && LEFT.test(plain) && /\b(?:which|what|how many|any|welche)\b/.test(plain);
    const whole =
      asksForRound(plain) &&
      (asked.question || /^(?:shortest|fewest|quickest|valve|tappet|kürzeste)/.test(plain));
    if (!left && !whole) return undefined;
    const engine = engineSaid(asked, view);
    if (!engine) return left ? undefined : askOrder(asked);
    if (left && !view) return undefined;
    const crank = crankSaid(plain);
    return means({
      engine,
      ...(crank && !crank.rock ? { standsAt: crank.cylinder } : {}),
      ...(left ? { left: true as const } : {}),
    });
  },
  answer: ({ engine, standsAt, left }, { view }) => {
    const made = laid(engine);
    if (!made.ok) return stopped(made.problem);
    const done = left && view ? valvesDone(view, made.value) : [];
    const reply = answerOf(
      valveRound(made.value, { done, ...(standsAt === undefined ? {} : { standsAt }) }),
    );
    return left && view
      ? { ...reply, says: `${reply.says} From the reports on job ${view.job}.` }
      : reply;
  },
});

/** Names of the valves that the job's reports say are set: a cylinder that is done, or single valves of it. */
export function valvesDone(view: JobView, engine: Engine): readonly string[] {
  const steps = new Set(asksIn(view, ['clearance']).map(({ step }) => step.id));
  const numberOf = (position: string | null) =>
    Number(/\d+/.exec(position ?? '')?.[0] ?? Number.NaN);
  const done = new Set<string>();
  const take = (cylinder: number, kind?: 'inlet' | 'exhaust') => {
    for (const valve of engine.valves) {
      if (valve.cylinder === cylinder && (kind === undefined || valve.kind === kind))
        done.add(valve.name);
    }
  };
  for (const { step, position, state } of view.steps) {
    if (!steps.has(step) || state !== 'done') continue;
    if (position === null) for (const valve of engine.valves) done.add(valve.name);
    else take(numberOf(position));
  }
  const again = new Set(
    view.steps
      .filter(({ step, state }) => steps.has(step) && state === 'due-again')
      .map(({ step, position }) => `${step}|${position}`),
  );
  for (const { act } of view.reports) {
    if (act.step === undefined || !steps.has(act.step) || act.valve === undefined) continue;
    if (act.kind !== 'done' && act.kind !== 'partial') continue;
    for (const position of act.positions) {
      if (!again.has(`${act.step}|${position}`)) take(numberOf(position), kindOfValve(act.valve));
    }
  }
  return [...done];
}
