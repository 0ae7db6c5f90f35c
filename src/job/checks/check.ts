import type { Flag, Rule } from '../../../shared/flag.ts';
import { flagKey } from '../../../shared/flag.ts';
import type { Level, Weight } from '../../../shared/plan.ts';
import { LEVELS } from '../../../shared/plan.ts';
import type { Job } from '../state/job.ts';
import type { Want } from '../view.ts';

/** What a check found, before overrides and levels are looked at. */
export type Raised = {
  readonly step: string | null;
  readonly position: string | null;
  readonly part: string | null;
  readonly says: string;
  /** Ids of the messages, or of events that are no message, that raise it. */
  readonly raisedBy: readonly string[];
  /** An override counts from this time on (ms): one given before the work it would cover does not. */
  readonly coveredFrom: number;
  /** Present once it no longer stands. */
  readonly cleared?: { readonly by: readonly string[]; readonly how: 'withdrawn' | 'settled' };
  /** How an override is shown: a controller settles what was done afterwards. */
  readonly override?: 'overridden' | 'settled' | 'never';
  /** The level, where it does not follow the weight of the step. */
  readonly level?: Level;
  /** Questions whose answers bear on it, asked only while it stands. */
  readonly wants?: readonly Omit<Want, 'flag'>[];
};

/** What the rules before one have said, for those that look at the whole. */
export type SoFar = {
  readonly flags: readonly Flag[];
  /** Every question that needs an answer, asked already or not. */
  readonly wants: readonly Want[];
  /** Why the job could not be closed at a time, from the events until then. */
  readonly needsAt: (time: number) => readonly string[];
};

/** One rule: it looks at what is true of the job and at what the rules before it have said. */
export type Check = {
  readonly rule: Rule;
  readonly run: (job: Job, soFar: SoFar) => readonly Raised[];
};

const USUAL: Readonly<Record<Weight, Level>> = {
  'safety-critical': 'stop',
  'damage-critical': 'caution',
  routine: 'advice',
};
const ALWAYS_STOP: ReadonlySet<Rule> = new Set(['unsafe-state', 'not-released', 'same-hands']);

/** The graver of two levels. */
export const graver = (a: Level, b: Level): Level =>
  LEVELS.indexOf(a) <= LEVELS.indexOf(b) ? a : b;

/** The level of a rule at a step: by the step's weight, and above it where the plan says so; never below. */
export function levelOf(job: Pick<Job, 'plan'>, rule: Rule, stepId: string | null): Level {
  if (ALWAYS_STOP.has(rule)) return 'stop';
  const step = stepId === null ? undefined : job.plan.stepById.get(stepId);
  const usual = USUAL[step?.weight ?? 'routine'];
  const raised = step?.raise?.[rule];
  return raised === undefined ? usual : graver(usual, raised);
}

export type Checked = { readonly flags: readonly Flag[]; readonly wants: readonly Want[] };

/** Makes flags of what one check found: level, override, and the questions that go with what stands. */
export function settle(job: Job, check: Check, found: readonly Raised[]): Checked {
  const flags: Flag[] = [];
  const wants: Want[] = [];
  for (const raised of found) {
    const { step, position, part, says } = raised;
    const key = flagKey({ rule: check.rule, step, position, part });
    const level = raised.level ?? levelOf(job, check.rule, step);
    const flag = {
      rule: check.rule,
      level,
      step,
      position,
      part,
      says,
      raisedBy: [...raised.raisedBy],
    };
    const override =
      raised.override === 'never'
        ? undefined
        : job.overrides.get(key)?.find(({ at }) => at >= raised.coveredFrom);
    if (raised.cleared !== undefined) {
      flags.push({ ...flag, clearedBy: [...raised.cleared.by], how: raised.cleared.how });
    } else if (override !== undefined) {
      const how = raised.override === 'settled' ? 'settled' : 'overridden';
      flags.push({ ...flag, clearedBy: [override.id], how });
    } else {
      flags.push(flag);
      wants.push(...(raised.wants ?? []).map((want) => ({ ...want, flag: key })));
    }
  }
  return { flags, wants };
}
