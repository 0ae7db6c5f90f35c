import type { Flag, Rule } from '../../../shared/flag.ts';
import { flagKey } from '../../../shared/flag.ts';
import { listed, titled } from '../words.ts';
import { findings } from './around-the-job.ts';
import { holdStates } from './holds.ts';
import type { Job } from './job.ts';
import { openStates } from './vehicle-state.ts';

/** Flags that say nothing about the work itself, or whose matter is listed as an open step or hold already. */
const LISTED_ELSEWHERE: ReadonlySet<Rule> = new Set<Rule>([
  'redo',
  'not-released',
  'unsafe-state',
  'same-hands',
  'overdue',
  'back-again',
  'unanswered',
  'over-time',
  'early-close',
]);
const DAY_MINUTES = 24 * 60;

/** Why the job cannot be closed now, one sentence each; empty when it can. */
export function closeNeeds(job: Job, flags: readonly Flag[]): readonly string[] {
  const overridden = overriddenFlags(job, flags);
  const left = stepsLeft(job, overridden);
  const open = [...left].map(([step, places]) => {
    const { id, what } = places;
    const at = what.length === 0 ? '' : `, ${listed(what)}`;
    return `${titled(job, step)}${at}: ${wordsFor(job, id)}.`;
  });
  const holds = holdStates(job.graph, job.done, job.holds)
    .filter(({ state, step, position }) => {
      const waits = state === 'waits' || state === 'refused';
      return waits && !overridden.has(keyOf('not-released', step, position));
    })
    .map(({ step, position, state }) => {
      const at = position === null ? '' : `, ${position}`;
      return `${titled(job, step)}${at}: ${state === 'refused' ? 'the release was refused' : 'not released'}.`;
    });
  const states = openStates(job.plan, job.states).map(
    ({ title, positions }) =>
      `Vehicle state open: ${title}${positions.length === 0 ? '' : ` (${listed(positions)})`}.`,
  );
  const standing = flags
    .filter(
      (flag) =>
        flag.clearedBy === undefined &&
        !LISTED_ELSEWHERE.has(flag.rule) &&
        (flag.level !== 'advice' || flag.rule === 'out-of-limits') &&
        !(flag.rule === 'skipped' && left.has(flag.step ?? '')),
    )
    .map(({ says }) => `Flag open: ${firstSentence(says)}`);
  const found = findings(job)
    .filter(({ state }) => state === 'open')
    .map(({ says }) => `Finding not decided: ${says}.`);
  return [...states, ...open, ...holds, ...standing, ...found];
}

type Left = { readonly id: number; readonly what: string[] };

const keyOf = (rule: Rule, step: string, position: string | null): string =>
  flagKey({ rule, step, position, part: null });

function stepsLeft(job: Job, overridden: ReadonlySet<string>): ReadonlyMap<string, Left> {
  const left = new Map<string, Left>();
  for (const { id, step, position, onJob } of job.graph.nodes) {
    const run = job.done.latest(id);
    const shown = run?.alsoMissing.filter((what) => /^a (photo|remark) /.test(what)) ?? [];
    if (!onJob || (job.done.isDone(id) && shown.length === 0)) continue;
    if (overridden.has(keyOf('skipped', step, position)) || isFollowUp(job, id)) continue;
    const places = left.get(step) ?? { id, what: [] };
    if (position !== null) places.what.push(position);
    left.set(step, places);
  }
  return left;
}

/**
 * Flags a controller has settled with a reason, by their identity. One that rework or a later release settled is not
 * among them: what it was about may have come undone since.
 */
function overriddenFlags(job: Job, flags: readonly Flag[]): ReadonlySet<string> {
  const words = new Set([...job.overrides.values()].flat().map(({ id }) => id));
  const settled = flags.filter(({ clearedBy }) => clearedBy?.some((id) => words.has(id)));
  return new Set(settled.map((flag) => flagKey(flag)));
}

/**
 * A follow-up may be done after the vehicle has left: one due by distance, or more than a day later. It is remembered
 * and called overdue, and does not keep the job open until then.
 */
export function isFollowUp(job: Job, node: number): boolean {
  const within = job.plan.stepById.get(job.graph.nodes[node]?.step ?? '')?.within;
  if (within === undefined) return false;
  const begun = job.graph.beside(node, within.after).every((id) => job.done.isDone(id));
  return begun && (within.km !== undefined || (within.minutes ?? 0) > DAY_MINUTES);
}

function wordsFor(job: Job, node: number): string {
  const run = job.done.latest(node);
  if (run === undefined || run.cycle.facts.length === 0) {
    return run?.cycle.dueAgain ? 'to be done again' : 'no record';
  }
  const missing = [...run.missing, ...(run.state === 'done' ? run.alsoMissing : [])];
  if (missing.length > 0) return `still missing: ${listed(missing)}`;
  return run.state === 'started' ? 'started, not finished' : 'partly done';
}

const firstSentence = (says: string): string => /^[^.]*\.(?=\s|$)/.exec(says)?.[0] ?? says;
