// The signs that speak against a report, in one list: whoever takes words for a report asks it, and names what it lets pass.
import { type Clause, hasCue } from './clause.ts';
import type { CueName } from './pack.ts';

/** Denied, left, put off, hung on something, doubted, asked, withdrawn, held up, found wrong, or of something else. */
const AGAINST_A_REPORT: readonly CueName[] = [
  'not',
  'not-yet',
  'no',
  'none',
  'left-to-do',
  'still',
  'except',
  'future',
  'later',
  'next',
  'ready',
  'condition',
  'wish',
  'must',
  'doubt',
  'nearly',
  'mistake',
  'cannot',
  'wait-for',
  'needs',
  'defect',
  'question-word',
  'question-start',
  'question-tag',
  'other-vehicle',
  'private',
];

/** The signs against a report without those that may stand in this kind of report. */
export function signsAgainst(...letPass: readonly CueName[]): readonly CueName[] {
  return AGAINST_A_REPORT.filter((name) => !letPass.includes(name));
}

/** Whether one of these signs stands in a clause. */
export const speaksAgainst = (clause: Clause, signs: readonly CueName[]): boolean =>
  signs.some((name) => hasCue(clause, name));
