import type { Act } from '../../../shared/reading.ts';
import type { Draft } from './fact.ts';
import type { MessageRecord } from './message-log.ts';
import { saidTime } from './said-time.ts';
import type { StandingAct } from './standing-acts.ts';

/** The reports so far, with what is needed to find the one a later message speaks about. */
export type Ledger = {
  readonly drafts: Draft[];
  readonly byStep: Map<string, Draft[]>;
  readonly byWriter: Map<string, Draft[]>;
  /** Latest report with a figure, by step and position. */
  readonly figures: Map<string, Draft>;
};

/** An empty ledger. */
export const newLedger = (): Ledger => ({
  drafts: [],
  byStep: new Map(),
  byWriter: new Map(),
  figures: new Map(),
});

/** Adds a report to the ledger. */
export function enter(ledger: Ledger, draft: Draft): void {
  ledger.drafts.push(draft);
  push(ledger.byStep, draft.act.step ?? '', draft);
  push(ledger.byWriter, draft.reporter, draft);
}

function push(lists: Map<string, Draft[]>, key: string, draft: Draft): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [draft]);
  else list.push(draft);
}

/** A report as posted, with the time said where there is one. */
export function draftOf(record: MessageRecord, standing: StandingAct, act: Act): Draft {
  const said = act.time === undefined ? undefined : saidTime(act.time, standing.postedIso);
  return {
    message: record.message,
    index: standing.index,
    act,
    posted: standing.posted,
    postedIso: standing.postedIso,
    when: said?.at ?? standing.posted,
    whenIso: said?.iso ?? standing.postedIso,
    timeSaid: said !== undefined,
    worker: act.by ?? record.by,
    reporter: record.by,
    role: record.role,
    nodes: [],
    live: true,
    unsettled: false,
    disputed: undefined,
  };
}

/** The figures of an act, to be put in the place of another's. */
export function figuresOf(act: Act): Partial<Act> {
  const { quantity, angle, stage, count, code, valve, tool } = act;
  return {
    ...(quantity && { quantity }),
    ...(angle && { angle }),
    ...(stage !== undefined && { stage }),
    ...(count && { count }),
    ...(code !== undefined && { code }),
    ...(valve !== undefined && { valve }),
    ...(tool !== undefined && { tool }),
  };
}
