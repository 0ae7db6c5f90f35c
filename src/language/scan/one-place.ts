// What numbered places and places by their side have in common.
import type { Token } from '../tidy/token.ts';
import type { PositionQuery } from './figure.ts';

/** Words and marks that join places to a list. */
export const JOIN = new Set(['and', 'an', '&', '+', ',', '/', 'und']);

/** No place has a higher number. */
export const HIGHEST = 60;

/** A whole number that a place may have. */
export const whole = (token: Token | undefined): number | undefined =>
  token?.kind === 'number' &&
  Number.isInteger(token.value) &&
  (token.value ?? 0) >= 1 &&
  (token.value ?? 99) <= HIGHEST
    ? token.value
    : undefined;

/** Places read from one spot on. */
export type One = { queries: PositionQuery[]; next: number; named: boolean; noun?: string };
