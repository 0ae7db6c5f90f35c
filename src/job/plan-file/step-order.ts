// The order of a plan's steps: what comes before what.

type Ties = {
  readonly after?: readonly (string | undefined)[] | undefined;
  readonly check?: readonly (string | undefined)[] | undefined;
  readonly waits?: readonly ({ readonly after?: string | undefined } | undefined)[] | undefined;
  readonly within?: { readonly after?: string | undefined } | undefined;
};

/**
 * The steps that come directly before one: those it names in `after`, and those it cannot come before by their
 * nature: what it checks, what it waits for, and what it is due after.
 */
export function stepsBefore(step: Ties): readonly string[] {
  const named = [
    ...(step.after ?? []),
    ...(step.check ?? []),
    ...(step.waits ?? []).map((wait) => wait?.after),
    step.within?.after,
  ];
  return [...new Set(named.filter((id) => id !== undefined))];
}

/**
 * For each node all that it leads to, through the whole graph. The graph is taken to have no cycle; where it has one,
 * the answer still ends, with the members of the cycle leading to each other.
 */
export function reachable(
  direct: ReadonlyMap<string, readonly string[]>,
): ReadonlyMap<string, ReadonlySet<string>> {
  const reached = new Map<string, ReadonlySet<string>>();
  for (const start of direct.keys()) {
    const seen = new Set<string>();
    const waiting = [...(direct.get(start) ?? [])];
    for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
      if (seen.has(id)) continue;
      seen.add(id);
      waiting.push(...(direct.get(id) ?? []));
    }
    reached.set(start, seen);
  }
  return reached;
}
