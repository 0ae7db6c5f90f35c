import type { Complaint, PlanCheckResult } from '../../shared/plan.ts';
import { loadPlan, type MoreWarnings } from './load-plan.ts';
import { readBack } from './read-back.ts';

/** Everything there is to say about the text of a plan file: what `plan check FILE --json` prints. */
export function planCheck(
  text: string,
  file: string,
  moreWarnings?: MoreWarnings,
): PlanCheckResult {
  const { plan, complaints } = loadPlan(text, file, moreWarnings);
  return {
    file,
    plan: plan?.plan ?? null,
    good: plan !== undefined,
    complaints: [...complaints],
    reads: plan ? [...readBack(plan)] : [],
  };
}

/** A complaint for people: where and what in the first line, so that editors find it; then what to do. */
export function formatComplaint(file: string, complaint: Complaint): string {
  const { level, line, what, expected, mend } = complaint;
  const head = `${file}:${line}: ${level === 'warning' ? 'Warning: ' : ''}${what}`;
  return `${head}\n  expected: ${expected}\n  to mend: ${mend}`;
}
