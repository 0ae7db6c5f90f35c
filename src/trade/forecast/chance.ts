/**
 * Drawn numbers: the same seed gives the same numbers on every machine, so a forecast of the same events is the same.
 *
 * Sources, from memory: the generator is xoshiro128** of Blackman and Vigna, ACM Trans. Math. Softw. 47 (2021) 36,
 * seeded by a multiplicative hash; the normal by the polar method of Marsaglia and Bray, SIAM Rev. 6 (1964) 260; the
 * gamma by Marsaglia and Tsang, ACM Trans. Math. Softw. 26 (2000) 363; beta and Student's t are made of these.
 */
import type { ThreePoint } from '../three-point.ts';

/** At least 0 and below 1. */
export type Chance = () => number;

/** The stream of a seed. */
export function chance(seed: number): Chance {
  let hash = seed | 0;
  const word = (): number => {
    hash = (hash + 0x9e3779b9) | 0;
    let mixed = Math.imul(hash ^ (hash >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return mixed ^ (mixed >>> 15);
  };
  const words = stream(word(), word(), word(), word());
  return () => words() / 4_294_967_296;
}

/** Whole numbers of 32 bits by xoshiro128** from its four words of state, which must not all be 0. */
export function stream(a: number, b: number, c: number, d: number): () => number {
  const turned = (x: number, by: number): number => (x << by) | (x >>> (32 - by));
  return () => {
    const drawn = Math.imul(turned(Math.imul(b, 5), 7), 9);
    const kept = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= kept;
    d = turned(d, 11);
    return drawn >>> 0;
  };
}

/** A seed from words, so that each job has its own numbers and always the same. */
export const seedOf = (words: string): number => {
  let hash = 0x811c9dc5;
  for (let at = 0; at < words.length; at += 1)
    hash = Math.imul(hash ^ words.charCodeAt(at), 0x01000193);
  return hash;
};

/** Standard normal. */
export function drawNormal(next: Chance): number {
  for (;;) {
    const x = 2 * next() - 1;
    const y = 2 * next() - 1;
    const square = x * x + y * y;
    if (square > 0 && square < 1) return x * Math.sqrt((-2 * Math.log(square)) / square);
  }
}

/** Gamma with this shape, 1 or more, and scale 1. */
export function drawGamma(next: Chance, shape: number): number {
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = drawNormal(next);
    const v = (1 + c * x) ** 3;
    if (v <= 0) continue;
    if (Math.log(1 - next()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}

/** Student's t with 2 degrees of freedom or more; they need not be whole. */
export const drawStudent = (next: Chance, freedom: number): number =>
  drawNormal(next) / Math.sqrt((2 * drawGamma(next, freedom / 2)) / freedom);

/**
 * A time from its three points by the beta curve of PERT, whose mean is (o + 4m + p) / 6: shapes 1 + 4 (m - o)/(p - o)
 * and 1 + 4 (p - m)/(p - o). Source: Vose, Risk Analysis (from memory), after the estimate of PERT.
 */
export function drawThreePoint(next: Chance, { o, m, p }: ThreePoint): number {
  const width = p - o;
  if (!(width > 0)) return m;
  const up = drawGamma(next, 1 + (4 * (m - o)) / width);
  const down = drawGamma(next, 1 + (4 * (p - m)) / width);
  return o + (width * up) / (up + down);
}
