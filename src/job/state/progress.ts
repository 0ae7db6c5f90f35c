import type { Ask, Step } from '../../../shared/plan.ts';
import type { Fact } from '../facts/fact.ts';
import type { AskState, FigureRecord } from './asks/ask-state.ts';
import { NOTHING } from './asks/ask-state.ts';
import { quantityStates, volumeState } from './asks/measured.ts';
import { clearanceState, codeState, countState, troubleState } from './asks/others.ts';
import { type StagesState, stagesState } from './asks/stages.ts';
import type { Cycle } from './cycles.ts';
import type { Hearing } from './hearing.ts';

/** Why a report does not make its step done. */
export type Doubt = 'same-hands' | 'same-hands-allowed' | 'own-word' | 'competence';

/** How far one run of a step at one position has come. */
export type Progress = {
  readonly cycle: Cycle;
  readonly state: 'open' | 'started' | 'partial' | 'done';
  /** The first report that says it is done and counts. */
  readonly claim: Fact | undefined;
  /** The time from which it is done, where it is. */
  readonly doneAt: number | undefined;
  /** The time from which it is said to be done, with nothing missing but figures nobody gave: its order is kept. */
  readonly saidAt: number | undefined;
  /** Posting order of the last report that was needed for it, the claim among them. */
  readonly known: number;
  /** What must still be reported before it is done. */
  readonly missing: readonly string[];
  /** What the plan wants to hear as well, without which it is done all the same. */
  readonly alsoMissing: readonly string[];
  readonly figures: readonly FigureRecord[];
  readonly assumed: readonly string[];
  readonly stages: StagesState | undefined;
  readonly doubts: readonly { readonly fact: Fact; readonly why: Doubt }[];
};

/** Works out one run of a step from its reports. */
export function progressOf(hearing: Hearing, step: Step, cycle: Cycle): Progress {
  const doubts: { fact: Fact; why: Doubt }[] = [];
  const claims: Fact[] = [];
  const words = new Set(
    cycle.facts.flatMap(({ report }) => (report.act.kind === 'done' ? [report.reporter] : [])),
  );
  for (const fact of cycle.facts) {
    if (fact.report.act.kind !== 'done') continue;
    const why = hearing.doubt(step, cycle.node, fact, words);
    if (why === undefined || why === 'same-hands-allowed') claims.push(fact);
    if (why !== undefined) doubts.push({ fact, why });
  }
  const asks = askStates(hearing, step, cycle);
  const states = [...asks.values()];
  const stages = states.find((state): state is StagesState => 'records' in state);
  const missing = states.filter((state) => state.blocks).flatMap((state) => state.missing);
  const [claim] = claims;
  const counts = claim !== undefined && missing.length === 0;
  const onlyFigures = states.every(
    (state) => !state.blocks || state.missing.length === 0 || state.unsaid === true,
  );
  const needsAt = Math.max(-Infinity, ...states.map((state) => state.at));
  const over = claim === undefined ? undefined : Math.max(claim.when, needsAt);
  const doubted = claim === undefined ? doubtWords(step, doubts) : [];
  return {
    cycle,
    state: counts ? 'done' : stateOf(cycle),
    claim,
    doneAt: counts ? over : undefined,
    saidAt: onlyFigures ? over : undefined,
    known: Math.max(
      claim?.order ?? -1,
      ...states.filter((state) => state.blocks).map((state) => state.known),
    ),
    missing: [...doubted, ...missing],
    alsoMissing: [
      ...states.filter((state) => !state.blocks).flatMap((state) => state.missing),
      ...alsoWanted(step, cycle),
    ],
    figures: states.flatMap((state) => state.figures),
    assumed: [
      ...new Set([
        ...cycle.facts.flatMap(({ report }) => report.act.assumed),
        ...states.flatMap((state) => state.assumed),
      ]),
    ],
    stages,
    doubts,
  };
}

function stateOf(cycle: Cycle): 'open' | 'started' | 'partial' {
  if (cycle.facts.some(({ report }) => report.act.kind !== 'started')) return 'partial';
  return cycle.facts.length > 0 ? 'started' : 'open';
}

function askStates(hearing: Hearing, step: Step, cycle: Cycle): ReadonlyMap<Ask, AskState> {
  const { plan } = hearing;
  const { facts } = cycle;
  const quantities = quantityStates(plan, step, facts);
  const photographed = facts.some(hearing.hasPhoto);
  const remarked = facts.some(({ report }) => report.act.note !== undefined);
  const stateOfAsk = (ask: Ask): AskState => {
    switch (ask.kind) {
      case 'quantity':
        return quantities.get(ask) ?? NOTHING;
      case 'drained':
      case 'filled':
        return volumeState(plan, step, ask, facts);
      case 'tightening':
      case 'loosening':
        return stagesState(plan, step, ask, facts);
      case 'off':
      case 'on':
        return countState(ask, step, facts, hearing.needed(ask, cycle.node));
      case 'code':
        return codeState(ask, facts);
      case 'clearance':
        return clearanceState(plan, step, ask, facts);
      case 'trouble-codes':
        return troubleState(ask, facts);
      case 'photo':
        return shown(`a photo of ${ask.of}`, photographed);
      case 'remark':
        return shown(`a remark on ${ask.of}`, remarked);
    }
  };
  return new Map((step.report ?? []).map((ask): [Ask, AskState] => [ask, stateOfAsk(ask)]));
}

const shown = (missing: string, there: boolean): AskState => ({
  ...NOTHING,
  missing: there ? [] : [missing],
});

/** Things a plan may want named beside the figures: the tool, the paint mark. */
function alsoWanted(step: Step, cycle: Cycle): readonly string[] {
  const wanted: string[] = [];
  const tool = step.report?.find((ask) => ask.kind === 'tightening' || ask.kind === 'loosening');
  if (tool !== undefined && 'tool' in tool && tool.tool !== undefined) {
    const named = cycle.facts.some(({ report }) => report.act.tool !== undefined);
    if (!named) wanted.push(`which ${tool.tool.replaceAll('-', ' ')} was used`);
  }
  if (step['paint-mark'] === true) {
    const marked = cycle.facts.some(({ report }) => /mark|paint/iu.test(report.act.note ?? ''));
    if (!marked) wanted.push('the paint mark');
  }
  return wanted;
}

function doubtWords(
  step: Step,
  doubts: readonly { readonly fact: Fact; readonly why: Doubt }[],
): readonly string[] {
  const words = doubts.map(({ fact, why }) => {
    if (why === 'same-hands') return 'a check by somebody who did none of the work';
    if (why === 'own-word') return `${fact.report.worker}'s own word`;
    return `somebody who is down as ${(step.competence ?? []).join(' or ')} (only they may report it)`;
  });
  return [...new Set(words)];
}
