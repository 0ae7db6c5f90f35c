// Means: a component code does not have the form the plan gives for it.
// Why it matters: a code misread by one character makes the control unit work with the data of another part.
// What to do: read the label again, place by place, and correct the code.
// When it may be left: when the label truly has another form; tell whoever keeps the plan.
import { codeForm as formOf, readCode } from '../../trade/code-form.ts';
import { bareCode } from '../../trade/look-alike.ts';
import { codesAt } from '../state/asks/codes.ts';
import { titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

export const codeForm: Check = {
  rule: 'code-form',
  run: (job) =>
    codesAt(job).flatMap(({ ask, node, fact, code }): Raised[] => {
      const form = formOf({
        pattern: ask.form,
        ...(ask.alphabet !== undefined && { alphabet: ask.alphabet }),
        ...(ask.check !== undefined && { check: ask.check }),
      });
      if (!form.ok) return [];
      const reading = readCode(form.value, code);
      if (reading.ok) return [];
      const { what, doThis } = reading.problem;
      return [
        {
          step: node.step,
          position: node.position,
          part: bareCode(code),
          says: `Code form: ${titled(job, node.step)}. ${what} ${where(job, node.position, fact.report.when)} ${doThis}`,
          raisedBy: [fact.report.message],
          coveredFrom: fact.posted,
        },
      ];
    }),
};
