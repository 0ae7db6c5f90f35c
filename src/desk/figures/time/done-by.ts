// "when is 3 h of work from 13:00 done": the end of so much work, by the shifts.
import { clockReading, sayMinutes } from '../../../trade/local-time.ts';
import { convert } from '../../../trade/units.ts';
import { afterWorkingMinutes } from '../../../trade/working-time.ts';
import { saidOf } from '../asking/asked.ts';
import { answerOf, figureKind, means, type Reply, stopped } from '../figure-kind.ts';
import { clockText, clockTimesIn, dayIn } from './times-said.ts';

export type DoneByInputs = {
  readonly day: string;
  readonly from: number;
  readonly minutes: number;
};

const WHEN = /\b(?:when|what time|finished by|done by|wann|bis wann|wie lange bis)\b/;
const WORK = /\b(?:work|done|finish(?:ed)?|ready|end|fertig|arbeit)\b/;

export const doneBy = figureKind<DoneByInputs>({
  kind: 'done-by',
  means: 'when so much work is done, across breaks and shifts',
  examples: [
    {
      type: 'when is 3 h of work from 13:00 done',
      means: { day: '2026-03-04', from: 780, minutes: 180 },
    },
    {
      type: 'when am i finished if i start 90 min at 17:15',
      means: { day: '2026-03-04', from: 1035, minutes: 90 },
    },
  ],
  read: (asked, { today }) => {
    const { plain } = asked;
    if (!WHEN.test(plain) || !WORK.test(plain)) return undefined;
    const times = clockTimesIn(plain);
    const [from] = times;
    const durations = saidOf(asked, 'duration').filter(
      (said) => !times.some((time) => said.from < time.to && said.to > time.from),
    );
    if (!from || times.length > 1 || durations.length === 0) return undefined;
    const minutes = durations.reduce((sum, said) => {
      const each = convert(said.value, said.unit ?? 'min', 'min');
      return sum + (typeof each === 'number' ? each : Number.NaN);
    }, 0);
    const day = dayIn(plain, today);
    return day.ok
      ? means({ day: day.value, from: from.minute, minutes })
      : { reply: stopped(day.problem) };
  },
  answer: ({ day, from, minutes }, { calendar }): Reply => {
    if (minutes < 0)
      return { says: 'There is no time below nought. Check the sign of the figure.' };
    if (!calendar) {
      const end = Math.round(from + minutes);
      const days = Math.floor(end / 1440);
      return {
        says: `${clockText(end % 1440)}${days > 0 ? `, ${days} ${days === 1 ? 'day' : 'days'} on` : ''} (${sayMinutes(minutes)} after ${clockText(from)}). No shifts are known here, so breaks are not taken off.`,
      };
    }
    const start = clockReading(calendar.zone, day, from % 1440).instant;
    return answerOf(afterWorkingMinutes(calendar, start, minutes));
  },
});
