import type { Act } from '../../../shared/reading.ts';
import { bareCode } from '../../trade/look-alike.ts';
import type { Graph } from '../state/graph.ts';
import type { Draft } from './fact.ts';
import type { Frame } from './frame.ts';
import { draftOf, enter, figuresOf, type Ledger } from './ledger.ts';
import { isVolume, near } from './measure.ts';
import type { MessageRecord } from './message-log.ts';
import { resolvePositions } from './resolve-positions.ts';
import type { StandingAct } from './standing-acts.ts';

type Amending = { readonly record: MessageRecord; readonly standing: StandingAct };

/**
 * Takes in an act that changes what was reported before it: a correction, a withdrawal, "not done".
 * @returns false where the act is none of these
 */
export function amend(frame: Frame, graph: Graph, ledger: Ledger, from: Amending): boolean {
  switch (from.standing.act.kind) {
    case 'corrects':
      correct(frame, graph, ledger, from);
      return true;
    case 'retracts':
      retract(frame, graph, ledger, from);
      return true;
    case 'not-done':
      undo(frame, graph, ledger, from.standing.act);
      return true;
    default:
      return false;
  }
}

/** Reports of the act's step at the positions it names (all of them where it names none), newest first. */
function* reportsMeant(
  frame: Frame,
  graph: Graph,
  ledger: Ledger,
  act: Act,
): Generator<Draft, void> {
  const step = frame.plan.stepById.get(act.step ?? '');
  const nodes =
    step === undefined || act.positions.length === 0
      ? undefined
      : new Set(resolvePositions(frame, graph, step, act).nodes);
  const list = ledger.byStep.get(act.step ?? '') ?? [];
  for (let at = list.length - 1; at >= 0; at -= 1) {
    const draft = list[at];
    if (draft === undefined || !draft.live) continue;
    if (act.stage !== undefined && act.kind !== 'corrects' && draft.act.stage !== act.stage)
      continue;
    if (nodes === undefined || draft.unsettled || draft.nodes.some((node) => nodes.has(node))) {
      yield draft;
    }
  }
}

/** Takes the nodes an act names out of a report; out of the whole report where it names none. */
function strike(frame: Frame, graph: Graph, draft: Draft, act: Act): void {
  const step = frame.plan.stepById.get(act.step ?? '');
  if (step !== undefined && act.positions.length > 0 && !draft.unsettled) {
    const gone = new Set(resolvePositions(frame, graph, step, act).nodes);
    draft.nodes = draft.nodes.filter((node) => !gone.has(node));
    const left = draft.nodes.map((node) => graph.nodes[node]?.position);
    draft.act = {
      ...draft.act,
      positions: draft.act.positions.filter((name) => left.includes(name)),
    };
    if (draft.nodes.length > 0) return;
  }
  draft.live = false;
}

/** "Not done after all": whatever was reported for it before no longer stands. */
function undo(frame: Frame, graph: Graph, ledger: Ledger, act: Act): void {
  const step = frame.plan.stepById.get(act.step ?? '');
  if (act.step === undefined) return;
  if (step !== undefined && resolvePositions(frame, graph, step, act).unsettled) return;
  for (const draft of [...reportsMeant(frame, graph, ledger, act)]) {
    strike(frame, graph, draft, act);
  }
}

/** "Scrap that": the last report, and what only confirmed it; of volumes the last one alone. */
function retract(frame: Frame, graph: Graph, ledger: Ledger, from: Amending): void {
  const { act } = from.standing;
  if (act.step === undefined) {
    const own = ledger.byWriter.get(from.record.by) ?? [];
    const last = own.findLast((draft) => draft.live);
    for (let at = own.length - 1; last !== undefined && at >= 0; at -= 1) {
      const draft = own[at];
      if (draft === undefined || draft.posted < last.posted) break;
      if (draft.message === last.message) draft.live = false;
    }
    return;
  }
  const meant = [...reportsMeant(frame, graph, ledger, act)];
  const said = meant.filter((draft) => matches(draft, act.was));
  const [latest] = said.length > 0 ? said : meant;
  if (latest === undefined) return;
  if (isVolume(frame.plan.stepById.get(act.step), latest.act)) {
    strike(frame, graph, latest, act);
    return;
  }
  for (const draft of meant) strike(frame, graph, draft, act);
}

/** "26 not 28": the figure of the report it means is replaced; the report keeps its time. */
function correct(frame: Frame, graph: Graph, ledger: Ledger, from: Amending): void {
  const { act } = from.standing;
  const target = targetOf(frame, graph, ledger, from);
  if (target === undefined) {
    const step = frame.plan.stepById.get(act.step ?? '');
    if (step === undefined) return;
    const resolved = resolvePositions(frame, graph, step, act);
    const draft = draftOf(from.record, from.standing, { ...act, kind: 'partial' });
    enter(ledger, { ...draft, nodes: resolved.nodes, unsettled: resolved.unsettled });
    return;
  }
  const step = frame.plan.stepById.get(target.act.step ?? '');
  if (step === undefined) return;
  const moved = target.act.positions.filter((name) => isPosition(name, act.was));
  if (moved.length > 0 && act.positions.length > 0) {
    strike(frame, graph, target, { ...target.act, positions: moved });
    const act_ = { ...target.act, ...figuresOf(act), positions: act.positions };
    const resolved = resolvePositions(frame, graph, step, act_);
    const draft = draftOf(from.record, from.standing, {
      ...act_,
      positions: [...resolved.positions],
    });
    enter(ledger, { ...draft, nodes: resolved.nodes, unsettled: resolved.unsettled });
    return;
  }
  const nodes = new Set(
    act.positions.length === 0
      ? target.nodes
      : resolvePositions(frame, graph, step, { ...act, step: step.id }).nodes,
  );
  const kept = target.nodes.filter((node) => !nodes.has(node));
  if (kept.length > 0) {
    const positions = kept.flatMap((node) => graph.nodes[node]?.position ?? []);
    enter(ledger, { ...target, nodes: kept, act: { ...target.act, positions } });
    target.nodes = target.nodes.filter((node) => nodes.has(node));
  }
  const positions = target.nodes.flatMap((node) => graph.nodes[node]?.position ?? []);
  target.act = { ...target.act, ...figuresOf(act), ...(kept.length > 0 && { positions }) };
  if (act.time !== undefined) {
    const timed = draftOf(from.record, { ...from.standing, postedIso: target.postedIso }, act);
    target.when = timed.when;
    target.whenIso = timed.whenIso;
    target.timeSaid = timed.timeSaid;
  }
}

function targetOf(frame: Frame, graph: Graph, ledger: Ledger, from: Amending): Draft | undefined {
  const { act } = from.standing;
  if (act.step !== undefined) {
    const anywhere = { ...act, positions: act.was === undefined ? act.positions : [] };
    const meant = [...reportsMeant(frame, graph, ledger, act)];
    return (
      meant.find((draft) => matches(draft, act.was)) ??
      [...reportsMeant(frame, graph, ledger, anywhere)].find((draft) =>
        draft.act.positions.some((name) => isPosition(name, act.was)),
      ) ??
      meant[0]
    );
  }
  if (act.was === undefined) return undefined;
  const own = ledger.byWriter.get(from.record.by) ?? [];
  return own.findLast(
    (draft) =>
      draft.live &&
      (matches(draft, act.was) || draft.act.positions.some((name) => isPosition(name, act.was))),
  );
}

const isPosition = (name: string, was: string | undefined): boolean => {
  const said = was?.trim().toLowerCase() ?? '';
  const whole = name.toLowerCase();
  return said !== '' && (whole === said || whole.endsWith(` ${said}`));
};

/** Whether a report says what a correction replaces, as written: "28", "28 L", "5 of 6", a code. */
function matches(draft: Draft, was: string | undefined): boolean {
  if (was === undefined) return true;
  const { quantity, count, code, stage, angle } = draft.act;
  if (code !== undefined && bareCode(code) === bareCode(was)) return true;
  const said = /-?\d+(?:[.,]\d+)?/.exec(was)?.[0];
  if (said === undefined) return false;
  const number = Number(said.replace(',', '.'));
  const figures = [quantity?.value, angle?.value, count?.done, stage];
  return figures.some((figure) => figure !== undefined && near(figure, number));
}
