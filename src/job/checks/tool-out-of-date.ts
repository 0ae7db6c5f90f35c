// Means: a figure was reported with a tool whose calibration had run out by then.
// Why it matters: a torque set with a wrench that reads wrong is a torque nobody knows.
// What to do: repeat the stage with a tool that is in date, and report which.
// When it may be left: when the tool is checked afterwards and found right, and the controller says so.
import { stageAskOf } from '../state/asks/stages.ts';
import { titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

const bare = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[\s_-]+/gu, ' ')
    .trim();

export const toolOutOfDate: Check = {
  rule: 'tool-out-of-date',
  run: (job) => {
    const tools = new Map(job.around.tools?.map((tool) => [bare(tool.id), tool]));
    return job.graph.nodes.flatMap(({ id, step, position }) => {
      const raised = new Map<string, Raised>();
      const kind = stageAskOf(job.plan.stepById.get(step))?.tool;
      for (const fact of job.done.latest(id)?.cycle.facts ?? []) {
        const named = fact.report.act.tool;
        const tool = named === undefined ? undefined : tools.get(bare(named));
        // A date of the register is good through its whole day.
        if (tool?.due === undefined || tool.due.slice(0, 10) >= fact.report.when.slice(0, 10)) {
          continue;
        }
        const as = kind === undefined ? 'tool' : kind.replaceAll('-', ' ');
        raised.set(tool.id, {
          step,
          position,
          part: tool.id,
          says: `Tool out of date: ${titled(job, step)}. The ${as} ${tool.id} was due on ${tool.due.slice(0, 10)}. ${where(job, position, fact.report.when)} Repeat it with a tool that is in date, and say which.`,
          raisedBy: [fact.report.message],
          coveredFrom: fact.posted,
        });
      }
      return [...raised.values()];
    });
  },
};
