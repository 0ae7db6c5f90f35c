// Jobs on which the checker and the reference once differed, with what the design says of them.
import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import { check } from '../../../src/job/check.ts';
import { loadPlan } from '../../../src/job/load-plan.ts';

const at = (clock: string): string => `2026-03-02T${clock}:00.000Z`;

function viewOf(steps: string, events: readonly JobEvent[]) {
  const text = `plan: found
title: Found
machine: none
notice: for these tests only
states:
  open: {title: open}
steps:
${steps}`;
  const { plan, complaints } = loadPlan(text, 'found.yaml');
  if (!plan) throw new Error(complaints.map(({ what }) => what).join('\n'));
  const opened: JobEvent = {
    id: 'open',
    kind: 'job-opened',
    at: at('08:00'),
    by: 'Ines',
    job: '1001',
    vehicle: { name: 'bus 12' },
    plan: { id: 'found', title: 'Found', hash: plan.hash, text },
    positions: [],
    options: [],
  };
  return check(plan, [opened, ...events], at('18:00'));
}

/** One message of Ana with these acts. */
function said(
  clock: string,
  ...acts: readonly (Partial<Act> & { step: string })[]
): readonly JobEvent[] {
  const message = `m${clock}`;
  const whole = acts.map(
    (act): Act => ({ kind: 'done', positions: [], assumed: [], span: [0, 1], ...act }),
  );
  return [
    {
      id: `p${clock}`,
      kind: 'message-posted',
      at: at(clock),
      by: 'Ana',
      message,
      channel: 'bench',
      text: clock,
    },
    {
      id: `r${clock}`,
      kind: 'message-read',
      at: at(clock),
      by: 'chargehand',
      message,
      revision: 0,
      pass: 0,
      acts: whole,
      relied: [],
    },
  ];
}

const ruled = (clock: string, kind: 'hold-released' | 'hold-refused'): JobEvent => ({
  id: `h${clock}`,
  kind,
  at: at(clock),
  by: 'Ines',
  role: 'controller',
  step: 'look',
  position: null,
});

const HELD = `  - {id: look, title: Look over, phase: prove, hold: {release: [controller]}}
  - {id: start, title: Start it, phase: prove, after: [look]}
`;

describe('a hold point', () => {
  it('keeps the job open when rework withdrew its release, whatever was settled before', () => {
    const view = viewOf(HELD, [
      ...said('08:40', { step: 'look' }),
      ruled('09:00', 'hold-released'),
      ...said('09:20', { step: 'start' }),
      // A second report with a time before the release: flagged, and settled by the release.
      ...said('09:21', { step: 'start', time: at('08:59') }),
      ...said('09:22', { step: 'look', again: true }),
    ]);
    expect(view.holds[0]?.state).toBe('waits');
    expect(view.closeNeeds).toEqual([expect.stringContaining('not released')]);
  });

  it('that was refused after work behind it had started flags what goes on', () => {
    const view = viewOf(HELD, [
      ...said('08:40', { step: 'look' }),
      ruled('09:00', 'hold-released'),
      ...said('09:10', { step: 'start', kind: 'started' }),
      ruled('09:20', 'hold-refused'),
      ...said('09:30', { step: 'start' }),
    ]);
    const open = view.flags.filter((flag) => !flag.clearedBy);
    expect(open.map(({ rule, step, level }) => [rule, step, level])).toEqual([
      ['not-released', 'look', 'stop'],
    ]);
  });
});

describe('a state of the vehicle', () => {
  it('that opens and closes within one message is closed when its last stage was said last', () => {
    const steps = `  - {id: take-off, title: Take off, phase: strip, opens: [open]}
  - id: tighten
    title: Tighten
    phase: refit
    closes: [open]
    report: [{kind: tightening, of: bolts, stages: [{torque: 40}, {torque: 80}], source: made up}]
`;
    const view = viewOf(steps, [
      ...said('10:00', { step: 'tighten', stage: 2 }),
      ...said('10:20', { step: 'take-off' }, { step: 'tighten', stage: 1 }),
    ]);
    expect(view.vehicleState).toEqual([]);
  });
});
