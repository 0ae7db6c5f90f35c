// The middle and the slowest of many times.
export type Spread = { readonly median: number; readonly p99: number };

/** @param times milliseconds */
export const spread = (times: readonly number[]): Spread => {
  const sorted = times.toSorted((a, b) => a - b);
  const pick = (share: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
  return { median: pick(0.5), p99: pick(0.99) };
};
