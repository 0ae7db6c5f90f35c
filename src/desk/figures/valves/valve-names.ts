// "ex 3", "exhaust", "Auslass": which kind of valve a word means.
import type { JobView } from '../../../job/view.ts';
import type { ValveKind } from '../../../trade/engine-layout.ts';
import { type AskOf, asksIn, type Placed } from '../plan-figure.ts';

/** Undefined for a name that says neither. */
export function kindOfValve(name: string): ValveKind | undefined {
  if (/^(?:ex|aus)/i.test(name.trim())) return 'exhaust';
  return /^(?:in|ein)/i.test(name.trim()) ? 'inlet' : undefined;
}

/** The kind of valve a question names, where it names one alone. */
export function valveSaid(plain: string): ValveKind | undefined {
  const exhaust = /\b(?:exhaust|exh|ex)\b|auslass/.test(plain);
  const inlet = /\b(?:inlet|intake)\b|\bin\s+\d|einlass/.test(plain);
  if (exhaust === inlet) return undefined;
  return exhaust ? 'exhaust' : 'inlet';
}

export type PlannedValve = AskOf<'clearance'>['valves'][number];

/** The plan's clearance for a kind of valve, with the ask it stands in. */
export function plannedValve(
  view: JobView | undefined,
  kind: ValveKind,
): { readonly placed: Placed<'clearance'>; readonly valve: PlannedValve } | undefined {
  for (const placed of asksIn(view, ['clearance'])) {
    const valve = placed.ask.valves.find((each) => kindOfValve(each.valve) === kind);
    if (valve) return { placed, valve };
  }
  return undefined;
}
