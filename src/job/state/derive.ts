import type { JobEvent, JobEventOf } from '../../../shared/event.ts';
import { flagKey } from '../../../shared/flag.ts';
import { answersOf, questionId } from '../facts/answers.ts';
import { canonical, type TimedEvent } from '../facts/canonical.ts';
import { collect } from '../facts/collect.ts';
import { byWhen, type Fact } from '../facts/fact.ts';
import { frameOf } from '../facts/frame.ts';
import { messageLog } from '../facts/message-log.ts';
import { settleFacts } from '../facts/settle-facts.ts';
import type { Plan } from '../plan.ts';
import type { Around } from '../view.ts';
import { clockingsOf, minutesBooked } from './clock.ts';
import { sweepCycles } from './cycles.ts';
import { donenessOf, type Evaluate } from './doneness.ts';
import { graphOf } from './graph.ts';
import { hearingOf } from './hearing.ts';
import { holdHistory, reworkTimes } from './holds.ts';
import type { Job, Override } from './job.ts';
import { photographed } from './photos.ts';
import { progressOf } from './progress.ts';
import { stateHistory } from './vehicle-state.ts';

/** Everything that is true of a job from its events, in whatever order they came. */
export function derive(
  plan: Plan,
  given: readonly JobEvent[],
  nowIso: string,
  around: Around,
): Job {
  const events = canonical(given);
  const opened = openingOf(events);
  const now = Date.parse(nowIso);
  const frame = frameOf(plan, opened, events);
  const graph = graphOf(frame);
  const log = messageLog(events, opened.job);
  const answers = answersOf(events);
  const collected = collect(log, frame, graph, answers);
  const settled = settleFacts(collected.drafts, graph, answers);
  const { posting } = settled;
  const facts = [...posting].sort(byWhen);
  const sweep = sweepCycles(plan, graph, facts);
  const overrides = overridesOf(events);
  const hearing = hearingOf({
    plan,
    graph,
    cycles: sweep.cycles,
    around,
    photos: photographed(events, log, posting),
    confirmed: ({ report }) => {
      const own = answers.get(questionId(report.message, 'other', report.act.step ?? ''));
      return own?.value === 'own-word' && own.by === report.worker;
    },
    allowed: (step, position, fact) =>
      (overrides.get(flagKey({ rule: 'same-hands', step, position, part: null })) ?? []).some(
        ({ at }) => at >= fact.posted,
      ),
  });
  const clockings = clockingsOf(collected.others, opened.job);
  const evaluate: Evaluate = (run, some) => {
    const step = plan.stepById.get(graph.nodes[run.cycle.node]?.step ?? '');
    return step === undefined ? run : progressOf(hearing, step, { ...run.cycle, facts: [...some] });
  };
  const done = donenessOf(
    sweep.cycles.map((cycles, node) => {
      const step = plan.stepById.get(graph.nodes[node]?.step ?? '');
      return step === undefined ? [] : cycles.map((cycle) => progressOf(hearing, step, cycle));
    }),
  );
  return {
    plan,
    opened,
    around,
    now,
    nowIso,
    events,
    frame,
    graph,
    log,
    answers,
    facts,
    posting,
    misplaced: collected.misplaced.flatMap(({ draft, position }) => {
      const fact: Fact | undefined = settled.of(draft);
      return fact === undefined ? [] : [{ fact, position }];
    }),
    others: collected.others,
    reworks: sweep.reworks,
    done,
    evaluate,
    holds: holdHistory({
      plan,
      graph,
      events,
      reworkTimes: reworkTimes(graph, done, sweep.reworks),
      done,
      evaluate,
      around,
    }),
    states: stateHistory(plan, graph, done, facts),
    overrides,
    clockings,
    minutesBooked: minutesBooked(clockings, now, around.calendar),
  };
}

function openingOf(events: readonly TimedEvent[]): JobEventOf<'job-opened'> {
  for (const { event } of events) if (event.kind === 'job-opened') return event;
  throw new Error(
    'The events hold no "job-opened", so there is no job to check. Put the event that opened the job first in its file.',
  );
}

function overridesOf(events: readonly TimedEvent[]): ReadonlyMap<string, readonly Override[]> {
  const overrides = new Map<string, Override[]>();
  for (const { event, at } of events) {
    if (event.kind !== 'flag-overridden') continue;
    const list = overrides.get(event.flag) ?? [];
    list.push({ id: event.id, at, by: event.by });
    overrides.set(event.flag, list);
  }
  return overrides;
}
