// The demonstration shift and small transcripts, said again.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ReplayResult, type TranscriptLine } from '../../shared/replay.ts';
import { replay } from '../../src/desk/replay.ts';
import { check } from '../../src/job/check.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import { runCommand } from '../cli/run-command.ts';
import { ROOT } from '../layout/sources.ts';

const planNamed = (name: string) => {
  const { plan } = loadPlan(readFileSync(join(ROOT, `data/plans/${name}.yaml`), 'utf8'), name);
  if (!plan) throw new Error(`The plan ${name} has errors.`);
  return plan;
};
const pump = planNamed('coolant-pump');
const at = (time: string): string => `2026-03-10T${time}:00+00:00`;
const said = (
  id: string,
  time: string,
  text: string,
  more: Partial<TranscriptLine> = {},
): TranscriptLine => ({ id, at: at(time), by: 'Ada', text, ...more });

describe('a stored job gives the same flags in any time zone', () => {
  const args = [
    'replay',
    '--plan',
    'data/plans/injectors-six-cylinder.yaml',
    'data/demo/job-1042.jsonl',
    '--json',
  ];
  it.each(['America/St_Johns', 'Asia/Kolkata', 'Pacific/Auckland'])('%s', (zone) => {
    const there = JSON.parse(runCommand(args, { env: { TZ: zone } }).out);
    const here = JSON.parse(runCommand(args, { env: { TZ: 'UTC' } }).out);
    expect(there).toEqual(here);
  });
});

describe('replay', () => {
  it('gives the fixed form', () => {
    const { result } = replay(pump, [said('a', '07:00', 'drained 26 L of coolant')]);
    expect(() => ReplayResult.parse(result)).not.toThrow();
  });

  it('its events alone give its flags again', () => {
    const { result, view } = replay(pump, [
      said('a', '07:00', 'drained 26 L of coolant'),
      said('b', '07:05', 'pump off, 8 bolts'),
    ]);
    const again = check(pump, result.events, view.lastEventAt);
    expect(again.flags.map(({ rule, step }) => [rule, step])).toEqual(
      result.flags.map(({ rule, step }) => [rule, step]),
    );
  });

  it('a message is read in posting order, whenever it arrives', () => {
    const lines = [said('a', '07:00', 'drained 26 L of coolant'), said('b', '07:02', '27 not 26')];
    const calm = replay(pump, lines).result;
    const late = replay(pump, [lines[1], lines[0]] as TranscriptLine[], { live: true }).result;
    expect(calm.totals.fluids[0]?.drained).toBe(27);
    expect(late.totals.fluids[0]?.drained).toBe(27);
    expect(late.steps).toEqual(calm.steps);
  });

  it('a deleted message leaves what a message never sent leaves', () => {
    const kept = [said('a', '07:00', 'wheels chocked')];
    const gone = [
      ...kept,
      said('b', '07:05', 'drained 26 L of coolant'),
      { id: 'c', at: at('07:06'), by: 'Ada', deletes: 'b' },
    ];
    const without = replay(pump, kept, { now: at('07:06') }).result;
    const deleted = replay(pump, gone).result;
    expect(deleted.steps).toEqual(without.steps);
    expect(deleted.vehicleState).toEqual(without.vehicleState);
    expect(deleted.flags.filter((flag) => !flag.clearedBy)).toEqual([]);
  });

  it('an edit of the figure changes the figure and not the time', () => {
    const { result } = replay(pump, [
      said('a', '07:00', 'drained 62 L of coolant'),
      said('b', '08:00', 'drained 26 L of coolant', { edits: 'a' }),
    ]);
    expect(result.totals.fluids[0]?.drained).toBe(26);
    expect(result.steps.find(({ id }) => id === 'drain-coolant')?.at).toBe(at('07:00'));
  });

  it('two messages sent together raise nothing, whichever comes first', () => {
    const before = [said('0', '06:50', 'chocked'), said('1', '06:51', 'engine cold, 20 deg')];
    const together = [
      ...before,
      { id: 'a', at: '2026-03-10T07:00:00+00:00', by: 'Ada', text: 'drained 26 L of coolant' },
      { id: 'b', at: '2026-03-10T07:00:10+00:00', by: 'Ada', text: 'header tank cap off at 06:58' },
    ];
    const { result } = replay(pump, together, { live: true });
    expect(result.flags).toEqual([]);
  });
});
