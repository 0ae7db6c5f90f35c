// What the checker has to say about a job.
import { z } from 'zod';
import { LEVELS } from './plan.ts';

export const RULES = [
  'skipped',
  'not-released',
  'same-hands',
  'unsafe-state',
  'out-of-limits',
  'stage-order',
  'too-soon',
  'wrong-position',
  'count-short',
  'volume-short',
  'code-form',
  'code-mismatch',
  'code-repeat',
  'tool-out-of-date',
  'redo',
  'trouble-code-back',
  'stage-repeat',
  'not-renewed',
  'overdue',
  'back-again',
  'unanswered',
  'over-time',
  'early-close',
] as const;

/** A flag's identity is rule, step, position and part; the rest may change while it stands. */
export const Flag = z.strictObject({
  rule: z.enum(RULES),
  level: z.enum(LEVELS),
  step: z.string().nullable(),
  position: z.string().nullable(),
  part: z.string().nullable().describe('the stage, valve, code or counted part'),
  says: z.string().describe('what, where and what to do, as posted'),
  raisedBy: z.array(z.string()).describe('ids of messages, or of events that are no message'),
  clearedBy: z
    .array(z.string())
    .optional()
    .describe('present once it is withdrawn, overridden or settled'),
  how: z.enum(['withdrawn', 'overridden', 'settled']).optional().describe('present with clearedBy'),
});

export type Rule = (typeof RULES)[number];
export type Flag = z.infer<typeof Flag>;

/** The identity of a flag as one string, used in taps and in events. */
export const flagKey = (flag: Pick<Flag, 'rule' | 'step' | 'position' | 'part'>): string =>
  [flag.rule, flag.step ?? '', flag.position ?? '', flag.part ?? ''].join('|');
