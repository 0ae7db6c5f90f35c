// The event log against a JSON schema of the shape that the OCEL 2.0 specification (2023), section 8.2, publishes: the
// properties, types and required names it lists, put together here from their table. Stricter than the published one in
// one way: names it does not list are refused.
import { readFileSync } from 'node:fs';
import { Ajv, type Schema } from 'ajv';
import { describe, expect, it } from 'vitest';
import { TranscriptLine } from '../../shared/replay.ts';
import { replay } from '../../src/desk/replay.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import { ocel } from '../../src/report/ocel.ts';
import { viewOf, WORK } from './story.ts';

const text = { type: 'string' };
const time = { type: 'string', format: 'date-time' };
const row = (properties: Readonly<Record<string, object>>, ...required: string[]) => ({
  type: 'object',
  properties,
  required,
  additionalProperties: false,
});
const rows = (...given: Parameters<typeof row>) => ({ type: 'array', items: row(...given) });
const relationships = rows({ objectId: text, qualifier: text }, 'objectId', 'qualifier');
const types = rows(
  { name: text, attributes: rows({ name: text, type: text }, 'name', 'type') },
  'name',
  'attributes',
);
const SCHEMA: Schema = {
  $schema: 'http://json-schema.org/draft-07/schema#',
  ...row(
    {
      eventTypes: types,
      objectTypes: types,
      events: rows(
        {
          id: text,
          type: text,
          time,
          attributes: rows({ name: text, value: text }, 'name', 'value'),
          relationships,
        },
        'id',
        'type',
        'time',
      ),
      objects: rows(
        {
          id: text,
          type: text,
          relationships,
          attributes: rows({ name: text, value: text, time }, 'name', 'value', 'time'),
        },
        'id',
        'type',
      ),
    },
    'eventTypes',
    'objectTypes',
    'events',
    'objects',
  ),
};
const ajv = new Ajv({ allErrors: true });
/** RFC 3339, as JSON Schema means it: the offset is obligatory. */
ajv.addFormat('date-time', /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?(?:Z|[+-]\d\d:\d\d)$/u);
const fits = ajv.compile(SCHEMA);

const data = new URL('../../data/', import.meta.url);
const demo = (job: string, plan: string, positions: readonly string[]) => {
  const read = loadPlan(readFileSync(new URL(`plans/${plan}.yaml`, data), 'utf8'), plan).plan;
  if (!read) throw new Error(`The plan ${plan} has errors.`);
  const lines = readFileSync(new URL(`demo/job-${job}.jsonl`, data), 'utf8')
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line) => TranscriptLine.parse(JSON.parse(line)));
  const { view, result } = replay(read, lines, { job, positions });
  return ocel(view, result.events);
};

const LOGS = [
  ['a job written out by hand', () => ocel(viewOf(WORK), WORK)],
  ['job 1042 of the demonstration', () => demo('1042', 'injectors-six-cylinder', [])],
  ['job 1043 of the demonstration', () => demo('1043', 'hub-bearing', ['front left'])],
] as const;

describe.each(LOGS)('the event log of %s', (_, make) => {
  const log = JSON.parse(JSON.stringify(make()));

  it('is valid against the published shape of OCEL 2.0', () => {
    expect(fits(log) ? [] : fits.errors).toEqual([]);
    expect(log.events.length).toBeGreaterThan(5);
  });

  it('declares every type and attribute, and every relationship resolves', () => {
    const declared = (kinds: { name: string; attributes: { name: string }[] }[]) =>
      new Map(kinds.map(({ name, attributes }) => [name, attributes.map((each) => each.name)]));
    const kinds = { objects: declared(log.objectTypes), events: declared(log.eventTypes) };
    const known = new Set(log.objects.map(({ id }: { id: string }) => id));
    const wrong = (['objects', 'events'] as const).flatMap((part) =>
      log[part].flatMap(
        (one: {
          id: string;
          type: string;
          attributes: { name: string }[];
          relationships: { objectId: string }[];
        }) => [
          ...(kinds[part].has(one.type) ? [] : [`${one.id}: ${one.type}`]),
          ...one.attributes
            .filter(({ name }) => !kinds[part].get(one.type)?.includes(name))
            .map(({ name }) => `${one.id}: ${name}`),
          ...one.relationships
            .filter(({ objectId }) => !known.has(objectId))
            .map(({ objectId }) => `${one.id} to ${objectId}`),
        ],
      ),
    );
    expect(wrong).toEqual([]);
  });
});

it.each([
  ['a value that is a number', { attributes: [{ name: 'value', value: 28 }] }],
  ['a time without an offset', { time: '2026-05-12T06:00:00' }],
  ['no type', { type: undefined }],
])('the schema refuses an event with %s', (_, change) => {
  const log = JSON.parse(JSON.stringify(ocel(viewOf(WORK), WORK)));
  const [first] = log.events;
  Object.assign(first, change);
  expect(fits(JSON.parse(JSON.stringify(log)))).toBe(false);
});
