// Means: the same component code is on record for two places, or the code of an old part was entered again.
// Why it matters: every part has its own code; one of the two works with data that are not its own.
// What to do: read both labels again and enter each code where its part is fitted.
// When it may be left: when the part was truly moved from one place to the other; correct the first report then.
import { bareCode } from '../../trade/look-alike.ts';
import { type CodeAt, codesAt } from '../state/asks/codes.ts';
import type { Job } from '../state/job.ts';
import { placed, titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

export const codeRepeat: Check = {
  rule: 'code-repeat',
  run: (job) => {
    const codes = [...codesAt(job)]
      .filter(({ newest }) => newest)
      .sort((a, b) => a.fact.order - b.fact.order || a.node.id - b.node.id);
    const seen = new Map<string, CodeAt>();
    const raised: Raised[] = [];
    for (const one of codes) {
      const key = `${one.ask.of}|${one.ask.do}|${bareCode(one.code)}`;
      const earlier = seen.get(key);
      if (earlier === undefined) seen.set(key, one);
      else
        raised.push(
          flagOf(
            job,
            one,
            `is also on record for ${placed(job, earlier.node.step, earlier.node.position)}`,
          ),
        );
    }
    const old = new Map<string, CodeAt>();
    for (const one of codes) if (one.ask.do === 'read') old.set(bareCode(one.code), one);
    for (const one of codes) {
      const other = one.ask.do === 'enter' ? old.get(bareCode(one.code)) : undefined;
      if (other === undefined || other.ask.of === one.ask.of) continue;
      raised.push(
        flagOf(
          job,
          one,
          `was read as the ${other.ask.of.replaceAll('-', ' ')} in ${placed(job, other.node.step, other.node.position)}`,
        ),
      );
    }
    return raised;
  },
};

function flagOf(job: Job, { node, fact, code }: CodeAt, what: string): Raised {
  return {
    step: node.step,
    position: node.position,
    part: bareCode(code),
    says: `Code repeated: ${titled(job, node.step)}. ${bareCode(code)} ${what}. ${where(job, node.position, fact.report.when)} Read both labels again, and correct the one that is wrong.`,
    raisedBy: [fact.report.message],
    coveredFrom: fact.posted,
  };
}
