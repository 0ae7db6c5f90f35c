// Means: something was reported that must not happen in the state the vehicle is in, on this job or another of its jobs.
// Why it matters: an engine started with a pipe open, or a wheel lowered with the hub loose, hurts somebody at once.
// What to do: stop, make the vehicle safe, and report the step that ends the state.
// When it may be left: never by a word; a vehicle state cannot be overridden, only closed.
import type { Fact } from '../facts/fact.ts';
import type { Job } from '../state/job.ts';
import type { Stretch } from '../state/vehicle-state.ts';
import type { OpenState } from '../view.ts';
import { listed, placed, titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

type Act = {
  readonly id: string;
  readonly is?: string | undefined;
  readonly 'not-while'?: string[] | undefined;
};
type Clash = {
  readonly fact: Fact;
  readonly own: readonly Stretch[];
  readonly others: readonly { readonly job: string; readonly state: OpenState }[];
};

export const unsafeState: Check = {
  rule: 'unsafe-state',
  run: (job) => {
    const clashes = new Map<string, Clash[]>();
    for (const fact of job.posting) {
      const { act } = fact.report;
      const what: Act | undefined =
        job.plan.stepById.get(act.step ?? '') ?? job.plan.watchedById.get(act.step ?? '');
      if (what === undefined || (!what.is && !what['not-while'])) continue;
      const own = stretchesAgainst(job, what, fact);
      const others = statesOfOthers(job, what, fact);
      if (own.length === 0 && others.length === 0) continue;
      const places = fact.nodes.map((node) => job.graph.nodes[node]?.position ?? null);
      for (const position of places.length > 0 ? places : [null]) {
        const key = `${what.id}|${position ?? ''}`;
        clashes.set(key, [...(clashes.get(key) ?? []), { fact, own, others }]);
      }
    }
    return [...clashes].flatMap(([key, list]) => flagOf(job, key, list) ?? []);
  },
};

/** Whether a state stands against an act: the act names it, or the state forbids what the act is. */
const isAgainst = (what: Act, state: string, forbids: readonly string[]): boolean =>
  what['not-while']?.includes(state) === true ||
  (what.is !== undefined && forbids.includes(what.is));

function stretchesAgainst(job: Job, what: Act, fact: Fact): readonly Stretch[] {
  return Object.entries(job.plan.states ?? {})
    .filter(([state, { forbids }]) => isAgainst(what, state, forbids ?? []))
    .flatMap(([state]) => job.states.of(state))
    .filter((stretch) => stretch.openedBy.report.act.step !== what.id)
    .filter(({ from, openedBy, until, closedBy }) => {
      const open = from < fact.when || (from === fact.when && openedBy.order < fact.order);
      const over = until !== undefined && until <= fact.when;
      // Closed in time but told later: it was against the record when it was reported.
      const toldLater =
        over &&
        closedBy !== undefined &&
        closedBy.order > fact.order &&
        closedBy.report.message !== fact.report.message &&
        openedBy.order < fact.order;
      return open && (!over || toldLater);
    });
}

function statesOfOthers(job: Job, what: Act, fact: Fact): Clash['others'] {
  return (job.around.otherStates ?? []).filter(
    ({ state }) =>
      isAgainst(what, state.state, state.forbids) && Date.parse(state.since) <= fact.when,
  );
}

const isOpen = ({ own, others }: Clash): boolean =>
  others.length > 0 || own.some(({ until }) => until === undefined);

const wasOpen = ({ own, fact }: Clash): boolean =>
  own.some(({ until }) => until === undefined || until > fact.when);

function flagOf(job: Job, key: string, clashes: readonly Clash[]): Raised | undefined {
  const clash = clashes.find(isOpen) ?? clashes.find(wasOpen) ?? clashes[0];
  if (clash === undefined) return undefined;
  const { fact, own, others } = clash;
  const step = fact.report.act.step ?? '';
  const position = key.slice(step.length + 1) || null;
  const states = [...new Set(own.map(({ state }) => state))];
  const names = [
    ...states.map((state) => job.plan.states?.[state]?.title ?? state),
    ...others.map(({ job: other, state }) => `${state.title} (job ${other})`),
  ];
  const means = states.flatMap((state) => job.plan.states?.[state]?.means ?? []);
  const closers = job.plan.steps
    .filter(({ closes }) => closes?.some((state) => states.includes(state)))
    .map(({ id }) => titled(job, id));
  const close =
    closers.length > 0 ? ` Close it first: report ${listed(closers)}.` : ' Close it there first.';
  return {
    step,
    position,
    part: null,
    says: `Unsafe: ${placed(job, step, null)}. It is reported while this is so of the vehicle: ${listed(names)}.${means.length > 0 ? ` ${means.join(' ')}` : ''} ${where(job, position, fact.report.when)} Stop.${close}`,
    raisedBy: [fact.report.message],
    coveredFrom: fact.posted,
    override: 'never',
    ...(!isOpen(clash) && {
      cleared: {
        by: [...new Set(own.flatMap(({ closedBy }) => closedBy?.report.message ?? []))],
        how: wasOpen(clash) ? ('settled' as const) : ('withdrawn' as const),
      },
    }),
  };
}
