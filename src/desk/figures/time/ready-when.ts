// "when will it be ready": the finish of the steps that are left, on the shift calendar.
import { forecastFinish } from '../../../trade/finish-forecast.ts';
import { answerOf, figureKind, means } from '../figure-kind.ts';

export type ReadyInputs = { readonly job: string; readonly now: string };

const READY =
  /\b(?:when (?:will|is|can|would|do) .{0,40}\b(?:ready|done|finished|finish|back)|when(?:'s| is) it (?:ready|done)|how long (?:to go|until|till|left)|time left|wann .{0,40}\bfertig|wie lange noch)\b/;

export const readyWhen = figureKind<ReadyInputs>({
  kind: 'ready-when',
  means: 'when the job will be ready, from what is left and the shifts',
  examples: [
    {
      type: 'when will it be ready',
      plan: 'injectors-six-cylinder',
      means: { job: '1042', now: '2026-03-04T09:00:00Z' },
    },
  ],
  // The question needs the time of day and the shifts; without them somebody else answers it.
  read: ({ plain, question, figures }, { view, calendar, today }) => {
    const name = view?.opened.vehicle.name.toLowerCase() ?? '';
    const own = figures.every(
      ({ value }) =>
        String(value) === view?.job || (plain.includes(name) && name.includes(String(value))),
    );
    const known = view && calendar && /T\d{2}:\d{2}/.test(today);
    if (!known || !question || !own || !READY.test(plain)) return undefined;
    return means({ job: view.job, now: today });
  },
  answer: ({ now }, { view, calendar }) => {
    if (!view || !calendar) return { says: 'Ask in the thread of the job.' };
    const left = view.steps.flatMap(({ step, position, state }) => {
      const time = view.plan.stepById.get(step)?.time;
      if (state === 'done' || state === 'not-on-job' || !time) return [];
      const off = time['hands-off'] ?? 0;
      return [
        {
          id: `${step}|${position ?? ''}`,
          time: { o: time.best + off, m: time.likely + off, p: time.worst + off },
          after: [],
        },
      ];
    });
    if (left.length === 0)
      return { says: 'No step with a time is left: every one has its record.' };
    const reply = answerOf(forecastFinish({ calendar, from: Date.parse(now), left, hands: 1 }));
    return { ...reply, notice: view.plan.notice };
  },
});
