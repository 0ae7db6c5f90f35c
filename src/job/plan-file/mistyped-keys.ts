// Keys that are no key of the plan format but nearly one that is missing: read on as if they were spelled right, so
// that one slip brings one complaint and hides none.
import { PlanFile } from '../../../shared/plan.ts';
import { nearestName } from '../nearest-name.ts';
import { knownKeys } from './known-keys.ts';
import { type Path, pathText, valueAt } from './place.ts';

export type Renamed = { readonly group: Path; readonly from: string; readonly to: string };

export type Respelled = {
  /** A copy of the data with the keys spelled right. */
  readonly data: unknown;
  readonly renamed: readonly Renamed[];
  /** A path of the copy as it stands in the file. */
  readonly asWritten: (path: Path) => Path;
};

/** Misspellings inside a misspelled group come to light once the group is read: at most so many levels. */
const ROUNDS = 6;

/** Spells right what is nearly a key that its group lacks. */
export function respell(given: unknown): Respelled {
  const data: unknown = structuredClone(given);
  const renamed: Renamed[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const more = slipsIn(data);
    if (more.length === 0) break;
    for (const { group, from, to } of more) {
      const owner = valueAt(data, group) as Record<string, unknown>;
      owner[to] = owner[from];
      delete owner[from];
    }
    renamed.push(...more);
  }
  const written = new Map(renamed.map(({ group, from, to }) => [pathText([...group, to]), from]));
  const asWritten = (path: Path): Path =>
    path.map((key, index) => written.get(pathText(path.slice(0, index + 1))) ?? key);
  return { data, renamed, asWritten };
}

function slipsIn(data: unknown): Renamed[] {
  const slips: Renamed[] = [];
  const taken = new Set<string>();
  for (const issue of PlanFile.safeParse(data).error?.issues ?? []) {
    if (issue.code !== 'unrecognized_keys') continue;
    const group = issue.path as Path;
    const owner = valueAt(data, group) as object;
    const free = knownKeys(PlanFile, data, group).filter((key) => !Object.hasOwn(owner, key));
    for (const from of issue.keys) {
      const to = nearestName(from, free);
      if (to === undefined || taken.has(pathText([...group, to]))) continue;
      taken.add(pathText([...group, to]));
      slips.push({ group, from, to });
    }
  }
  return slips;
}
