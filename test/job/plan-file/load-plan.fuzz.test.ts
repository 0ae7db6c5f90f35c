// Plan files mutated byte by byte: whatever the text, loadPlan answers with complaints and never throws.
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Complaint } from '../../../shared/plan.ts';
import { loadPlan } from '../../../src/job/load-plan.ts';
import { SAMPLE } from './sample-plan.ts';

/** The whole run sets the number of messages to try; a plan is a hundred times as long, so a hundredth of that. */
const given = Number(process.env.CHARGEHAND_FUZZ ?? 15_000);
const RUNS = Math.max(1, Math.round(given / 100));

const folder = new URL('../../../data/plans/', import.meta.url);
const shipped = readdirSync(folder)
  .filter((name) => name.endsWith('.yaml'))
  .map((name) => readFileSync(new URL(name, folder), 'utf8'));

const bytes = fc.constantFrom(
  ...[
    ...'\n\t :-[]{}#&*!|>"\'%@`,?0aZ~.\\',
    '\u0000',
    '\u0085',
    '\u2028',
    '\uFEFF',
    '\uD800',
    '\u{1F527}',
    '<<: ',
    '__proto__',
    '\n---\n',
    '\n  - ',
  ],
);
const change = fc.record({
  at: fc.nat(),
  take: fc.integer({ min: 0, max: 3 }),
  put: fc.oneof(fc.constant(''), bytes),
});

function mutated(
  text: string,
  changes: readonly { at: number; take: number; put: string }[],
): string {
  let out = text;
  for (const { at, take, put } of changes) {
    const place = at % (out.length + 1);
    out = out.slice(0, place) + put + out.slice(place + take);
  }
  return out;
}

function answers(text: string): void {
  const { plan, complaints } = loadPlan(text, 'mutated.yaml');
  const lines = text.split(/\r\n|\n|\r/).length;
  for (const complaint of complaints) {
    Complaint.parse(complaint);
    expect(complaint.line).toBeLessThanOrEqual(lines);
    expect(complaint.what).not.toMatch(/undefined|\[object/);
  }
  expect(plan === undefined).toBe(complaints.some((complaint) => complaint.level === 'error'));
}

describe(`loadPlan on ${RUNS} mutated plans`, { timeout: 60_000 + 200 * RUNS }, () => {
  it.each([
    ['the sample', [SAMPLE]],
    ['the shipped plans', shipped],
  ])('never throws for %s', (_, texts) => {
    const mutants = fc
      .tuple(fc.constantFrom(...texts), fc.array(change, { minLength: 1, maxLength: 4 }))
      .map(([text, changes]) => mutated(text, changes));
    fc.assert(fc.property(mutants, answers), { numRuns: RUNS, seed: 20_31 });
  });

  it('never throws for lines exchanged, doubled or moved in', () => {
    const lines = SAMPLE.split('\n');
    const moved = fc
      .tuple(fc.nat(lines.length - 1), fc.nat(lines.length - 1), fc.integer({ min: 0, max: 6 }))
      .map(([from, to, indent]) => {
        const all = [...lines];
        all.splice(to, 1, `${' '.repeat(indent)}${(lines[from] ?? '').trim()}`);
        return all.join('\n');
      });
    fc.assert(fc.property(moved, answers), { numRuns: RUNS, seed: 20_32 });
  });

  it('never throws for any JSON value, which is YAML too', () => {
    const key = fc.constantFrom(
      'plan',
      'steps',
      'positions',
      'id',
      'after',
      'report',
      'kind',
      'constructor',
      '__proto__',
      'toString',
      'x',
    );
    const { value } = fc.letrec((tie) => ({
      value: fc.oneof(
        { depthSize: 'small' },
        fc.string(),
        fc.integer(),
        fc.constant(null),
        tie('list'),
        tie('group'),
      ),
      list: fc.array(tie('value'), { maxLength: 4 }),
      group: fc.dictionary(key, tie('value'), { maxKeys: 6 }),
    }));
    fc.assert(
      fc.property(value, (it) => answers(JSON.stringify(it) ?? '')),
      { numRuns: RUNS, seed: 20_33 },
    );
  });
});
