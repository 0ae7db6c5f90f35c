// Means: the code entered in the control unit is not the one read from the label at the same place.
// Why it matters: with the code of another part the control unit works with the wrong data, and something knocks or burns.
// What to do: compare the label and the entry place by place, and correct the one that is wrong.
// When it may be left: never; correct the report if only the message was mistyped.
import { bareCode, compareCodes } from '../../trade/look-alike.ts';
import { codesAt } from '../state/asks/codes.ts';
import { titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

export const codeMismatch: Check = {
  rule: 'code-mismatch',
  run: (job) => {
    const codes = codesAt(job);
    const read = codes.filter(({ ask, newest }) => ask.do === 'read' && newest);
    return codes.flatMap(({ ask, node, fact, code, newest }): Raised[] => {
      if (ask.do !== 'enter' || !newest) return [];
      const label = read.find(
        (one) =>
          one.newest &&
          one.ask.of === ask.of &&
          job.graph.beside(node.id, one.node.step).includes(one.node.id),
      );
      if (label === undefined) return [];
      const compared = compareCodes(label.code, code);
      if (compared.same) return [];
      return [
        {
          step: node.step,
          position: node.position,
          part: bareCode(code),
          says: `Code mismatch: ${titled(job, node.step)}. Label ${bareCode(label.code)}, entered ${bareCode(code)}. ${compared.answer} ${where(job, node.position, fact.report.when)} Correct the entry, or the report of the label.`,
          raisedBy: [
            fact.order > label.fact.order ? fact.report.message : label.fact.report.message,
          ],
          coveredFrom: Math.max(fact.posted, label.fact.posted),
        },
      ];
    });
  },
};
