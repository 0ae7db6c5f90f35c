// "when will it be ready", in words the language knows no command for: answered by the forecast.
import { figureKind, means } from '../figure-kind.ts';

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
  // The question needs the time of day and the forecast; without them somebody else answers it.
  read: ({ plain, question, figures }, { view, ready, today }) => {
    const name = view?.opened.vehicle.name.toLowerCase() ?? '';
    const own = figures.every(
      ({ value }) =>
        String(value) === view?.job || (plain.includes(name) && name.includes(String(value))),
    );
    const known = view && ready && /T\d{2}:\d{2}/.test(today);
    if (!known || !question || !own || !READY.test(plain)) return undefined;
    return means({ job: view.job, now: today });
  },
  answer: (_, { view, ready }) =>
    view && ready
      ? { says: ready(view), notice: view.plan.notice }
      : { says: 'Ask in the thread of the job.' },
});
