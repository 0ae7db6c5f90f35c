// The form that opens a job, refused and given back: nothing that was typed is lost, and what is wrong stands beside it.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openingFromFields, openJob } from '../../../src/desk/opening/open-job.ts';
import { openingForm } from '../../../src/desk/opening/opening-form.ts';
import type { Moment } from '../../../src/desk/turn/turn.ts';
import { workshopOf } from '../../../src/desk/workshop.ts';
import { ROOT } from '../../layout/sources.ts';
import { PEOPLE, planFrom } from '../desk-job.ts';

const shipped = (name: string) =>
  planFrom(readFileSync(join(ROOT, `data/plans/${name}.yaml`), 'utf8'));
const injectors = shipped('injectors-six-cylinder');
const pump = shipped('coolant-pump');
const workshop = workshopOf(PEOPLE, [injectors, pump]);
const moment: Moment = {
  workshop,
  now: '2026-03-10T09:00:00.000+00:00',
  around: {},
  jobNumbers: ['1042'],
  holdBack: 30,
};

const refused = (fields: Readonly<Record<string, string | readonly string[]>>) => {
  const { opening } = openingFromFields(fields, moment);
  return new Map(openingForm(workshop, opening).fields.map((field) => [field.name, field]));
};

describe('a refused opening form', () => {
  const typed = {
    job: '10 42',
    vehicle: 'bus 17',
    plan: injectors.plan,
    positions: 'cyl 9',
    reading: 'many km',
    vin: '123',
    promised: 'soon',
    complaint: 'misfire\nwhen cold',
  };
  const fields = refused(typed);

  it.each(Object.entries(typed))('keeps %s as typed: %j', (name, value) => {
    expect(fields.get(name)?.value).toBe(value);
  });

  it.each([
    ['job', '"10 42" is no job number.'],
    ['positions', 'Positions "cyl 9" are not on this plan.'],
    ['reading', '"many km" is no odometer or hour reading.'],
    ['vin', 'has 17 characters, this one has 3.'],
    ['promised', '"soon" is no time.'],
  ])('says beside %s what is wrong', (name, says) => {
    expect(fields.get(name)?.hint).toContain(says);
  });

  it('says beside the job number that it is taken', () => {
    expect(refused({ ...typed, job: '1042' }).get('job')?.hint).toContain('is there already');
  });

  it('leaves a field that fits without a remark', () => {
    expect(fields.get('vehicle')?.hint).toBe('As the workshop calls it: bus 17');
  });
});

describe('options of a plan', () => {
  it('are offered for the work that is known, in the words of the plan', () => {
    const field = openingForm(workshop, { plan: pump.plan }).fields.find(
      ({ name }) => name === 'options',
    );
    expect(field).toMatchObject({
      kind: 'choices',
      required: false,
      choices: [
        {
          value: `${pump.plan}/thermostat`,
          label: 'The thermostat is renewed at the same time',
        },
      ],
    });
  });

  it('come into the first event of the job', () => {
    const { opening, problems } = openingFromFields(
      { job: '7', vehicle: 'bus 3', plan: pump.plan, options: [`${pump.plan}/thermostat`] },
      moment,
    );
    expect(problems).toEqual([]);
    const by = { id: 'd', by: 'Robin', roles: ['controller'], at: moment.now };
    expect(openJob(opening, by, moment).events[0]).toMatchObject({
      kind: 'job-opened',
      options: ['thermostat'],
    });
  });

  it('of another work are refused by name', () => {
    const { problems } = openingFromFields(
      { job: '7', vehicle: 'bus 3', plan: injectors.plan, options: `${pump.plan}/thermostat` },
      moment,
    );
    expect(problems).toEqual([
      `"The thermostat is renewed at the same time" belongs to "${pump.title}", not to the work chosen. Take it out.`,
    ]);
  });
});
