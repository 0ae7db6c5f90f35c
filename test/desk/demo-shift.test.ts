// The demonstration shift is quiet but for its one intended skip, its hold points and one question about a place.
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { TranscriptLine } from '../../shared/replay.ts';
import { replay } from '../../src/desk/replay.ts';
import { loadPlan } from '../../src/job/load-plan.ts';

const data = new URL('../../data/', import.meta.url);

function shift(job: string, plan: string, positions: readonly string[]) {
  const read = loadPlan(readFileSync(new URL(`plans/${plan}.yaml`, data), 'utf8'), plan).plan;
  if (!read) throw new Error(`The plan ${plan} has errors. Run chargehand plan check on it.`);
  const lines = readFileSync(new URL(`demo/job-${job}.jsonl`, data), 'utf8')
    .split('\n')
    .filter((row) => row.trim() !== '')
    .map((row) => TranscriptLine.parse(JSON.parse(row)));
  return replay(read, lines, { job, positions }).result;
}

it('1042: the rail pressure is the one thing skipped, and it was done before', () => {
  const { flags, questions, steps } = shift('1042', 'injectors-six-cylinder', []);
  expect(flags.map(({ rule, step, how }) => ({ rule, step, how }))).toEqual([
    { rule: 'skipped', step: 'relieve-rail', how: 'withdrawn' },
  ]);
  expect(questions.map((question) => [question.at, question.settledBy])).toEqual([
    ['1042-24', '1042-25'],
  ]);
  const rail = steps.find((step) => step.id === 'relieve-rail');
  expect(rail?.state).toBe('done');
  expect(Date.parse(rail?.at ?? '')).toBe(Date.parse('2026-03-10T06:40:00Z'));
  // Six injectors out, washers, pipes, nuts and clamps: everything up to the leak check is done at all six.
  const open = steps.filter((step) => step.state !== 'done' && step.state !== 'not-on-job');
  expect(open.map((step) => step.id)).toEqual([
    'check-coolant-level',
    'clear-fault-codes',
    'refit-noise-cover',
    'road-test',
    'recheck-fault-codes',
    'return-old-parts',
  ]);
});

it('1043: no flag stands, nothing is asked, and only the re-torque on the road is left', () => {
  const { flags, questions, steps } = shift('1043', 'hub-bearing', ['front left']);
  expect(flags).toEqual([]);
  expect(questions).toEqual([]);
  const open = steps.filter((step) => step.state !== 'done' && step.state !== 'not-on-job');
  expect(open.map((step) => step.id)).toEqual(['retorque-after-run']);
});
