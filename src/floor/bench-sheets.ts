// What the sheets of the bench say beside the job itself: when it will be ready, and every stage of every fastening.
import { DateTime } from 'luxon';
import type { RecordStage } from '../../shared/record.ts';
import type { BenchStage } from '../chat/bench/bench-view.ts';
import { clockTime } from '../desk/say.ts';
import type { JobState } from '../desk/turn/turn.ts';
import type { JobView } from '../job/view.ts';
import { jobRecord } from '../report/job-record.ts';
import { figureWords, limitWords, withinWords } from '../report/words.ts';
import { forecastFinish } from '../trade/finish-forecast.ts';
import type { WorkCalendar } from '../trade/work-calendar.ts';

/** "about 15:40, likely by 16:30": one person, the plan's times of what is left, on the shifts; without waiting. */
export const forecastWords = (
  view: JobView,
  now: string,
  calendar: WorkCalendar | undefined,
  zone: string,
): string | undefined => {
  if (calendar === undefined || view.status !== 'open') return undefined;
  const left = view.steps.flatMap(({ step, position, state }) => {
    const time = view.plan.stepById.get(step)?.time;
    if (state === 'done' || state === 'not-on-job' || time === undefined) return [];
    const off = time['hands-off'] ?? 0;
    return [
      {
        id: `${step}|${position ?? ''}`,
        time: { o: time.best + off, m: time.likely + off, p: time.worst + off },
        after: [],
      },
    ];
  });
  if (left.length === 0) return undefined;
  const found = forecastFinish({ calendar, from: Date.parse(now), left, hands: 1 });
  if (!found.ok) return undefined;
  const words = (ms: number): string =>
    clockTime(DateTime.fromMillis(ms, { zone }).toISO() ?? '', now, zone);
  const { expected, likely } = found.value;
  return `about ${words(expected)}, likely by ${words(likely)}`;
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
