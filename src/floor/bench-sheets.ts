// What the sheets of the bench say beside the job itself: when it will be ready, and every stage of every fastening.
import type { RecordStage } from '../../shared/record.ts';
import type { BenchStage } from '../chat/bench/bench-view.ts';
import { readyWords } from '../desk/answers/forecast.ts';
import { type ForecastGround, forecastJob } from '../desk/forecast/forecast.ts';
import type { JobState } from '../desk/turn/turn.ts';
import type { JobView } from '../job/view.ts';
import { jobRecord } from '../report/job-record.ts';
import { figureWords, limitWords, withinWords } from '../report/words.ts';

/** Words for a job as it stood, and for which quarter of an hour: drawing a page again asks for them again. */
const kept = new WeakMap<
  JobView,
  { readonly quarter: number; readonly words: string | undefined }
>();
const QUARTER = 15 * 60_000;

/** "15:45, cautiously Thursday 09:00": the answer to "when will it be ready", in short. */
export const forecastWords = (view: JobView, ground: ForecastGround): string | undefined => {
  if (view.status !== 'open' || !ground.settings.shifts?.length) return undefined;
  const quarter = Math.floor(Date.parse(ground.now) / QUARTER);
  const known = kept.get(view);
  if (known?.quarter === quarter) return known.words;
  const forecast = forecastJob(view, ground);
  const words =
    forecast.left === 0 || forecast.likely === null
      ? undefined
      : readyWords(forecast, ground.now, ground.settings.zone);
  kept.set(view, { quarter, words });
  return words;
};

/** The tightening sheet: the rows of the record's tightening table. */
export const stagesOf = (
  { view, events }: JobState,
  zone: string,
  now: string,
): readonly BenchStage[] =>
  jobRecord(view, events, { chainEnd: null, zone, now }).tightening.flatMap((table) =>
    table.stages.map((stage) => ({
      step: table.title,
      position: table.position,
      of: `${table.fasteners === null ? '' : `${table.fasteners} × `}${table.of}${table.pattern === null ? '' : `, ${table.pattern}`}`,
      stage: `${table.kind === 'loosening' ? 'loosening ' : ''}${stage.stage}`,
      planned: plannedWords(stage),
      said: saidWords(stage),
      tool: stage.tool ?? '',
      at: stage.at,
      by: stage.by,
      source: stage.torque?.source ?? stage.angle?.source ?? '',
    })),
  );

const plannedWords = ({ torque, angle }: RecordStage): string =>
  [
    ...(torque ? [`${torque.planned} N·m (${limitWords(torque)})`] : []),
    ...(angle ? [`${angle.planned}° (${limitWords(angle)})`] : []),
  ].join(' and ');

const saidWords = ({ said, done }: RecordStage): string =>
  said.length > 0
    ? said
        .map(
          ({ measured, within, assumed }) =>
            `${figureWords(measured)}${within === false ? `, within: ${withinWords(within)}` : ''}${assumed ? ' (assumed)' : ''}`,
        )
        .join(', ')
    : done
      ? 'done, no figure said'
      : '';
