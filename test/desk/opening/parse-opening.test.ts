// What a message says of a new job. Expected values are what the words say, worked out by hand.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  type Opening,
  parseOpening,
  promisedTime,
} from '../../../src/desk/opening/parse-opening.ts';
import { workshopOf } from '../../../src/desk/workshop.ts';
import { loadPlan } from '../../../src/job/load-plan.ts';

const folder = join(import.meta.dirname, '../../../data/plans');
const plans = readdirSync(folder).map((file) => {
  const { plan } = loadPlan(readFileSync(join(folder, file), 'utf8'), file);
  if (!plan) throw new Error(`${file} has errors.`);
  return plan;
});
const workshop = workshopOf(
  {
    workshop: 'W',
    zone: 'Europe/London',
    people: [
      { name: 'Ada', roles: ['technician'], also: ['Adelaide'] },
      { name: 'Robin', roles: ['controller'] },
    ],
  },
  plans,
);
/** A Tuesday. */
const NOW = '2026-03-10T09:00:00.000+00:00';

describe('parseOpening', () => {
  const cases: readonly (readonly [string, Opening])[] = [
    [
      'open job 1042 bus 17 injectors cyl 1-3 and 5 412350 km tech Ada promised thursday 14:00 complaint misfire on 3',
      {
        job: '1042',
        vehicle: 'bus 17',
        plan: 'injectors-six-cylinder',
        positions: ['cylinder 1', 'cylinder 2', 'cylinder 3', 'cylinder 5'],
        reading: { value: 412350, unit: 'km' },
        technician: 'Ada',
        promised: '2026-03-12T14:00:00.000+00:00',
        complaint: 'misfire on 3',
      },
    ],
    [
      'new job 88 coach 3 hub bearing front left',
      { job: '88', vehicle: 'coach 3', plan: 'hub-bearing', positions: ['front left'] },
    ],
    [
      'open job 1060 bus 12 hub bearing right front for Ada',
      {
        ...{ job: '1060', vehicle: 'bus 12', plan: 'hub-bearing', positions: ['front right'] },
        technician: 'Ada',
      },
    ],
    [
      'new job 89 coach 3 hub bearing, nsf and osr',
      {
        ...{ job: '89', vehicle: 'coach 3', plan: 'hub-bearing' },
        positions: ['front left', 'rear right'],
      },
    ],
    [
      'open job 7 truck 12-A coolant pump 9120 h',
      {
        job: '7',
        vehicle: 'truck 12-A',
        plan: 'coolant-pump',
        reading: { value: 9120, unit: 'h' },
      },
    ],
    [
      'open job #12 unit 4 clutch 255,000 miles for adelaide',
      {
        job: '12',
        vehicle: 'unit 4',
        plan: 'clutch',
        reading: { value: 255000, unit: 'mi' },
        technician: 'Ada',
      },
    ],
    ['open job', {}],
  ];
  it.each(cases)('%s', (text, expected) => {
    expect(parseOpening(text, workshop, NOW)).toEqual(expected);
  });

  it('takes any text without an error', () => {
    for (const text of [
      '',
      '#'.repeat(5000),
      'job '.repeat(2000),
      '\u0000\u{1F527}',
      'promised '.repeat(400),
    ])
      expect(() => parseOpening(text, workshop, NOW)).not.toThrow();
  });
});

describe('promisedTime', () => {
  it.each([
    ['today 16:00', '2026-03-10T16:00:00.000+00:00'],
    ['tomorrow noon', '2026-03-11T12:00:00.000+00:00'],
    ['friday 3 pm', '2026-03-13T15:00:00.000+00:00'],
    // The same weekday at a time that has passed is a week on.
    ['tuesday 08:00', '2026-03-17T08:00:00.000+00:00'],
    // After the clocks went forward on 29 March 2026.
    ['2026-03-30 10:00', '2026-03-30T10:00:00.000+01:00'],
  ])('%s', (words, expected) => {
    expect(promisedTime(words, NOW, 'Europe/London')).toBe(expected);
  });

  it('says nothing of words without a time', () => {
    expect(promisedTime('whenever it suits', NOW, 'Europe/London')).toBeUndefined();
  });
});
