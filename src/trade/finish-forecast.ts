/** When a job will be ready: the expected time of what is left, laid on the shift calendar. */
import { type Activity, criticalPath } from './critical-path.ts';
import { timeFor } from './finish-likelihood.ts';
import { localText } from './local-time.ts';
import { found, type Result, refused } from './result.ts';
import type { WorkCalendar } from './work-calendar.ts';
import { afterWorkingMinutes } from './working-time.ts';

export type FinishForecast = {
  /** Milliseconds since 1970 UTC. */
  readonly expected: number;
  /** By when it is done with the likelihood asked for. */
  readonly likely: number;
  readonly answer: string;
};

/**
 * Forecasts the finish of the steps that are left, working from an instant on.
 *
 * All of it is counted in working minutes, hands-off time too, so a cure that goes on overnight makes the forecast
 * late, never early. With `hands` 1 the steps follow one another; otherwise as many people as the order allows.
 *
 * Errors: as {@link criticalPath} and {@link afterWorkingMinutes}; a likelihood outside 50 to 99 %.
 */
export function forecastFinish(given: {
  readonly calendar: WorkCalendar;
  readonly from: number;
  readonly left: readonly Activity[];
  readonly hands: 1 | 'as needed';
  /** 0.5 to 0.99. */
  readonly likelihood?: number;
}): Result<FinishForecast> {
  const { calendar, from, left, hands, likelihood = 0.9 } = given;
  if (!(likelihood >= 0.5 && likelihood <= 0.99)) {
    return refused(`A likelihood of ${likelihood} is not between 0.5 and 0.99.`, 'Use 0.9.');
  }
  const whole = criticalPath(left);
  if (!whole.ok) return whole;
  const { activities } = whole.value;
  const total =
    hands === 1
      ? {
          expected: [...activities.values()].reduce((sum, a) => sum + a.expected, 0),
          variance: [...activities.values()].reduce((sum, a) => sum + a.variance, 0),
        }
      : whole.value;
  const late = timeFor(total, likelihood);
  if (!late.ok) return late;
  const expected = afterWorkingMinutes(calendar, from, total.expected);
  if (!expected.ok) return expected;
  const likely = afterWorkingMinutes(calendar, from, late.value.time);
  if (!likely.ok) return likely;
  const say = (instant: number) => localText(calendar.zone, instant);
  const answer = `${say(expected.value.instant)} expected, ${Math.round(100 * likelihood)} % likely by ${say(likely.value.instant)}; ${left.length} steps left, ${hands === 1 ? 'one person' : 'as many hands as the order allows'}, three-point times on the shift calendar. Waiting for parts is not in it.`;
  return found({ expected: expected.value.instant, likely: likely.value.instant, answer });
}
