// A report that is in doubt: it is not recorded but asked about, whether it is done or not yet.
import type { Act, Candidate } from '../../shared/reading.ts';

/** The two answers to whether a report holds: as it was read, with its figure and stage, or not done yet. */
export function doneOrNot(title: string, act: Act, kind: Act['kind'] = act.kind): Candidate[] {
  const same = {
    ...(act.step === undefined ? {} : { step: act.step }),
    positions: [...act.positions],
  };
  return [
    {
      says: `Done: ${title}`,
      kind,
      ...same,
      ...(act.quantity ? { quantity: act.quantity } : {}),
      ...(act.stage === undefined ? {} : { stage: act.stage }),
    },
    { says: 'Not done yet', kind: 'not-done', ...same },
  ];
}

/** The question in place of a report. */
export const askedInstead = (act: Act, title: string): Act => ({
  ...act,
  kind: 'unsure',
  candidates: doneOrNot(title, act),
});
