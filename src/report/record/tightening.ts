// The tightening table: each stage of each fastening, planned beside what was said.
import type { RecordStage, RecordTightening } from '../../../shared/record.ts';
import { sourceOf } from '../../job/state/asks/ask-state.ts';
import { angleLimit, type StageAsk, stageAskOf, torqueLimit } from '../../job/state/asks/stages.ts';
import type { StepProgress } from '../../job/view.ts';
import { reportsOn, type Sources, seenIn } from './sources.ts';

export const recordTightening = (sources: Sources): readonly RecordTightening[] =>
  sources.view.steps.flatMap((progress): readonly RecordTightening[] => {
    const step = sources.view.plan.stepById.get(progress.step);
    const ask = stageAskOf(step);
    if (!step || !ask || progress.state === 'not-on-job') return [];
    const source = sourceOf(sources.view.plan, step, ask.source);
    return [
      {
        step: progress.step,
        title: step.title,
        position: progress.position,
        kind: ask.kind,
        of: ask.of,
        fasteners: ask.fasteners ?? null,
        pattern: ask.pattern ?? null,
        paintMark: step['paint-mark'] ? isMarked(progress) : null,
        stages: ask.stages.map((_, index) => stageOf(sources, progress, ask, index + 1, source)),
      },
    ];
  });

const isMarked = (progress: StepProgress): boolean =>
  progress.messages.length > 0 && !progress.missing.includes('the paint mark');

const stageOf = (
  sources: Sources,
  progress: StepProgress,
  ask: StageAsk,
  stage: number,
  source: string,
): RecordStage => {
  const planned = ask.stages[stage - 1] ?? {};
  const torque = torqueLimit(planned, source);
  const angle = angleLimit(planned, source);
  const figures = progress.figures.filter(({ of }) => of === `stage ${stage}`);
  const numbered = reportsOn(sources, progress, progress.messages).filter(
    ({ act, message }) =>
      act.stage === stage ||
      (act.stage === undefined && figures.some((f) => f.message === message)),
  );
  const message = figures.at(-1)?.message ?? numbered.at(-1)?.message;
  const seen =
    message === undefined
      ? { at: null, by: null }
      : seenIn(sources, message, progress.step, progress.position);
  return {
    stage,
    torque: torque ? { planned: planned.torque ?? 0, ...torque } : null,
    angle: angle ? { planned: planned.angle ?? 0, ...angle } : null,
    done: progress.stages.includes(stage),
    said: figures.map(({ quantity, within, assumed }) => ({
      measured: quantity,
      within: within ?? null,
      assumed,
    })),
    ...seen,
    tool: numbered.findLast(({ act }) => act.tool !== undefined)?.act.tool ?? null,
  };
};
