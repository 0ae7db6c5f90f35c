import type { Check } from './check.ts';
import { skipped } from './skipped.ts';

/** Every check, in the order of the list of rules; a later one may look at the flags of those before it. */
export const CHECKS: readonly Check[] = [skipped];
