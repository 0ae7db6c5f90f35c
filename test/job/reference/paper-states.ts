// Which states of the vehicle are open at a moment.
import { boxName, type Paper } from './job-on-paper.ts';
import { doneFrom, type Runs } from './paper-steps.ts';
import type { Statement } from './what-was-said.ts';

type Change = {
  readonly when: number;
  readonly opens: boolean;
  readonly place: string | null;
  readonly step: string;
};

/**
 * A step opens a state when it is first reported, at its position. The step that closes it does so when it is done, and
 * when that is undone the state is there again. A step that is once for the job closes it everywhere; what such a step
 * opened is over when it is closed at every position at which something closes it.
 */
export function stateIsOpen(job: Seen, state: string, until: number): boolean {
  return openPlaces(job, state, until).size > 0;
}

type Seen = { readonly paper: Paper; readonly runs: Runs; readonly all: readonly Statement[] };
export type Opening = { readonly when: number; readonly step: string };

/** Where a state is open at a moment, and by what it was opened there. */
export function openPlaces(
  { paper, runs, all }: Seen,
  state: string,
  until: number,
): ReadonlyMap<string | null, Opening> {
  const closers = paper.boxes.filter((box) => box.step.closes?.includes(state));
  const everywhere = new Set(closers.flatMap((box) => box.position ?? []));
  const open = new Map<string | null, Opening>();
  let closed = new Set<string>();
  for (const change of changes(paper, runs, all, state)) {
    const { place, when, step } = change;
    if (when > until) break;
    if (change.opens) {
      if (place === null && !open.has(null)) closed = new Set();
      if (!open.has(place)) open.set(place, { when, step });
      closed.delete(place ?? '');
    } else if (place === null) open.clear();
    else {
      open.delete(place);
      closed.add(place);
      if ([...everywhere].every((other) => closed.has(other))) open.delete(null);
    }
  }
  return open;
}

function changes(
  paper: Paper,
  runs: Runs,
  all: readonly Statement[],
  state: string,
): readonly Change[] {
  const found: Change[] = [];
  for (const box of paper.boxes) {
    const place = box.position;
    const step = box.step.id;
    for (const run of runs.get(boxName(box)) ?? []) {
      const first = run.said[0];
      if (first && box.step.opens?.includes(state))
        found.push({ when: first.when, opens: true, place, step });
      const done = doneFrom(paper, runs, run);
      if (done === undefined || !box.step.closes?.includes(state)) continue;
      found.push({ when: done, opens: false, place, step });
      if (Number.isFinite(run.end)) {
        found.push({ when: run.end, opens: true, place, step: run.endedBy ?? step });
      }
    }
  }
  for (const one of all) {
    const act = paper.plan.watched?.find((other) => other.id === one.watched);
    if (act?.opens?.includes(state))
      found.push({ when: one.when, opens: true, place: null, step: act.id });
    if (act?.closes?.includes(state) && one.kind === 'done') {
      found.push({ when: one.when, opens: false, place: null, step: act.id });
    }
  }
  return found.sort((a, b) => a.when - b.when);
}
