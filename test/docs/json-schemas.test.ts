import { readdirSync, readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { PlanFile } from '../../shared/plan.ts';
import { SAMPLE } from '../job/plan-file/sample-plan.ts';
import { schemaFiles, schemaFolder } from './json-schemas.ts';

const made = schemaFiles();
const ajv = new Ajv({ strict: false, allErrors: true, formats: { 'date-time': true, date: true } });
const validator = (name: string) =>
  ajv.compile(JSON.parse(readFileSync(new URL(name, schemaFolder), 'utf8')));

describe('shared/json', () => {
  it.each([...made])(
    '%s is as the zod schemas make it; if not, run: npm run docs',
    (name, text) => {
      expect(readFileSync(new URL(name, schemaFolder), 'utf8')).toBe(text);
    },
  );

  it('has no other file', () => {
    expect(readdirSync(schemaFolder).sort()).toEqual([...made.keys()].sort());
  });
});

describe('the plan schema, by a validator that knows nothing of zod', () => {
  const valid = validator('plan.schema.json');
  const plans = new URL('../../data/plans/', import.meta.url);
  const texts = readdirSync(plans)
    .filter((name) => name.endsWith('.yaml'))
    .map((name): [string, string] => [name, readFileSync(new URL(name, plans), 'utf8')]);

  it.each([['the sample', SAMPLE], ...texts])('takes %s', (_, text) => {
    const data: unknown = parse(text);
    expect(valid(data), JSON.stringify(valid.errors)).toBe(true);
  });

  it.each([
    ['an unknown key', /machine:/, 'mashine:'],
    ['a key too many in a step', /phase: hand back/, 'phase: hand back\n    colour: red'],
    ['an unknown phase', /phase: hand back/, 'phase: later'],
    ['a name with a capital', /id: fill\n/, 'id: Fill\n'],
    ['a missing fluid', /fluid: coolant, unit/, 'unit'],
    ['a text for a figure', /min: 25, max: 30\}\n {2}- id: remove/, 'min: "25"}\n  - id: remove'],
  ])('refuses %s, as zod does', (_, find, put) => {
    const data: unknown = parse(SAMPLE.replace(find, put));
    expect(valid(data)).toBe(false);
    expect(PlanFile.safeParse(data).success).toBe(false);
  });
});
