// Steps with their figures, and every report that stands.
import type { RecordFigure, RecordReport, RecordStep } from '../../../shared/record.ts';
import { actWords } from '../../desk/answers/what-read.ts';
import { reportsOn, type Sources, seenIn } from './sources.ts';

export const recordSteps = (sources: Sources): readonly RecordStep[] =>
  sources.view.steps.map((progress) => {
    const step = sources.view.plan.stepById.get(progress.step);
    const others = reportsOn(sources, progress, progress.messages)
      .filter(({ reporter, worker }) => reporter !== worker)
      .map(({ reporter }) => reporter);
    return {
      step: progress.step,
      title: sources.titleOf(progress.step),
      position: progress.position,
      phase: step?.phase ?? 'make safe',
      weight: step?.weight ?? 'routine',
      state: progress.state,
      at: progress.at,
      by: progress.by,
      reportedBy: [...new Set(others)],
      missing: [...progress.missing],
      assumed: [...progress.assumed],
      messages: [...progress.messages],
    };
  });

/** Every figure of the latest run of each step, with the limit it was held against. */
export const recordFigures = (sources: Sources): readonly RecordFigure[] =>
  sources.view.steps.flatMap(({ step, position, figures }) =>
    figures.map(({ of, quantity, message, limit, within, assumed }) => ({
      step,
      title: sources.titleOf(step),
      position,
      ...seenIn(sources, message, step, position),
      of,
      measured: quantity,
      limit: limit ?? null,
      within: within ?? null,
      assumed,
      message,
    })),
  );

export const recordReports = (sources: Sources): readonly RecordReport[] =>
  [...sources.view.reports]
    .sort((a, b) => Date.parse(a.when) - Date.parse(b.when))
    .map((report) => ({
      message: report.message,
      kind: report.act.kind,
      step: report.act.step ?? null,
      title: report.act.step === undefined ? null : sources.titleOf(report.act.step),
      positions: [...report.act.positions],
      at: report.when,
      timeSaid: report.timeSaid,
      posted: report.posted,
      by: report.worker,
      reportedBy: report.reporter,
      says: [actWords(sources.view, report.act), ...moreWords(report.act)].join(', '),
      assumed: [...report.act.assumed],
    }));

/** What an act carries beside what a reading shows. */
const moreWords = (act: Sources['view']['reports'][number]['act']): readonly string[] => [
  ...(act.valve ? [act.valve] : []),
  ...(act.tool ? [`tool ${act.tool}`] : []),
  ...(act.renewed
    ? [act.renewed.length > 0 ? `new: ${act.renewed.join(', ')}` : 'said to be new']
    : []),
  ...(act.again ? ['done again'] : []),
  ...(act.note ? [`"${act.note}"`] : []),
];
