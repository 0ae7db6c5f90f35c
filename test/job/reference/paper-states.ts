// Which states of the vehicle are open at a moment.
import { boxName, type Paper } from './job-on-paper.ts';
import { doneFrom, type Runs } from './paper-steps.ts';
import type { Statement } from './what-was-said.ts';

type Change = { readonly when: number; readonly opens: boolean; readonly place: string | null };

/**
 * A step opens a state when it is first reported, at its position. The step that closes it does so when it is done, and
 * when that is undone the state is there again. A step that is once for the job closes it everywhere; what such a step
 * opened is over when it is closed at every position at which something closes it.
 */
export function stateIsOpen(
  { paper, runs, all }: { paper: Paper; runs: Runs; all: readonly Statement[] },
  state: string,
  until: number,
): boolean {
  const closedEverywhere = new Set(
    paper.boxes
      .filter((box) => box.step.closes?.includes(state))
      .flatMap((box) => box.position ?? []),
  );
  let open = new Set<string | null>();
  let closed = new Set<string>();
  for (const { opens, place } of changes(paper, runs, all, state).filter(
    ({ when }) => when <= until,
  )) {
    if (opens && place === null && !open.has(null)) closed = new Set();
    if (opens) {
      open.add(place);
      closed.delete(place ?? '');
    } else if (place === null) open = new Set();
    else {
      open.delete(place);
      closed.add(place);
      if ([...closedEverywhere].every((other) => closed.has(other))) open.delete(null);
    }
  }
  return open.size > 0;
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
    for (const run of runs.get(boxName(box)) ?? []) {
      const first = run.said[0];
      if (first && box.step.opens?.includes(state))
        found.push({ when: first.when, opens: true, place });
      const done = doneFrom(paper, runs, run);
      if (done === undefined || !box.step.closes?.includes(state)) continue;
      found.push({ when: done, opens: false, place });
      if (Number.isFinite(run.end)) found.push({ when: run.end, opens: true, place });
    }
  }
  for (const one of all) {
    const act = paper.plan.watched?.find((other) => other.id === one.watched);
    if (act?.opens?.includes(state)) found.push({ when: one.when, opens: true, place: null });
    if (act?.closes?.includes(state) && one.kind === 'done') {
      found.push({ when: one.when, opens: false, place: null });
    }
  }
  return found.sort((a, b) => a.when - b.when);
}
