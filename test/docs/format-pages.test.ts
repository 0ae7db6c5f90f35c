// shared/README.md: its examples have the form it describes, and its tables name every key of a plan.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { z } from 'zod';
import { JobEvent } from '../../shared/event.ts';
import { Flag } from '../../shared/flag.ts';
import { PLAN_UNITS, PlanCheckResult, PlanFile } from '../../shared/plan.ts';
import { ReadInput, Reading } from '../../shared/reading.ts';
import { ReplayResult, TranscriptLine } from '../../shared/replay.ts';
import { Settings } from '../../shared/settings.ts';
import { planCheck } from '../../src/job/plan-check.ts';
import { schemaFiles } from './json-schemas.ts';

const page = readFileSync(new URL('../../shared/README.md', import.meta.url), 'utf8');
const FORMATS: Readonly<Record<string, z.ZodType>> = {
  plan: PlanFile,
  'plan-check-result': PlanCheckResult,
  'read-input': ReadInput,
  reading: Reading,
  'transcript-line': TranscriptLine,
  replay: ReplayResult,
  flag: Flag,
  event: JobEvent,
  settings: Settings,
};

const examples = [...page.matchAll(/^```(?:yaml|json) (\S+)\n([\s\S]*?)^```$/gm)].map(
  ([, name = '', text = '']): [string, string] => [name, text],
);

describe('the page of formats', () => {
  it('has an example of each', () => {
    expect(examples.map(([name]) => name).sort()).toEqual(Object.keys(FORMATS).sort());
  });

  it.each(examples)('shows a %s as it is', (name, text) => {
    expect(FORMATS[name]?.safeParse(parse(text)).error?.issues ?? []).toEqual([]);
  });

  it('shows a plan without complaints, and a complaint that the check really makes', () => {
    const plan = examples.find(([name]) => name === 'plan')?.[1] ?? '';
    expect(planCheck(plan, 'my-plan.yaml').complaints).toEqual([]);
    const wrong = plan.replace('after: [fit-clamp]', 'after: [fit-clmap]');
    const shown: unknown = parse(
      examples.find(([name]) => name === 'plan-check-result')?.[1] ?? '',
    );
    const line = wrong.split('\n').findIndex((text) => text.includes('fit-clmap')) + 1;
    const made = planCheck(wrong, 'my-plan.yaml');
    expect(made.complaints[0]?.line).toBe(line);
    expect(made).toEqual(shown);
  });

  it.each([...schemaFiles().keys()])('names json/%s', (file) =>
    expect(page).toContain(`json/${file}`),
  );

  const keys = new Set<string>();
  const collect = (node: unknown): void => {
    if (typeof node !== 'object' || node === null) return;
    const { properties } = node as { properties?: Record<string, unknown> };
    for (const key of Object.keys(properties ?? {})) keys.add(key);
    for (const value of Object.values(node)) collect(value);
  };
  collect(JSON.parse(schemaFiles().get('plan.schema.json') ?? '{}'));
  const section = page.slice(page.indexOf('\n## Plan\n'), page.indexOf('\n## Plan check result'));

  it.each([...keys])('explains the key %s of a plan', (key) =>
    expect(section).toContain(`\`${key}\``),
  );

  it.each(PLAN_UNITS)('names the unit %s', (unit) => {
    const units = section.slice(section.indexOf('\nUnits:')).replace('Units:', '');
    expect(units.split(/[,·.]?\s+|\.$/).map((word) => word.replace(/[,.]$/, ''))).toContain(unit);
  });
});
