// What goes out and comes back: parts off and on, fluid drained and filled.
import type { Level, Step } from '../../../shared/plan.ts';
import { allBefore, type Box, boxName } from './job-on-paper.ts';
import type { PaperJob, Raise } from './paper-order.ts';
import { cameOff, counted, doneAt, progressOf, type Run } from './paper-steps.ts';
import { endOf, type Statement } from './what-was-said.ts';

/** Fewer parts back on than came off, by what was last reported of both. */
export function countShort({ paper, runs }: PaperJob, raise: Raise): void {
  for (const box of paper.boxes) {
    const ask = box.step.report?.find((one) => one.kind === 'on');
    const run = runs.get(boxName(box))?.at(-1);
    if (ask?.kind !== 'on' || !run?.said.some((one) => one.act.count)) continue;
    if (counted(run) < cameOff(paper, runs, box, ask)) {
      raise('count-short', box.step, box.position);
    }
  }
}

const litres = (run: Run): number =>
  run.said.reduce((sum, one) => sum + (one.act.quantity?.value ?? 0), 0);

/** Something was reported that needs a draining of which too little had come out, and has not since. */
export function tooLittleOut(job: PaperJob, one: Statement, box: Box, raise: Raise): void {
  for (const needed of allBefore(job.paper, box)) {
    const ask = needed.step.report?.find((other) => other.kind === 'drained');
    const run = doneAt(job.paper, job.runs, needed, endOf(one.when));
    if (ask?.kind !== 'drained' || ask.min === undefined || !run) continue;
    if (litres(run) < ask.min) raise('volume-short', needed.step, needed.position);
  }
}

/** All is filled, and it does not account for what was drained: 1 L or 5 % of that are allowed, the larger. */
export function balance({ paper, runs }: PaperJob, raise: Raise): void {
  const boxesOf = (kind: string) =>
    paper.boxes.filter((box) => box.step.report?.some((one) => one.kind === kind));
  const total = (box: Box | undefined): number =>
    (box ? (runs.get(boxName(box)) ?? []) : []).reduce((sum, run) => sum + litres(run), 0);
  const drains = boxesOf('drained');
  for (const fill of boxesOf('filled')) {
    if (progressOf(paper, runs, fill) !== 'done') continue;
    const out = total(drains.find((box) => box.position === fill.position));
    if (out > 0 && Math.abs(out - total(fill)) > Math.max(1, out * 0.05)) {
      raise('volume-short', fill.step, fill.position);
    }
  }
}

/** Rework undid something that nobody has done again since; the gravest step it undid gives the level. */
export function redo(
  job: PaperJob,
  levelOf: (step: Step, rule: string) => Level,
  raise: Raise,
): void {
  const { paper, runs } = job;
  const all = [...runs.values()].flat().filter((run) => run.undone);
  for (const box of paper.boxes) {
    const byIt = all.filter((run) => run.begunBy?.box && boxName(run.begunBy.box) === boxName(box));
    const left = byIt.filter(
      (run) =>
        runs.get(boxName(run.box))?.at(-1) === run && progressOf(paper, runs, run.box) !== 'done',
    );
    if (left.length === 0) continue;
    // A rework of which something is left is named with all that it undid.
    const named = byIt.filter((run) => left.some((other) => other.begunBy === run.begunBy));
    const levels = [box, ...named.map((run) => run.box)].map(({ step }) => levelOf(step, 'redo'));
    const gravest = (['stop', 'caution', 'advice'] as const).find((level) =>
      levels.includes(level),
    );
    raise('redo', box.step, box.position, gravest);
  }
}
