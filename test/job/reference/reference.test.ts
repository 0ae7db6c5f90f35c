// The checker against the slow, obvious reference, on random plans and jobs.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { real, reference } from './compare.ts';
import { jobInWords } from './in-words.ts';
import { randomJob } from './random-jobs.ts';

/** The whole run sets this to 20000. */
const RUNS = Number(process.env.CHARGEHAND_REFERENCE ?? 300);

describe(`the checker and the reference on ${RUNS} random jobs`, {
  timeout: 60_000 + 50 * RUNS,
}, () => {
  it('agree on steps, flags, vehicle state and closing', () => {
    fc.assert(
      fc.property(randomJob, ({ plan, events }) => {
        expect(real(plan, events), `\n${jobInWords(plan, events)}\n`).toEqual(
          reference(plan, events),
        );
      }),
      {
        numRuns: RUNS,
        seed: 412,
        ...(process.env.CHARGEHAND_SEED ? { seed: Number(process.env.CHARGEHAND_SEED) } : {}),
      },
    );
  });
});
