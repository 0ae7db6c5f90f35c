// Every spoiling. A module adds its own list here.
import { STORE } from '../store/spoilings.ts';
import { CHECKS } from './lists/checks.ts';
import { JOB_STATE } from './lists/job-state.ts';
import { PLAN_FILE } from './lists/plan-file.ts';
import type { Spoiling } from './spoiling.ts';

export const SPOILINGS: readonly Spoiling[] = [...CHECKS, ...JOB_STATE, ...PLAN_FILE, ...STORE];
