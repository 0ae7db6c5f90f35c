// `replay` as another program uses it.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { ReplayResult } from '../../shared/replay.ts';
import { runCommand } from './run-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'chargehand-replay-'));
afterAll(() => rmSync(folder, { recursive: true }));

const transcript = (name: string, lines: readonly object[] | string): string => {
  const file = join(folder, name);
  writeFileSync(
    file,
    typeof lines === 'string' ? lines : lines.map((line) => JSON.stringify(line)).join('\n'),
  );
  return file;
};
const PUMP = ['--plan', 'data/plans/coolant-pump.yaml'];
const at = (time: string): string => `2026-03-10T${time}:00+00:00`;

const SKIPS = [
  { id: 'a', at: at('07:00'), by: 'Ada', text: 'wheels chocked' },
  { id: 'b', at: at('07:10'), by: 'Ada', text: 'drained 26 litres of coolant' },
];

describe('replay --json', () => {
  it('gives one object in the fixed form, exit 1 while a flag stands', () => {
    const { code, out, err } = runCommand([
      'replay',
      ...PUMP,
      transcript('skips.jsonl', SKIPS),
      '--json',
    ]);
    expect(err).toBe('');
    const result = ReplayResult.parse(JSON.parse(out));
    expect(code).toBe(1);
    expect(result.steps.find((step) => step.id === 'drain-coolant')).toEqual({
      id: 'drain-coolant',
      position: null,
      state: 'done',
      at: at('07:10'),
      by: 'Ada',
    });
    expect(result.vehicleState).toEqual(['coolant-out']);
    const skipped = result.flags.filter((flag) => flag.rule === 'skipped');
    // The coolant is drained with neither the engine cooled nor the cap eased: one flag for each, raised by b.
    expect(skipped.map((flag) => [flag.step, flag.level, flag.raisedBy])).toEqual([
      ['let-cool', 'stop', ['b']],
      ['open-cap', 'stop', ['b']],
    ]);
    expect(result.totals.fluids).toEqual([
      { fluid: 'coolant', drained: 26, filled: 0, unaccounted: 26, unit: 'L' },
    ]);
  });

  it('is the same in any order of lines', () => {
    const forth = runCommand(['replay', ...PUMP, transcript('forth.jsonl', SKIPS), '--json']).out;
    const back = runCommand([
      'replay',
      ...PUMP,
      transcript('back.jsonl', [...SKIPS].reverse()),
      '--json',
    ]).out;
    expect(JSON.parse(back).flags).toEqual(JSON.parse(forth).flags);
    expect(JSON.parse(back).steps).toEqual(JSON.parse(forth).steps);
  });

  it('exit 0 when nothing stands, and an empty transcript is a job just opened', () => {
    const { code, out } = runCommand(['replay', ...PUMP, transcript('empty.jsonl', []), '--json']);
    expect(code).toBe(0);
    expect(
      ReplayResult.parse(JSON.parse(out)).steps.every((step) =>
        ['open', 'not-on-job'].includes(step.state),
      ),
    ).toBe(true);
  });

  it('without --json it prints the conversation', () => {
    const { out } = runCommand(['replay', ...PUMP, transcript('talk.jsonl', SKIPS)]);
    expect(out).toContain('07:10 Ada: drained 26 litres of coolant   (noted)');
    expect(out).toContain('To the channel: STOP');
  });
});

describe('wrong use is one line what and one line what to do, exit 2', () => {
  it.each([
    ['no plan', ['replay', transcript('x.jsonl', SKIPS)], 'No plan was given.'],
    [
      'a plan that is not there',
      ['replay', '--plan', 'nowhere.yaml', transcript('x.jsonl', SKIPS)],
      'The plan nowhere.yaml cannot be read',
    ],
    ['no transcript', ['replay', ...PUMP], 'Give one transcript.'],
    [
      'a line that is no JSON',
      ['replay', ...PUMP, transcript('bad.jsonl', 'drained 28 L')],
      'bad.jsonl:1: the line is no JSON.',
    ],
    [
      'a time without offset',
      [
        'replay',
        ...PUMP,
        transcript('time.jsonl', [{ id: 'a', at: '2026-03-10T07:00:00', by: 'A', text: 'x' }]),
      ],
      'time.jsonl:1: "at" is "2026-03-10T07:00:00", written in another way than expected. Write it as "at": "2026-11-25T14:10:00+00:00".',
    ],
    [
      'a key that is not known',
      [
        'replay',
        ...PUMP,
        transcript('key.jsonl', [{ id: 'a', at: at('07:00'), by: 'A', text: 'x', txt: 'y' }]),
      ],
      'key.jsonl:1: "txt" is not known here. Take it out: "text" is there already.',
    ],
    [
      'a position that is not on the plan',
      ['replay', ...PUMP, '--positions', 'cylinder 9', transcript('x.jsonl', SKIPS)],
      '"cylinder 9" is no position',
    ],
    [
      'an unknown option',
      ['replay', ...PUMP, '--jsn', transcript('x.jsonl', SKIPS)],
      "Unknown option '--jsn'",
    ],
    ['an unknown command', ['repaly'], '"repaly" is no command of chargehand.'],
  ])('%s', (_what, args, first) => {
    const { code, out, err } = runCommand(args);
    expect(out).toBe('');
    expect(err).toContain(first);
    expect(err.trim().split('\n').length).toBe(2);
    expect(code).toBe(2);
  });
});

describe('a transcript with several broken lines', () => {
  it('names each, up to ten, and counts the rest', () => {
    const good = JSON.stringify(SKIPS[0]);
    const twice = JSON.stringify({ ...SKIPS[0], text: 'something else' });
    const rows = [good, 'no JSON', twice, ...Array.from({ length: 10 }, () => '{}')];
    const { code, err } = runCommand([
      'replay',
      ...PUMP,
      transcript('many.jsonl', rows.join('\n')),
    ]);
    const lines = err.trim().split('\n');
    expect(code).toBe(2);
    // 12 of the 13 lines are broken: ten are named, two counted, and one line says what to do.
    expect(lines).toHaveLength(12);
    expect(lines[0]).toContain('many.jsonl:2: the line is no JSON.');
    expect(lines[1]).toContain('many.jsonl:3: the id a is used for two different lines.');
    expect(lines[2]).toContain('many.jsonl:4: "id" is missing.');
    expect(lines[10]).toBe('and 2 more.');
    expect(lines[11]).toContain('Mend each line');
  });

  it('takes the very same line twice as one', () => {
    const same = [SKIPS[0], SKIPS[0], SKIPS[1]].map((line) => JSON.stringify(line)).join('\n');
    const { out } = runCommand(['replay', ...PUMP, transcript('same.jsonl', same), '--json']);
    expect(ReplayResult.parse(JSON.parse(out)).totals.messages).toBe(2);
  });
});
