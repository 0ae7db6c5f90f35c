import type { Flag, Rule } from '../../shared/flag.ts';
import type { Report } from './view.ts';
import { clock } from './words.ts';

/** What the report that withdrew a flag of each rule says happened, before its time. */
const DONE: Readonly<Partial<Record<Rule, string>>> = {
  skipped: 'Done before',
  'same-hands': 'Checked by other hands',
  'unsafe-state': 'Closed before',
  'stage-order': 'The stage below was done before',
  'count-short': 'All are back on',
  'volume-short': 'Drained before',
  'not-renewed': 'Said to be new',
};
const SETTLED: Readonly<Partial<Record<Rule, string>>> = {
  skipped: 'The step that needed it was done again',
  'not-released': 'Released',
  'unsafe-state': 'Closed since',
  'out-of-limits': 'Done again',
  'stage-order': 'Begun again at the first stage',
  'stage-repeat': 'Begun again at the first stage',
  'too-soon': 'Done again',
  'volume-short': 'The rest was drained',
  redo: 'All done again',
  'trouble-code-back': 'Read again without a code',
  overdue: 'Done, late',
  unanswered: 'Answered',
  'early-close': 'Nothing is open any more',
};

/**
 * Why a flag stands no longer, as one sentence for the thread: "Done before, at 09:40.". `report` is the one that
 * cleared it, where a report did; without it the time is left out.
 */
export function withdrawnSays(
  flag: Pick<Flag, 'rule' | 'says'>,
  how: NonNullable<Flag['how']>,
  report: Report | undefined,
): string {
  const at = report === undefined ? '' : `, at ${clock(report.when)}`;
  if (how === 'overridden') return `Released by the controller with a reason${at}.`;
  if (flag.says.startsWith('Done afterwards:')) {
    return how === 'settled'
      ? `Done afterwards${at}; settled by the controller with a reason.`
      : `Done afterwards${at}; a routine step, noted in the record.`;
  }
  const words = how === 'withdrawn' ? DONE[flag.rule] : SETTLED[flag.rule];
  return `${words ?? (how === 'withdrawn' ? 'The report was put right' : 'Settled')}${at}.`;
}
