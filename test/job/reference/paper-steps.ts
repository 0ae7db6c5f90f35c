// How far each step is, found by going through everything that was said from the beginning.
import {
  allBehind,
  type Box,
  boxName,
  directlyBefore,
  type Paper,
  positionsOf,
} from './job-on-paper.ts';
import { endOf, type Statement } from './what-was-said.ts';

export type Progress = 'open' | 'started' | 'partial' | 'done' | 'due-again' | 'not-on-job';

/** One run of a box: from its first statement until it is done again or undone. */
export type Run = {
  readonly box: Box;
  readonly said: Statement[];
  /** True where rework of another step made the box due again. */
  readonly undone: boolean;
  end: number;
  /** The step whose rework ended it, and the statement by which this run began. */
  endedBy?: string;
  readonly begunBy?: Statement;
};

export type Runs = ReadonlyMap<string, readonly Run[]>;

export function runsOf(paper: Paper, all: readonly Statement[]): Runs {
  const runs = new Map<string, Run[]>();
  for (const box of paper.boxes) {
    runs.set(boxName(box), [{ box, said: [], undone: false, end: Number.POSITIVE_INFINITY }]);
  }
  const last = (box: Box): Run => {
    const run = runs.get(boxName(box))?.at(-1);
    if (!run) throw new Error(`${boxName(box)} is not on the job`);
    return run;
  };
  const startAnew = (box: Box, by: Statement, undone: boolean): void => {
    last(box).end = by.when;
    if (by.box) last(box).endedBy = by.box.step.id;
    runs
      .get(boxName(box))
      ?.push({ box, said: [], undone, end: Number.POSITIVE_INFINITY, begunBy: by });
  };
  for (const one of all) {
    if (!one.box) continue;
    // Done again means that it was done before.
    if (one.act.again === true && last(one.box).said.some((other) => other.kind === 'done')) {
      startAnew(one.box, one, false);
      for (const box of undoneBy(paper, one.box)) {
        if (last(box).said.length > 0) startAnew(box, one, true);
      }
    }
    last(one.box).said.push(one);
  }
  return runs;
}

/** What doing a box again undoes: the steps it names, at its position where they have it, and all that rests on them. */
export function undoneBy(paper: Paper, box: Box): readonly Box[] {
  const { plan, opened } = paper;
  const named = plan.steps
    .filter((step) => box.step.undoes?.includes(step.id))
    .flatMap((step) => positionsOf(plan, opened, step).map((position) => ({ step, position })))
    .filter((other) => sameSpot(box, other));
  const found = new Map<string, Box>();
  for (const other of named) {
    for (const one of [other, ...allBehind(paper, other)]) found.set(boxName(one), one);
  }
  found.delete(boxName(box));
  return paper.boxes.filter((other) => found.has(boxName(other)));
}

const sameSpot = (a: Box, b: Box): boolean =>
  a.step.each === undefined || a.step.each !== b.step.each || a.position === b.position;

/** The first statement of a run that counts as the word that the step is done. */
function wordOf(paper: Paper, runs: Runs, run: Run): Statement | undefined {
  const { step } = run.box;
  const ownWord =
    step.weight === 'safety-critical' || step.hold !== undefined || step.check !== undefined;
  const posters = run.said.filter((one) => one.kind === 'done').map((one) => one.reporter);
  return run.said.find((one) => {
    if (one.kind !== 'done' || sameHands(paper, runs, run.box, one)) return false;
    return !ownWord || one.worker === one.reporter || posters.includes(one.worker);
  });
}

/**
 * Whether an independent check was reported by anyone recorded on the work, reporters included. Whoever does the work
 * again after the check was not on it at the time.
 */
function sameHands(paper: Paper, runs: Runs, box: Box, one: Statement): boolean {
  const work = paper.boxes.filter(
    (other) => box.step.check?.includes(other.step.id) && sameSpot(box, other),
  );
  const names = work
    .flatMap((other) => runs.get(boxName(other)) ?? [])
    .flatMap((run) => run.said)
    .filter((other) => other.act.again !== true || other.when <= endOf(one.when))
    .flatMap((other) => [other.worker, other.reporter]);
  return names.includes(one.worker) || names.includes(one.reporter);
}

/** A check by the same hands, in the run in hand, that nobody else has made good. */
export function checkRefused(paper: Paper, runs: Runs, box: Box, one: Statement): boolean {
  const run = runs.get(boxName(box))?.at(-1);
  if (one.kind !== 'done' || !run?.said.includes(one)) return false;
  return sameHands(paper, runs, box, one) && wordOf(paper, runs, run) === undefined;
}

/**
 * The moment from which a run is done: when the word was given and every stage was there; undefined while something is
 * missing. A figure may be told later than the work.
 */
export function doneFrom(paper: Paper, runs: Runs, run: Run): number | undefined {
  const word = wordOf(paper, runs, run);
  if (!word) return undefined;
  let from = word.when;
  for (const ask of run.box.step.report ?? []) {
    const measured = ask.kind === 'quantity' || ask.kind === 'drained' || ask.kind === 'filled';
    if (measured && !run.said.some((one) => one.act.quantity)) return undefined;
    if (ask.kind === 'off' || ask.kind === 'on') {
      const counts = run.said.filter((one) => one.act.count);
      const all = ask.kind === 'on' ? cameOff(paper, runs, run.box, ask) : 6;
      const last = counts.at(-1);
      const enough =
        ask.kind === 'on' ? counted(run) >= all : last?.act.count?.done === last?.act.count?.of;
      if (!last || !enough) return undefined;
      from = Math.max(from, last.when);
    }
    if (ask.kind !== 'tightening' && ask.kind !== 'loosening') continue;
    for (const n of ask.stages.keys()) {
      const stage = run.said.find((one) => one.kind === 'done' && one.act.stage === n + 1);
      if (!stage) return undefined;
      from = Math.max(from, stage.when);
    }
  }
  return from;
}

/**
 * The moment from which a run is said to be done although a figure may be missing: the step has its record, so what
 * follows is not out of order. Parts counted short and stages left out are work left out.
 */
export function saidFrom(paper: Paper, runs: Runs, run: Run): number | undefined {
  const kept = (run.box.step.report ?? []).filter((ask) => {
    if (ask.kind === 'off' || ask.kind === 'on') return run.said.some((one) => one.act.count);
    return ask.kind === 'tightening' || ask.kind === 'loosening';
  });
  const step = { ...run.box.step, report: kept };
  return doneFrom(paper, runs, { ...run, box: { ...run.box, step } });
}

/** The run by which a box is said to be done at a moment. */
export function saidAt(paper: Paper, runs: Runs, box: Box, when: number): Run | undefined {
  return runs.get(boxName(box))?.find((run) => {
    const from = saidFrom(paper, runs, run);
    return from !== undefined && from <= when && when < run.end;
  });
}

/** The run by which a box is done at a moment. */
export function doneAt(paper: Paper, runs: Runs, box: Box, when: number): Run | undefined {
  return runs.get(boxName(box))?.find((run) => {
    const from = doneFrom(paper, runs, run);
    return from !== undefined && from <= when && when < run.end;
  });
}

export function progressOf(paper: Paper, runs: Runs, box: Box): Progress {
  const run = runs.get(boxName(box))?.at(-1);
  if (!run || run.said.length === 0) return run?.undone ? 'due-again' : 'open';
  if (doneFrom(paper, runs, run) !== undefined) return 'done';
  return run.said.every((one) => one.kind === 'started') ? 'started' : 'partial';
}

/** Whether a box, or what is directly under it, was done again or undone between two moments. */
export function reworked(
  paper: Paper,
  runs: Runs,
  box: Box,
  after: number,
  until: number,
): boolean {
  return [box, ...directlyBefore(paper, box)].some((one) =>
    runs.get(boxName(one))?.some((run) => run.end > after && run.end <= until),
  );
}

/** Parts reported in a run: "4 of 6" is how far it has come. */
export const counted = (run: Run): number =>
  Math.max(0, ...run.said.map((one) => one.act.count?.done ?? 0));

/** How many of a part came off at the same place, as last reported; the plan's number while that is not known. */
export function cameOff(
  paper: Paper,
  runs: Runs,
  box: Box,
  ask: { part: string; count: number },
): number {
  const off = paper.boxes.find(
    (other) =>
      other.position === box.position &&
      other.step.report?.some((one) => one.kind === 'off' && one.part === ask.part),
  );
  const run = off && runs.get(boxName(off))?.findLast((one) => one.said.length > 0);
  return run?.said.some((one) => one.act.count) ? counted(run) : ask.count;
}
