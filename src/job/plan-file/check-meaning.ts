// What a plan means: every rule over every step, whatever the form of the rest.
import type { Complaint } from '../../../shared/plan.ts';
import type { Draft } from './draft.ts';
import type { LineOf } from './form-complaints.ts';
import { figures } from './meaning/figures.ts';
import { names } from './meaning/names.ts';
import { order } from './meaning/order.ts';
import { parts } from './meaning/parts.ts';
import { people } from './meaning/people.ts';
import { states } from './meaning/states.ts';
import { wording } from './meaning/wording.ts';
import { type Path, pathText } from './place.ts';
import { type MeaningRule, survey } from './survey.ts';

const RULES: readonly MeaningRule[] = [names, order, states, figures, parts, people, wording];

/** Every complaint about the meaning of a plan whose form may be sound only in part. */
export function checkMeaning(
  draft: Draft,
  lineOf: LineOf,
  asWritten: (path: Path) => Path,
): readonly Complaint[] {
  const complaints: Complaint[] = [];
  const seen = survey(draft);
  for (const rule of RULES) {
    rule(seen, (path, words, level = 'error') => {
      const at = asWritten(path);
      complaints.push({ level, line: lineOf(at), path: pathText(at), ...words });
    });
  }
  return complaints;
}
