// Means: fewer parts are reported back on than came off.
// Why it matters: the part left over is missing where it belongs, or lies where it does harm.
// What to do: find and fit what is missing, and report the full count.
// When it may be left: when the plan or the controller says that a part stays off.
import type { FigureRecord } from '../state/asks/ask-state.ts';
import { type CountAsk, countAsks } from '../state/asks/others.ts';
import type { Job } from '../state/job.ts';
import { titled, where } from '../words.ts';
import type { Check, Raised } from './check.ts';

export const countShort: Check = {
  rule: 'count-short',
  run: (job) => [...atEachPlace(job), ...overTheJob(job)],
};

type Counted = FigureRecord & { readonly needed: number };

const backOn = (figure: FigureRecord): figure is Counted => figure.needed !== undefined;

function atEachPlace(job: Job): readonly Raised[] {
  return job.graph.nodes.flatMap(({ id, step, position }) => {
    const run = job.done.latest(id);
    return (run?.figures ?? []).filter(backOn).flatMap((figure): Raised[] => {
      const { of, needed, facts, quantity } = figure;
      const total = quantity.value;
      const [first] = facts;
      const last = facts.at(-1);
      const begun = first?.report.act.count?.done ?? needed;
      const wasShort = begun < needed && facts.length > 1;
      if (last === undefined || (total >= needed && !wasShort)) return [];
      const short = total < needed;
      const shown = short ? last : (first ?? last);
      return [
        {
          ...flagFor(job, step, position, of, short ? total : begun, needed, shown.report.when),
          raisedBy: [shown.report.message],
          coveredFrom: shown.posted,
          ...(!short && { cleared: { by: [last.report.message], how: 'withdrawn' as const } }),
        },
      ];
    });
  });
}

function flagFor(
  job: Job,
  step: string,
  position: string | null,
  part: string,
  on: number,
  off: number,
  when: string,
): Pick<Raised, 'step' | 'position' | 'part' | 'says'> {
  return {
    step,
    position,
    part,
    says: `Count short: ${titled(job, step)}. ${on} ${part} back on, ${off} came off. ${where(job, position, when)} Find and fit the ${off - on} left, and report the full count.`,
  };
}

type Side = { readonly step: string; readonly each: string | undefined; readonly ask: CountAsk };

/** Where a part comes off and goes on at different kinds of places, only the sums over the job can be compared. */
function overTheJob(job: Job): readonly Raised[] {
  const sides = new Map<string, Side[]>();
  for (const step of job.plan.steps) {
    for (const ask of countAsks(step)) {
      const key = ask.part.toLowerCase();
      sides.set(key, [...(sides.get(key) ?? []), { step: step.id, each: step.each, ask }]);
    }
  }
  return [...sides.values()].flatMap((list): Raised[] => {
    const off = list.filter(({ ask }) => ask.kind === 'off');
    const on = list.filter(({ ask }) => ask.kind === 'on');
    const alike =
      off.length === 1 &&
      on.length === 1 &&
      off[0]?.each === on[0]?.each &&
      off[0]?.ask.count === on[0]?.ask.count;
    if (alike || off.length === 0 || on.length === 0) return [];
    const came = countedAt(job, off);
    const went = countedAt(job, on);
    const last = went.records
      .flatMap(({ facts }) => facts)
      .sort((a, b) => a.order - b.order)
      .at(-1);
    if (!went.whole || last === undefined || went.total >= came.total) return [];
    const part = on[0]?.ask.part ?? '';
    const { report } = last;
    return [
      {
        ...flagFor(job, report.act.step ?? '', null, part, went.total, came.total, report.when),
        raisedBy: [report.message],
        coveredFrom: last.posted,
      },
    ];
  });
}

function countedAt(
  job: Job,
  sides: readonly Side[],
): { readonly total: number; readonly whole: boolean; readonly records: readonly FigureRecord[] } {
  const nodes = sides.flatMap(({ step }) => job.graph.ofStep(step));
  const parts = new Set(sides.map(({ ask }) => ask.part));
  const at = nodes
    .filter((node) => job.graph.nodes[node]?.onJob)
    .map((node) =>
      job.done.latest(node)?.figures.filter(({ part }) => part !== null && parts.has(part)),
    );
  const records = at.flatMap((figures) => figures ?? []);
  return {
    total: records.reduce((sum, { quantity }) => sum + quantity.value, 0),
    whole: at.every((figures) => figures !== undefined && figures.length > 0),
    records,
  };
}
