import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../shared/event.ts';
import { clockMinutes } from '../../src/report/claim/labour.ts';
import { claimDocument } from '../../src/report/claim-document.ts';
import { claimFolder } from '../../src/report/claim-folder.ts';
import { documentText } from '../../src/report/document-text.ts';
import { done, says } from '../job/story.ts';
import { OPENED, OPTIONS, viewOf, WORK } from './story.ts';

const claimOf = (events: readonly JobEvent[], hours = true) =>
  claimFolder(viewOf(events), events, { ...OPTIONS, hours, minutesBetween: clockMinutes });
const claim = claimOf(WORK);

describe('the claim folder', () => {
  it('composes the complaint', () => {
    // 07:00 two hours east of UTC is 07:00 in Berlin in May.
    expect(claim.complaint).toBe(
      'Bus 7 came in on 12 May 2026 07:00 at 412350 km. Complaint: Misfire on cylinder 3. Trouble codes before the work: SPN 653 FMI 5 (injector, cylinder 3: current low or open circuit).',
    );
  });

  it('composes the cause from the finding and the figures out of limits', () => {
    expect(claim.cause).toContain(
      'Found: "sleeve cracked at cylinder 3" (found by Sam, 12 May 08:30, work on it approved, with photo sleeve.jpg).',
    );
    expect(claim.cause).toContain(
      'Of the failed part it was posted: "old injector no. 77-4411, tagged, shelf 4" (Ade, 12 May 09:40).',
    );
    expect(claim.cause).toContain('Fit the clamp, cylinder 3: stage 2 110°, limit 85 to 95°');
    expect(claim.cause).toContain(
      'Set the valve clearance, cylinder 3: inlet clearance 0.37 mm, limit 0.25 to 0.35 mm',
    );
  });

  it('composes the correction', () => {
    // 13 steps at their positions; done: read-faults, drain, read-code x 2, fit x 2, enter-code x 2, set-valves x 2,
    // fill, look-over. Two washers at each of two cylinders. Figures with a limit that were said: drained, two of
    // stage 1, one of stage 2, two clearances, filled: 7, of which 110 degrees and 0.37 mm are out.
    expect(claim.correction).toBe(
      'Test plan: work goes on, 12 of 13 steps are on record as done by Sam and Ade. Renewed: 4 × sealing washer (cylinder 1 and 3). The trim code of the new part was read and entered the same: cylinder 1 4M2XPT. 5 of 7 figures reported against a limit are within it. The trouble codes have not been read after the work.',
    );
  });

  it('quotes what was posted of the old part', () => {
    expect(claim.oldPartNumbers.map(({ message }) => message)).toEqual(['m11']);
    expect(claim.oldPartsKept.map(({ says: words }) => words)).toEqual([
      'old injector no. 77-4411, tagged, shelf 4',
    ]);
  });

  it.each([
    ['new injector no. 77-4411 on the shelf', 0, 0],
    ['old injector is on shelf 4', 0, 1],
    ['failed part number: B8TW4N', 1, 0],
    ['the old one was no good', 0, 0],
  ])('takes "%s" for %d numbers and %d places of an old part', (text, numbers, places) => {
    const quoted = claimOf([OPENED, ...says('o', '08:00', 'Sam', [], { text })]);
    expect([quoted.oldPartNumbers.length, quoted.oldPartsKept.length]).toEqual([numbers, places]);
  });

  it('gives labour by operation against the plan', () => {
    const of = (step: string) => claim.labour.find((one) => one.step === step);
    // (10 + 4 x 20 + 60) / 6 = 25; reported at 08:50, twenty minutes after the finding, which is no operation, and
    // thirty after the report before it at 08:20.
    expect(of('drain')).toEqual({
      step: 'drain',
      title: 'Drain the coolant',
      done: 1,
      of: 1,
      planned: 25,
      between: 30,
    });
    // Two clamps of (4 + 24 + 8) / 6 = 6; 07:40 to 08:00 and 08:00 to 08:20.
    expect(of('fit')).toMatchObject({ done: 2, of: 2, planned: 12, between: 40 });
    // Nothing of Sam came before it.
    expect(of('read-faults')).toMatchObject({ planned: 5, between: null });
    expect(of('read-code')).toMatchObject({ planned: null, between: 30 });
  });

  it('shares the time before a message equally among the operations it reports', () => {
    const { labour } = claimOf([
      OPENED,
      ...says('a', '07:00', 'Sam', [done('read-faults', { count: { done: 0 } })]),
      ...says('b', '07:40', 'Sam', [
        done('drain', { quantity: { value: 28, unit: 'L' } }),
        done('fill', { quantity: { value: 28, unit: 'L' } }),
      ]),
      // Somebody else's report takes nothing from Sam's time.
      ...says('c', '07:50', 'Ade', [done('look-over')]),
      ...says('d', '08:00', 'Sam', [
        done('set-valves', { valve: 'inlet', quantity: { value: 0.3, unit: 'mm' } }, [
          'cylinder 1',
        ]),
      ]),
    ]);
    expect(labour.map(({ step, between }) => [step, between])).toEqual([
      ['read-faults', null],
      ['drain', 20],
      ['set-valves', 20],
      ['fill', 20],
      ['look-over', null],
    ]);
  });

  it('leaves the time between reports out where hours may not be shown', () => {
    expect(
      claimOf(WORK, false)
        .labour.map(({ between }) => between)
        .filter((one) => one !== null),
    ).toEqual([]);
  });

  it('lists what is lacking while the job is open', () => {
    expect(claim.lacks).toEqual([
      'The trouble codes after the work: read them after the last run and post them.',
      'The VIN: read it from the plate.',
      'Booked hours: no one has clocked on to this job.',
      'Codes that differ between label and control unit: trim code of cylinder 3.',
      'Tests after repair: "Read the fault codes after the run".',
      'Figures within limits at "Fit the clamp" and "Set the valve clearance".',
      expect.stringMatching(/^A settlement of the open stop flags: \d+\.$/u),
      'The job is not closed.',
    ]);
  });

  it('lists nearly everything of a job just opened', () => {
    const {
      complaint: _c,
      reading: _r,
      ...bare
    } = OPENED as Extract<JobEvent, { kind: 'job-opened' }>;
    expect(claimOf([bare]).lacks).toEqual(
      expect.arrayContaining([
        'The complaint: ask whoever brought the vehicle in.',
        'Odometer or engine hours: read them and post them.',
        'What proved the cause: ask the technician what was found on the failed part, with a photo.',
        'The trouble codes before the work: post them, or say that they were not read.',
        'Number or code of the failed part: read it from the old part and post it.',
        "The old part's tag and where it is kept: tag it and post the place.",
        'Codes read on the new parts: trim code of cylinder 1 and trim code of cylinder 3.',
      ]),
    );
  });

  it('asks for a clean reading where a code is still there', () => {
    const still = claimOf([
      ...WORK,
      ...says('m30', '10:30', 'Sam', [done('recheck-faults', { code: 'spn 653 fmi 5' })]),
    ]);
    expect(still.lacks).toContain(
      'A reading without SPN 653 FMI 5, which is still there after the work.',
    );
    expect(still.correction).toContain('still there: SPN 653 FMI 5');
  });

  it('reads as plain text, what is lacking first', () => {
    const text = documentText(claimDocument(claim));
    expect(text.indexOf('Still lacking')).toBeLessThan(text.indexOf('Complaint\n'));
    for (const part of [claim.complaint, claim.cause, claim.correction, ...claim.lacks])
      expect(text).toContain(part);
    expect(text).toContain(
      'Drain the coolant | Done: 1 of 1 | Planned for it: 25 min | Between reports: 30 min',
    );
  });
});
