/** Trouble codes before and after the work: what is cleared, what is still there, what is new, what came back. */
import { cylinderOf, type TroubleCode, writeTroubleCode } from './trouble-code.ts';

export type CodeChange = {
  /** In an earlier list, not in the last one. */
  readonly cleared: readonly TroubleCode[];
  /** In the last list and the one before it. */
  readonly stillThere: readonly TroubleCode[];
  /** In no earlier list. */
  readonly fresh: readonly TroubleCode[];
  /** In the last list, not in the one before it, but in an older one. */
  readonly backAgain: readonly TroubleCode[];
  readonly answer: string;
};

/**
 * Whether two codes are the same fault. The occurrence count does not matter; a failure type counts only where both
 * lists give one, since not every tool shows it.
 */
export function sameCode(a: TroubleCode, b: TroubleCode): boolean {
  if (a.family === 'J1939') return b.family === 'J1939' && a.spn === b.spn && a.fmi === b.fmi;
  if (b.family !== 'J2012' || a.code !== b.code) return false;
  return (
    a.failureType === undefined || b.failureType === undefined || a.failureType === b.failureType
  );
}

/**
 * Compares the last of several readings with those before it, oldest first: before and after, or before, cleared,
 * after the road test. A code named twice in one list counts once. With one list everything is new.
 */
export function compareTroubleCodes(lists: readonly (readonly TroubleCode[])[]): CodeChange {
  const has = (list: readonly TroubleCode[], code: TroubleCode) =>
    list.some((c) => sameCode(c, code));
  const now = once(lists.at(-1) ?? []);
  const before = lists.length > 1 ? (lists.at(-2) ?? []) : [];
  const older = lists.slice(0, -2).flat();
  const cleared = once([...before, ...older]).filter((code) => !has(now, code));
  const stillThere = now.filter((code) => has(before, code));
  const backAgain = now.filter((code) => !has(before, code) && has(older, code));
  const fresh = now.filter((code) => !has(before, code) && !has(older, code));
  return {
    cleared,
    stillThere,
    fresh,
    backAgain,
    answer: sayChange({ cleared, stillThere, fresh, backAgain }, now.length),
  };
}

function once(codes: readonly TroubleCode[]): readonly TroubleCode[] {
  return codes.filter((code, index) => codes.findIndex((other) => sameCode(other, code)) === index);
}

function sayChange(change: Omit<CodeChange, 'answer'>, active: number): string {
  const list = (codes: readonly TroubleCode[]) =>
    codes
      .map((code) => {
        const cylinder = cylinderOf(code);
        return `${writeTroubleCode(code)}${cylinder === null ? '' : ` (cylinder ${cylinder})`}`;
      })
      .join(', ');
  const parts = [
    ['back again', change.backAgain],
    ['still there', change.stillThere],
    ['new', change.fresh],
    ['cleared', change.cleared],
  ] as const;
  const said = parts
    .filter(([, codes]) => codes.length > 0)
    .map(([word, codes]) => `${word}: ${list(codes)}`);
  const head =
    active === 0 ? 'No trouble code left' : `${active} ${active === 1 ? 'code' : 'codes'}`;
  const tail = said.length > 0 ? `; ${said.join('; ')}` : '';
  const caution =
    change.cleared.length > 0
      ? ' Cleared is not mended: some come back only after a road test.'
      : '';
  return `${head}${tail}.${caution}`;
}
