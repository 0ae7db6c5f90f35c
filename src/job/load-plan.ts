import type { Complaint } from '../../shared/plan.ts';
import type { Plan } from './plan.ts';
import { checkMeaning } from './plan-file/check-meaning.ts';
import { compilePlan } from './plan-file/compile-plan.ts';
import { checkForm } from './plan-file/form-complaints.ts';
import { readYaml } from './plan-file/read-yaml.ts';

export type LoadedPlan = {
  /** Present when no complaint is an error. */
  readonly plan?: Plan;
  /** By line; within a line errors first. */
  readonly complaints: readonly Complaint[];
};

/** More warnings about a sound plan, from a module that knows more: how its words read, for one. */
export type MoreWarnings = (plan: Plan) => readonly Complaint[];

/**
 * Reads the text of a plan file (YAML). Never throws: every complaint comes back at once, with its line, what was
 * expected and how to mend it. `file` is the name by which a complaint about the whole file calls it.
 */
export function loadPlan(text: string, file: string, moreWarnings?: MoreWarnings): LoadedPlan {
  const yaml = readYaml(text, file);
  if (yaml.value === undefined) return { complaints: inOrder(yaml.complaints) };
  const form = checkForm(yaml.value, yaml.lineOf);
  const meaning = checkMeaning(form.draft, yaml.lineOf, form.asWritten);
  const complaints = [...yaml.complaints, ...form.complaints, ...meaning];
  const wrong = complaints.some((complaint) => complaint.level === 'error');
  if (wrong || !form.file) return { complaints: inOrder(complaints) };
  const plan = compilePlan(form.file, text);
  complaints.push(...(moreWarnings?.(plan) ?? []));
  return { plan, complaints: inOrder(complaints) };
}

function inOrder(complaints: readonly Complaint[]): readonly Complaint[] {
  const rank = ({ level }: Complaint) => (level === 'error' ? 0 : 1);
  return [...complaints].sort((a, b) => a.line - b.line || rank(a) - rank(b));
}
