// "how long from 07:00 to 15:30": working time between two times, by the shifts where they are known.
import { addDays, clockReading, sayMinutes } from '../../../trade/local-time.ts';
import { workingMinutes } from '../../../trade/working-time.ts';
import { answerOf, figureKind, type Ground, means, type Reply, stopped } from '../figure-kind.ts';
import { clockText, clockTimesIn, dayIn } from './times-said.ts';

export type HowLongInputs = {
  readonly day: string;
  /** Minutes after midnight; `to` at or before `from` is the next day. */
  readonly from: number;
  readonly to: number;
};

const HOW_LONG =
  /\b(?:how long|how many (?:working |work )?(?:hours|minutes|hrs)|how much (?:working |work )?time|hours (?:from|between)|wie lange|wie ?viele? (?:stunden|minuten|zeit))\b/;

export const howLong = figureKind<HowLongInputs>({
  kind: 'how-long',
  means: 'working time between two times, breaks taken off',
  examples: [
    { type: 'how long from 07:00 to 15:30', means: { day: '2026-03-04', from: 420, to: 930 } },
    {
      type: 'how many hours from 22:00 to 06:00 on 2026-03-28',
      means: { day: '2026-03-28', from: 1320, to: 360 },
    },
  ],
  read: ({ plain }, { today }) => {
    if (!HOW_LONG.test(plain)) return undefined;
    const times = clockTimesIn(plain);
    const [from, to] = times;
    if (!from || !to || times.length !== 2) return undefined;
    const day = dayIn(plain, today);
    return day.ok
      ? means({ day: day.value, from: from.minute, to: to.minute })
      : { reply: stopped(day.problem) };
  },
  answer,
});

function answer({ day, from, to }: HowLongInputs, { calendar }: Ground): Reply {
  const next = to <= from;
  if (!calendar) {
    const minutes = to - from + (next ? 1440 : 0);
    return {
      says: `${sayMinutes(minutes)} (${clockText(from)} to ${clockText(to)}${next ? ' the next day' : ''}). No shifts are known here, so breaks and clock changes are not taken into account.`,
    };
  }
  const start = clockReading(calendar.zone, day, from % 1440);
  const end = clockReading(calendar.zone, next ? addDays(day, 1) : day, to % 1440);
  const whole = to === 1440 ? clockReading(calendar.zone, addDays(day, 1), 0) : end;
  const reply = answerOf(workingMinutes(calendar, start.instant, whole.instant));
  const unclear = [[from, start.certainty] as const, [to, whole.certainty] as const].filter(
    ([, certainty]) => certainty !== 'once',
  );
  const notes = unclear.map(([minute, certainty]) =>
    certainty === 'twice'
      ? ` ${clockText(minute)} came twice that day; the first is taken.`
      : ` The clocks left out ${clockText(minute)} that day; the jump is taken.`,
  );
  return { says: `${reply.says}${notes.join('')}` };
}
