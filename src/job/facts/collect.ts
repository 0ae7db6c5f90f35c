import type { Act } from '../../../shared/reading.ts';
import type { Graph } from '../state/graph.ts';
import { amend } from './amend.ts';
import { type Answer, questionId } from './answers.ts';
import { applyAnswers } from './apply-answers.ts';
import { doubledMessages } from './doubled.ts';
import { type Draft, WORK } from './fact.ts';
import type { Frame } from './frame.ts';
import { draftOf, enter, figuresOf, type Ledger, newLedger } from './ledger.ts';
import { contradicts, hasFigure, isVolume } from './measure.ts';
import type { MessageRecord } from './message-log.ts';
import { resolvePositions } from './resolve-positions.ts';
import { type StandingAct, standingActs } from './standing-acts.ts';

/** An act that is no report of work: a block, a finding, a clocking, a command. */
export type OtherAct = {
  readonly record: MessageRecord;
  readonly act: Act;
  readonly posted: number;
  readonly postedIso: string;
};

export type Collected = {
  /** Reports of work in posting order, those taken back marked. */
  readonly drafts: readonly Draft[];
  readonly others: readonly OtherAct[];
  /** Positions named in reports that are not on this job. */
  readonly misplaced: readonly { readonly draft: Draft; readonly position: string }[];
};

type Posted = { readonly record: MessageRecord; readonly standing: StandingAct };

/** What the messages report, in posting order, with corrections, withdrawals and answers taken in. */
export function collect(
  log: readonly MessageRecord[],
  frame: Frame,
  graph: Graph,
  answers: ReadonlyMap<string, Answer>,
): Collected {
  const doubled = doubledMessages(log);
  const byMessage = new Map<string, Answer[]>();
  for (const answer of answers.values()) {
    if (answer.message === undefined) continue;
    byMessage.set(answer.message, [...(byMessage.get(answer.message) ?? []), answer]);
  }
  const posted: Posted[] = log.flatMap((record) =>
    applyAnswers(record, standingActs(record), answers, byMessage.get(record.message) ?? []).map(
      (standing) => ({ record, standing }),
    ),
  );
  posted.sort(byPosting);
  const ledger = newLedger();
  const others: OtherAct[] = [];
  const misplaced: { draft: Draft; position: string }[] = [];
  for (const { record, standing } of posted) {
    const { act } = standing;
    const step = act.step === undefined ? undefined : frame.plan.stepById.get(act.step);
    if (!WORK.has(act.kind)) {
      if (amend(frame, graph, ledger, { record, standing })) continue;
      others.push({ record, act, posted: standing.posted, postedIso: standing.postedIso });
      continue;
    }
    if (act.step === undefined) continue;
    if (doubled.has(record.message) && !isVolume(step, act)) continue;
    if (step === undefined) {
      if (frame.plan.watchedById.has(act.step)) enter(ledger, draftOf(record, standing, act));
      continue;
    }
    for (const one of settlePositions(frame, graph, answers, record, act)) {
      const { foreign, ...resolved } = resolvePositions(frame, graph, step, one);
      const draft = draftOf(record, standing, { ...one, positions: [...resolved.positions] });
      draft.nodes = resolved.nodes;
      draft.unsettled = resolved.unsettled;
      misplaced.push(...foreign.map((position) => ({ draft, position })));
      settleRepeat(ledger, answers, frame, draft);
    }
  }
  return { drafts: ledger.drafts, others, misplaced };
}

function byPosting(a: Posted, b: Posted): number {
  return (
    a.standing.posted - b.standing.posted ||
    (a.record.message < b.record.message ? -1 : a.record.message > b.record.message ? 1 : 0) ||
    a.standing.index - b.standing.index
  );
}

/** The act, or what the answer to "at which position?" makes of it. */
function settlePositions(
  frame: Frame,
  graph: Graph,
  answers: ReadonlyMap<string, Answer>,
  record: MessageRecord,
  act: Act,
): readonly Act[] {
  const step = act.step === undefined ? undefined : frame.plan.stepById.get(act.step);
  if (step === undefined || answers.size === 0) return [act];
  if (!resolvePositions(frame, graph, step, act).unsettled) return [act];
  const answer = answers.get(questionId(record.message, 'reading', step.id));
  return answer?.acts ?? [act];
}

/** A second figure for what has one already: the answer says which holds; until then both are on record. */
function settleRepeat(
  ledger: Ledger,
  answers: ReadonlyMap<string, Answer>,
  frame: Frame,
  draft: Draft,
): void {
  const { act } = draft;
  const step = frame.plan.stepById.get(act.step ?? '');
  const keys = draft.nodes.map((node) => `${node}|${act.valve ?? ''}`);
  const earlier = keys
    .map((key) => ledger.figures.get(key))
    .find((known) => known?.live && repeats(step, known.act, act));
  if (earlier !== undefined && act.again !== true) {
    const value = answers.get(questionId(draft.message, 'repeat', act.step ?? ''))?.value;
    if (value === 'keep') return;
    if (value === 'correct') {
      earlier.act = { ...earlier.act, ...figuresOf(act) };
      return;
    }
    if (value === 'again') draft.act = { ...act, again: true };
    else draft.disputed = earlier;
  }
  enter(ledger, draft);
  if (!hasFigure(act) || draft.disputed !== undefined) return;
  for (const key of keys) ledger.figures.set(key, draft);
}

function repeats(step: Parameters<typeof contradicts>[0], earlier: Act, later: Act): boolean {
  const stages = step?.report?.some((ask) => ask.kind === 'tightening' || ask.kind === 'loosening');
  const figures = step?.report?.filter((ask) => ask.kind === 'quantity').length ?? 0;
  // An inlet and an exhaust valve have two figures, and neither has to be named.
  const clearances =
    later.valve === undefined && step?.report?.some((ask) => ask.kind === 'clearance');
  if (stages === true || clearances === true || figures > 1) return false;
  return earlier.kind === 'done' && contradicts(step, earlier, later);
}
