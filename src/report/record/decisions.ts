// What was flagged, decided, asked and found, with who settled it, when and why.
import { Flag, flagKey } from '../../../shared/flag.ts';
import type { JobRecord, RecordFlag } from '../../../shared/record.ts';
import { announcedFlags } from '../../desk/turn/log.ts';
import { eventsOf, type Sources } from './sources.ts';

type Settling = { readonly at: string; readonly by: string; readonly reason: string | null };

/** The event or message that settled a flag. */
const settlingOf = (sources: Sources, ids: readonly string[]): Settling | undefined => {
  for (const id of ids) {
    const override = eventsOf(sources, 'flag-overridden').find((event) => event.id === id);
    if (override) return { at: override.at, by: override.by, reason: override.reason };
    const event =
      sources.events.find((one) => one.id === id) ??
      eventsOf(sources, 'message-posted').find((one) => one.message === id) ??
      eventsOf(sources, 'question-answered').find((one) => one.question === id);
    if (event)
      return {
        at: event.at,
        by: event.by,
        reason: 'reason' in event ? (event.reason ?? null) : null,
      };
  }
  return undefined;
};

/** Flags of the checker, then those that were said in the open and that it does not raise from this job alone. */
export const recordFlags = (sources: Sources): readonly RecordFlag[] => {
  const own = sources.view.flags.map((flag) => recordFlag(sources, flag));
  const known = new Set(own.map(({ flag }) => flag));
  return [...own, ...saidOnly(sources, known)];
};

const saidOnly = (sources: Sources, known: ReadonlySet<string>): readonly RecordFlag[] =>
  [...announcedFlags(sources.events)].flatMap(([key, said]): readonly RecordFlag[] => {
    const parsed = Said.safeParse({ rule: key.split('|')[0], level: said.level });
    if (known.has(key) || !parsed.success) return [];
    const [, step, position, part] = key.split('|');
    const cleared = sources.events.findLast(
      (event) =>
        (event.kind === 'flag-withdrawn' || event.kind === 'flag-overridden') && event.flag === key,
    );
    const flag: Flag = {
      ...parsed.data,
      step: step || null,
      position: position || null,
      part: part || null,
      says: said.says,
      raisedBy: [],
      ...(cleared
        ? {
            clearedBy: [cleared.id],
            how:
              cleared.kind === 'flag-overridden' ? ('overridden' as const) : ('withdrawn' as const),
          }
        : {}),
    };
    return [recordFlag(sources, flag)];
  });

const Said = Flag.pick({ rule: true, level: true });

const recordFlag = (sources: Sources, flag: Flag): RecordFlag => {
  const key = flagKey(flag);
  const settled = settlingOf(sources, flag.clearedBy ?? []);
  const own = <E extends { readonly flag: string }>(events: readonly E[]): readonly E[] =>
    events.filter((event) => event.flag === key);
  return {
    flag: key,
    rule: flag.rule,
    level: flag.level,
    step: flag.step,
    title: flag.step === null ? null : sources.titleOf(flag.step),
    position: flag.position,
    part: flag.part,
    says: flag.says,
    raisedBy: [...flag.raisedBy],
    announcedAt: own(eventsOf(sources, 'flag-announced'))[0]?.at ?? null,
    state: flag.clearedBy === undefined ? 'open' : (flag.how ?? 'withdrawn'),
    settledBy: [...(flag.clearedBy ?? [])],
    settledByWho: settled?.by ?? null,
    settledAt: settled?.at ?? null,
    reason: settled?.reason ?? null,
    told: own(eventsOf(sources, 'flag-announced')).flatMap(({ at, to }) =>
      to ? [{ at, to }] : [],
    ),
    acknowledged: own(eventsOf(sources, 'flag-acknowledged')).map(({ at, by, how }) => ({
      at,
      by,
      ...(how ? { how } : {}),
    })),
    passedOn: own(eventsOf(sources, 'flag-passed-on')).map(({ at, to }) => ({ at, to })),
  };
};

export const recordOverrides = (sources: Sources): JobRecord['overrides'] =>
  eventsOf(sources, 'flag-overridden').map(({ flag, at, by, reason }) => ({
    flag,
    at,
    by,
    reason,
  }));

/** Every release and refusal, then the hold points that wait for one. */
export const recordHolds = (sources: Sources): JobRecord['holds'] => {
  const decided = sources.events.flatMap((event): JobRecord['holds'] => {
    if (event.kind !== 'hold-released' && event.kind !== 'hold-refused') return [];
    const decision = event.kind === 'hold-released' ? 'released' : 'refused';
    const now = sources.view.holds.find(
      (hold) => hold.step === event.step && hold.position === event.position,
    );
    return [
      {
        step: event.step,
        title: sources.titleOf(event.step),
        position: event.position,
        decision,
        at: event.at,
        by: event.by,
        role: event.role ?? null,
        reason: event.reason ?? null,
        counts: now?.state === decision && (now.at === undefined || sameInstant(now.at, event.at)),
      },
    ];
  });
  const waits = sources.view.holds
    .filter(({ state }) => state === 'waits')
    .map(({ step, position }) => ({
      step,
      title: sources.titleOf(step),
      position,
      decision: 'waits' as const,
      at: null,
      by: null,
      role: null,
      reason: null,
      counts: true,
    }));
  return [...decided, ...waits];
};

const sameInstant = (a: string, b: string): boolean => Date.parse(a) === Date.parse(b);

export const recordQuestions = (sources: Sources): JobRecord['questions'] => {
  const states = new Map(sources.view.questions.map((one) => [one.question, one.state]));
  const seen = new Set<string>();
  return eventsOf(sources, 'question-asked').flatMap((asked): JobRecord['questions'] => {
    if (seen.has(asked.question)) return [];
    seen.add(asked.question);
    const answer = eventsOf(sources, 'question-answered').find(
      ({ question }) => question === asked.question,
    );
    const lapsed = eventsOf(sources, 'question-lapsed').some(
      ({ question }) => question === asked.question,
    );
    const choice = answer?.choice == null ? undefined : asked.choices[answer.choice];
    return [
      {
        question: asked.question,
        message: asked.message,
        asks: asked.asks,
        askedAt: asked.at,
        state: states.get(asked.question) ?? (answer ? 'answered' : lapsed ? 'lapsed' : 'open'),
        answer: answer ? (choice?.says ?? 'none of these') : null,
        answeredBy: answer?.by ?? null,
        answeredAt: answer?.at ?? null,
      },
    ];
  });
};

export const recordFindings = (sources: Sources): JobRecord['findings'] =>
  sources.view.findings.map(({ message, at, by, says, state }) => {
    const decided = eventsOf(sources, 'finding-settled').findLast((one) => one.message === message);
    return {
      message,
      at,
      by,
      says,
      state,
      decidedBy: decided?.by ?? null,
      decidedAt: decided?.at ?? null,
      reason: decided?.reason ?? null,
    };
  });
