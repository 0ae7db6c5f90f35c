// The structure is held against rules written from the form OCEL 2.0 gives its JSON, not against our own types.
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { ocel } from '../../src/report/ocel.ts';
import { at } from '../job/story.ts';
import { PHOTO, viewOf, WORK } from './story.ts';

const VALUE_TYPES = ['string', 'time', 'integer', 'float', 'boolean'] as const;
const Types = z.array(
  z.strictObject({
    name: z.string().min(1),
    attributes: z.array(z.strictObject({ name: z.string().min(1), type: z.enum(VALUE_TYPES) })),
  }),
);
const Relationships = z.array(
  z.strictObject({ objectId: z.string().min(1), qualifier: z.string() }),
);
const Time = z.iso.datetime({ offset: true });
const Log = z.strictObject({
  objectTypes: Types,
  eventTypes: Types,
  objects: z.array(
    z.strictObject({
      id: z.string().min(1),
      type: z.string(),
      attributes: z.array(z.strictObject({ name: z.string(), time: Time, value: z.string() })),
      relationships: Relationships,
    }),
  ),
  events: z.array(
    z.strictObject({
      id: z.string().min(1),
      type: z.string(),
      time: Time,
      attributes: z.array(z.strictObject({ name: z.string(), value: z.string() })),
      relationships: Relationships,
    }),
  ),
});

const fits = (type: string | undefined, value: string): boolean =>
  type === 'integer'
    ? /^-?\d+$/u.test(value)
    : type === 'float'
      ? Number.isFinite(Number(value))
      : type === 'time'
        ? Time.safeParse(value).success
        : type !== undefined;

const log = Log.parse(JSON.parse(JSON.stringify(ocel(viewOf(WORK), WORK))));

describe('the event log in OCEL 2.0 JSON', () => {
  it.each(['objectTypes', 'eventTypes'] as const)('names each of its %s once', (key) => {
    const names = log[key].map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
  });

  it('gives every object and event an id of its own', () => {
    const ids = [...log.objects, ...log.events].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it.each([
    ['object', log.objects, log.objectTypes],
    ['event', log.events, log.eventTypes],
  ] as const)('declares the type of every %s and each of its attributes', (_, rows, types) => {
    const declared = new Map(
      types.map(({ name, attributes }) => [
        name,
        new Map(attributes.map((one) => [one.name, one.type])),
      ]),
    );
    const wrong = rows.flatMap(({ id, type, attributes }) =>
      attributes.length === 0 && declared.has(type)
        ? []
        : attributes
            .filter(({ name, value }) => !fits(declared.get(type)?.get(name), value))
            .map(({ name }) => `${id}: ${name}`),
    );
    expect(wrong).toEqual([]);
    expect(rows.filter(({ type }) => !declared.has(type))).toEqual([]);
  });

  it('relates only to objects that are there', () => {
    const known = new Set(log.objects.map(({ id }) => id));
    const loose = [...log.objects, ...log.events].flatMap(({ relationships }) =>
      relationships.map(({ objectId }) => objectId).filter((id) => !known.has(id)),
    );
    expect(loose).toEqual([]);
  });

  it('has its events in order of time', () => {
    const times = log.events.map(({ time }) => Date.parse(time));
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });

  it('makes an activity of each report: the title of the step, at the time of the work', () => {
    expect(log.events.find(({ type }) => type === 'Drain the coolant')).toMatchObject({
      time: at('06:50'),
      attributes: expect.arrayContaining([
        { name: 'value', value: '28' },
        { name: 'unit', value: 'L' },
        { name: 'message', value: 'm6' },
      ]),
      relationships: expect.arrayContaining([
        { objectId: 'step drain', qualifier: 'step' },
        { objectId: 'person Sam', qualifier: 'done by' },
      ]),
    });
  });

  it('relates a report on two cylinders to both', () => {
    const fitted = log.events.find(({ type }) => type === 'Fit the clamp');
    expect(
      fitted?.relationships
        .filter(({ qualifier }) => qualifier === 'step')
        .map(({ objectId }) => objectId),
    ).toEqual(['step fit at cylinder 1', 'step fit at cylinder 3']);
  });

  it('relates a report on one cylinder to that one', () => {
    const read = log.events.filter(({ type }) => type === 'Read the trim code');
    expect(
      read.map(({ relationships }) =>
        relationships
          .filter(({ qualifier }) => qualifier === 'step')
          .map(({ objectId }) => objectId),
      ),
    ).toEqual([['step read-code at cylinder 1'], ['step read-code at cylinder 3']]);
  });

  it('has every recorded event but our own readings', () => {
    const recorded = log.events.filter(({ id }) => id.startsWith('event '));
    expect(recorded).toHaveLength(WORK.filter(({ kind }) => kind !== 'message-read').length);
    expect(log.eventTypes.map(({ name }) => name)).not.toContain('message read');
  });

  it('has job, vehicle, plan, people, flags, question and photo as objects', () => {
    const types = (type: string): number => log.objects.filter((one) => one.type === type).length;
    expect(['job', 'vehicle', 'plan', 'question', 'photo'].map(types)).toEqual([1, 1, 1, 1, 1]);
    // Sam, Ade, Wen; the steps: read-faults, drain, fill, look-over, recheck, and four at two cylinders each.
    expect(['person', 'step'].map(types)).toEqual([3, 13]);
    expect(log.objects.find(({ type }) => type === 'photo')?.id).toBe(`photo ${PHOTO}`);
  });
});
