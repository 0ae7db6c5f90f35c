// Closing with the odometer, what is still to come, and calling it overdue on a job that is closed.
import { describe, expect, it } from 'vitest';
import { questionsOf } from '../../../src/desk/turn/log.ts';
import { deskJob, done, texts } from '../desk-job.ts';

/** A job with everything done and released; opened with a reading where one is given. */
const ready = (reading?: { readonly value: number; readonly unit: 'km' }) => {
  const job = deskJob({ opening: reading ? { reading } : {} });
  for (const [index, step] of ['chock', 'jack-up', 'swap', 'lower', 'tighten-nuts'].entries())
    job.say('Ada', step, `07:0${index}`, [done(step)]);
  job.tap('Robin', { do: 'release', job: '1042', step: 'tighten-nuts', position: null }, '07:10');
  job.say('Ada', 'clear', '07:11', [done('people-clear')]);
  job.say('Ada', 'tested', '07:12', [done('brake-test')]);
  expect(job.state().view.closeNeeds).toEqual([]);
  return job;
};
const closed = (job: ReturnType<typeof ready>) =>
  job.state().events.find(({ kind }) => kind === 'job-closed');
const KM = { value: 100_000, unit: 'km' as const };

describe('closing', () => {
  it('asks for the odometer once, and the figure alone then closes the job', () => {
    const job = ready(KM);
    expect(texts(job.say('Ada', 'close job', '08:00')).join()).toContain('What does the odometer');
    expect(texts(job.say('Ada', 'close job', '08:01')).join()).toContain('still waits');
    expect(questionsOf(job.state().events)).toHaveLength(1);
    job.say('Ada', '100,012 km', '08:02');
    expect(closed(job)).toMatchObject({ reading: { value: 100_012, unit: 'km' } });
    expect(questionsOf(job.state().events)[0]?.state).toBe('answered');
  });

  it('a bare figure means nothing while nobody has asked', () => {
    const job = ready(KM);
    job.say('Ada', '100,012 km', '08:02');
    expect(closed(job)).toBeUndefined();
  });

  it('takes the odometer that was said before', () => {
    const job = ready(KM);
    expect(texts(job.say('Ada', 'odometer 100,015 km', '07:50'))).toEqual([]);
    job.say('Ada', 'close job', '08:00');
    expect(closed(job)).toMatchObject({ reading: { value: 100_015, unit: 'km' } });
  });

  it('refuses one that is less than at opening', () => {
    const job = ready(KM);
    expect(texts(job.say('Ada', 'close job at 99,000 km', '08:00')).join()).toContain(
      '99,000 km is less than the 100,000 km at opening',
    );
    expect(closed(job)).toBeUndefined();
  });

  it('goes without one when that is said', () => {
    const job = ready(KM);
    job.say('Ada', 'close job without reading', '08:00');
    expect(closed(job)).not.toHaveProperty('reading');
    expect(job.state().view.status).toBe('closed');
  });

  it('by tap takes what the form says, and nothing where it was left empty', () => {
    const filled = ready(KM);
    filled.tap('Ada', { do: 'close-job', job: '1042' }, '08:00', { reading: '100.020 km' });
    expect(closed(filled)).toMatchObject({ reading: { value: 100_020, unit: 'km' } });
    const empty = ready(KM);
    empty.tap('Ada', { do: 'close-job', job: '1042' }, '08:00', { reading: '' });
    expect(empty.state().view.status).toBe('closed');
    const wrong = ready(KM);
    expect(
      texts(
        wrong.tap('Ada', { do: 'close-job', job: '1042' }, '08:00', { reading: 'lots' }),
      ).join(),
    ).toContain('"lots" is no odometer');
    expect(wrong.state().view.status).toBe('open');
  });

  it('is kept for those who may', () => {
    const job = ready();
    expect(texts(job.say('Kim', 'close job without reading', '08:00')).join()).toContain(
      'Kim may not close a job',
    );
  });
});

describe('what is still to come', () => {
  it('is said at closing, and called overdue two days after the nuts were tight', () => {
    const job = ready(KM);
    expect(texts(job.say('Ada', 'close job without reading', '08:00')).join()).toContain(
      'Still to come: Re-torque the wheel nuts on the road (40 to 80 km on the road).',
    );
    // Tight at 07:04 on the 10th, due within 2880 minutes: until 07:04 on the 12th.
    expect(texts(job.look('2026-03-12T07:04:00.000+00:00')).join()).not.toContain('Overdue');
    const late = texts(job.look('2026-03-12T07:05:00.000+00:00')).join();
    expect(late).toContain('Overdue: "Re-torque the wheel nuts on the road"');
    expect(late).toContain('STOP');
    expect(texts(job.look('2026-03-12T07:06:00.000+00:00')).join()).not.toContain('Overdue');
  });

  it('done in time, nothing is said any more', () => {
    const job = ready(KM);
    job.say('Ada', 'close job without reading', '08:00');
    job.say('Ada', 'retorqued', '15:00', [done('retorque')]);
    expect(texts(job.look('2026-03-13T07:05:00.000+00:00'))).toEqual([]);
    expect(job.state().view.status).toBe('closed');
  });
});

describe('opened again', () => {
  it('with a reason, by a controller, and then closed anew', () => {
    const job = ready();
    job.say('Ada', 'close job without reading', '08:00');
    expect(texts(job.say('Robin', 'close job without reading', '08:01')).join()).toContain(
      'is closed already',
    );
    job.say('Robin', 'reopen job because the valve leaks', '08:02');
    expect(job.state().view.status).toBe('open');
    expect(job.state().events.find(({ kind }) => kind === 'job-reopened')).toMatchObject({
      by: 'Robin',
      reason: 'the valve leaks',
    });
    job.say('Ada', 'close job without reading', '08:05');
    expect(job.state().view.status).toBe('closed');
  });
});
