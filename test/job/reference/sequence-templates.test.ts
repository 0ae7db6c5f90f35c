// Truth tables of two templates of process rules, against what the plan language can say of them.
//
// Source of the templates: W. M. P. van der Aalst, Process Mining, Springer 2011 (the Declare templates). The truth
// values were computed beforehand by two programs of our own that agreed on 29,520 cases; no published table is known.
// Of the templates only these can be said in a plan: precedence (b needs a before it) by `after`, response (a must be
// followed by b) by a state of the vehicle that a opens and b closes, and succession, which is both.
import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../../shared/event.ts';
import { check } from '../../../src/job/check.ts';
import { loadPlan } from '../../../src/job/load-plan.ts';
import { referenceCheck } from './reference-check.ts';

const ROWS: readonly (readonly [trace: string, response: boolean, precedence: boolean])[] = [
  ['', true, true],
  ['a', false, true],
  ['b', true, false],
  ['ab', true, true],
  ['ba', false, false],
  ['aab', true, true],
  ['abb', true, true],
  ['aba', false, true],
  ['abab', true, true],
  ['acb', true, true],
  ['abcb', true, true],
  ['ccc', true, true],
  ['abaab', true, true],
];

const TEXT = `plan: templates
title: Templates
machine: none
notice: for these tests only
states:
  open: {title: open}
steps:
  - {id: a, title: Take off, phase: strip, opens: [open]}
  - {id: b, title: Put on, phase: refit, closes: [open], weight: damage-critical, why: It must., after: [a]}
  - {id: c, title: Sweep, phase: refit}
`;
const { plan } = loadPlan(TEXT, 'templates.yaml');
if (!plan) throw new Error('the plan of this test has complaints');

const at = (minute: number): string => new Date(Date.UTC(2026, 2, 2, 8, minute)).toISOString();

/** Each letter is one message that the step of that name is done, "again" from the second time on. */
function eventsOf(trace: string): readonly JobEvent[] {
  const opened: JobEvent = {
    id: 'open',
    kind: 'job-opened',
    at: at(0),
    by: 'Ines',
    job: '1001',
    vehicle: { name: 'bus 12' },
    plan: { id: 'templates', title: 'Templates', hash: 'h', text: TEXT },
    positions: [],
    options: [],
  };
  const messages = [...trace].flatMap((step, n): JobEvent[] => {
    const message = `m${n}`;
    const again = trace.slice(0, n).includes(step);
    const act = {
      kind: 'done' as const,
      step,
      positions: [],
      assumed: [],
      span: [0, 1] as [number, number],
    };
    return [
      {
        id: `p${n}`,
        kind: 'message-posted',
        at: at(n + 1),
        by: 'Ana',
        message,
        channel: 'bench',
        text: `${step} ${n}`,
      },
      {
        id: `r${n}`,
        kind: 'message-read',
        at: at(n + 1),
        by: 'chargehand',
        message,
        revision: 0,
        pass: 0,
        acts: [{ ...act, ...(again && { again }) }],
        relied: [],
      },
    ];
  });
  return [opened, ...messages];
}

describe.each(ROWS)('trace "%s"', (trace, response, precedence) => {
  const events = eventsOf(trace);
  const view = check(plan, events, at(60));
  const open = view.flags.filter((flag) => !flag.clearedBy);

  it(`has a skipped step: ${!precedence}`, () => {
    // b before the first a: the flag of a stands, whatever comes later.
    expect(open.some(({ rule, step }) => rule === 'skipped' && step === 'a')).toBe(!precedence);
  });

  it(`leaves the vehicle open: ${!response}`, () => {
    expect(view.vehicleState.map(({ state }) => state)).toEqual(response ? [] : ['open']);
  });

  it('is the same to the reference', () => {
    const paper = referenceCheck(plan, events);
    expect(paper.flags.some(({ rule }) => rule === 'skipped')).toBe(!precedence);
    expect(paper.vehicleState).toEqual(response ? [] : ['open']);
  });
});
