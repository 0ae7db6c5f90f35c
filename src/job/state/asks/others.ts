// Counts, codes, clearances and what is only shown: photo, remark, trouble codes.
import type { Ask, Step } from '../../../../shared/plan.ts';
import type { Act, Quantity } from '../../../../shared/reading.ts';
import type { Fact } from '../../facts/fact.ts';
import { inUnit } from '../../facts/measure.ts';
import type { Plan } from '../../plan.ts';
import {
  type AskState,
  type FigureRecord,
  isWithin,
  limitOf,
  NOTHING,
  sourceOf,
} from './ask-state.ts';

export type CountAsk = Extract<Ask, { kind: 'off' | 'on' }>;
export type CodeAsk = Extract<Ask, { kind: 'code' }>;
type ClearanceAsk = Extract<Ask, { kind: 'clearance' }>;
type TroubleAsk = Extract<Ask, { kind: 'trouble-codes' }>;

export const countAsks = (step: Step | undefined): readonly CountAsk[] =>
  (step?.report ?? []).filter((ask): ask is CountAsk => ask.kind === 'off' || ask.kind === 'on');

export type Counted = { readonly total: number; readonly facts: readonly Fact[] };

/**
 * How many parts one run of a step reports. "4 of 6" is a level reached; a bare "2 more" adds up for as long as the
 * sum stays within what the plan counts, beyond that it repeats what was said.
 */
export function countOf(ask: CountAsk, step: Step, facts: readonly Fact[]): Counted | undefined {
  const counted = facts.filter(({ report }) => countFor(ask, step, report.act) !== undefined);
  if (counted.length === 0) return undefined;
  let total = 0;
  for (const { report } of counted) {
    const count = report.act.count;
    if (count === undefined) continue;
    const adds = count.of === undefined && total + count.done <= ask.count;
    total = adds ? total + count.done : Math.max(total, count.done);
  }
  return { total, facts: counted };
}

/** Of several parts counted in one step, the count belongs to the one whose number it names, else to the first. */
function countFor(ask: CountAsk, step: Step, act: Act): number | undefined {
  if (act.count === undefined) return undefined;
  const asks = countAsks(step);
  const of = act.count.of ?? act.count.done;
  const meant = asks.length === 1 ? ask : (asks.find((one) => one.count === of) ?? asks[0]);
  return meant === ask ? act.count.done : undefined;
}

/** @param needed how many have to be reported; for what goes back on, as many as came off */
export function countState(
  ask: CountAsk,
  step: Step,
  facts: readonly Fact[],
  needed: number,
): AskState {
  const counted = countOf(ask, step, facts);
  const done = ask.kind === 'on' ? 'are back on' : 'came off';
  if (counted === undefined) {
    return { ...NOTHING, missing: [`how many ${ask.part} ${done}`], blocks: true, unsaid: true };
  }
  const last = counted.facts.at(-1);
  const off = last?.report.act.count;
  // "5 of 6 off" leaves one on; a bare "5 off" is all there were.
  const short =
    ask.kind === 'on' ? counted.total < needed : off !== undefined && off.done < (off.of ?? 0);
  const of = ask.kind === 'on' ? needed : (off?.of ?? ask.count);
  return {
    ...NOTHING,
    missing: short ? [`${of - counted.total} of ${of} ${ask.part}`] : [],
    blocks: true,
    at: last?.when ?? -Infinity,
    known: last?.order ?? -1,
    figures: [
      {
        of: ask.part,
        part: ask.part,
        quantity: { value: counted.total, unit: 'count' },
        facts: counted.facts,
        assumed: false,
        ...(ask.kind === 'on' && { needed }),
      },
    ],
  };
}

/** A component code read or entered. */
export function codeState(ask: CodeAsk, facts: readonly Fact[]): AskState {
  const first = facts.find(({ report }) => report.act.code !== undefined);
  const name = ask.of.replaceAll('-', ' ');
  return {
    ...NOTHING,
    missing:
      first === undefined ? [`the ${name} as ${ask.do === 'read' ? 'read' : 'entered'}`] : [],
    blocks: true,
    unsaid: first === undefined,
    known: first?.order ?? -1,
  };
}

/** Trouble codes before the work are listed, or said to be none; the other two are said by doing the step. */
export function troubleState(ask: TroubleAsk, facts: readonly Fact[]): AskState {
  if (ask.ask !== 'before') return NOTHING;
  const first = facts.find(
    ({ report: { act } }) =>
      act.code !== undefined || act.count?.done === 0 || act.note !== undefined,
  );
  return {
    ...NOTHING,
    missing: first === undefined ? ['the trouble codes, or that there are none'] : [],
    blocks: true,
    unsaid: first === undefined,
    known: first?.order ?? -1,
  };
}

/** A clearance for each valve, each figure with the valve it belongs to. */
export function clearanceState(
  plan: Plan,
  step: Step,
  ask: ClearanceAsk,
  facts: readonly Fact[],
): AskState {
  const unit = ask.unit ?? 'mm';
  const source = sourceOf(plan, step, ask.source);
  const figures: FigureRecord[] = [];
  const assumed: string[] = [];
  const set = new Set<string>();
  let known = -1;
  for (const fact of facts) {
    const { quantity, valve } = fact.report.act;
    if (quantity === undefined) continue;
    for (const one of valvesMeant(ask, quantity, valve)) {
      const limit = limitOf(one, unit, source);
      const within = limit && isWithin(quantity, limit);
      if (!set.has(one.valve)) known = Math.max(known, fact.order);
      if (valve === undefined) assumed.push(`valve: ${one.valve}, from the figure`);
      set.add(one.valve);
      figures.push({
        of: `${one.valve} clearance`,
        part: one.valve,
        quantity,
        facts: [fact],
        ...(limit && { limit }),
        ...(within !== undefined && { within }),
        assumed: false,
      });
    }
  }
  const left = ask.valves.filter((one) => !set.has(one.valve));
  return {
    ...NOTHING,
    missing: left.map((one) => `the clearance of ${one.valve}`),
    blocks: true,
    unsaid: set.size === 0,
    known,
    figures,
    assumed,
  };
}

/**
 * The valves a figure is of: the one named; without a name all where they share one target, else those whose target
 * it is nearest to, since an inlet and an exhaust are set to figures that are far apart.
 */
function valvesMeant(
  ask: ClearanceAsk,
  quantity: Quantity,
  valve: string | undefined,
): ClearanceAsk['valves'] {
  if (valve !== undefined) {
    return ask.valves.filter((one) => one.valve.toLowerCase() === valve.toLowerCase());
  }
  const value = inUnit(quantity.value, quantity.unit, ask.unit ?? 'mm');
  if (value === undefined) return [];
  const apart = ask.valves.map(({ target }) => Math.abs(target - value));
  const least = Math.min(...apart);
  return ask.valves.filter((_, index) => apart[index] === least);
}
