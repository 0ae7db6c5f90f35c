// Every spoiling. A module adds its own list here.
import { PLAN_FILE } from './lists/plan-file.ts';
import type { Spoiling } from './spoiling.ts';

export const SPOILINGS: readonly Spoiling[] = [...PLAN_FILE];
