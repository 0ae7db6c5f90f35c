// A stop is answered: who was told, who has seen it and how, who comes next; all from recorded events alone.
import { describe, expect, it } from 'vitest';
import type { Settings } from '../../../shared/settings.ts';
import { jobRecord } from '../../../src/report/job-record.ts';
import { at, type DeskJob, deskJob, done, PEOPLE, texts } from '../desk-job.ts';

const ALL = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const SHIFTS: Settings = {
  ...PEOPLE,
  people: [
    ...PEOPLE.people.filter(({ name }) => name !== 'Robin' && name !== 'Kim'),
    { name: 'Robin', roles: ['controller'], shifts: ['early'] },
    { name: 'Wen', roles: ['controller'], shifts: ['late'] },
    { name: 'Kim', roles: ['manager'] },
  ],
  shifts: [
    { name: 'early', days: [...ALL], from: '06:00', to: '14:00' },
    { name: 'late', days: [...ALL], from: '14:00', to: '22:00' },
  ],
};

const stopped = (time: string): DeskJob => {
  const job = deskJob({ settings: SHIFTS });
  job.say('Ada', 'jacked up', time, [done('jack-up')]);
  return job;
};
const flagsOf = (job: DeskJob) =>
  jobRecord(job.state().view, job.state().events, {
    chainEnd: null,
    zone: 'UTC',
    now: at('20:00'),
  }).flags.filter(({ level }) => level === 'stop');

describe('a stop', () => {
  it('names who is on shift and who comes next', () => {
    const job = deskJob({ settings: SHIFTS });
    const said = texts(job.say('Ada', 'jacked up', '07:00', [done('jack-up')])).join(' ');
    expect(said).toContain('For Robin. Then Kim, if nobody acknowledges it in 10 minutes.');
    expect(flagsOf(job)[0]?.told).toEqual([{ at: at('07:00'), to: 'Robin' }]);
  });

  it('goes to the next after 10 minutes and not before, and to nobody twice', () => {
    const job = stopped('07:00');
    expect(texts(job.look('07:09')).join()).not.toContain('passed to');
    expect(texts(job.look('07:10')).join()).toContain(
      'Not acknowledged for 10 minutes, passed to Kim.',
    );
    expect(texts(job.look('07:30')).join()).not.toContain('passed to');
    expect(flagsOf(job)[0]?.passedOn).toEqual([{ at: at('07:10'), to: 'Kim' }]);
  });

  it('goes to whoever comes on shift where the one who was told has gone', () => {
    const job = stopped('13:55');
    // At 14:05 Robin has gone home: Wen is the controller on shift.
    expect(texts(job.look('14:05')).join()).toContain('passed to Wen');
    expect(texts(job.look('14:15')).join()).toContain('passed to Kim');
  });

  it('says so where nobody who may settle it is on shift', () => {
    const night: Settings = {
      ...SHIFTS,
      people: SHIFTS.people.filter(({ name }) => name !== 'Kim'),
    };
    const job = deskJob({ settings: night });
    expect(texts(job.say('Ada', 'jacked up', '23:00', [done('jack-up')])).join(' ')).toContain(
      'For Robin. Nobody who may settle it is on shift now. Then Wen',
    );
  });

  it.each<[string, (job: DeskJob) => void, string]>([
    [
      'by the button',
      (job) => {
        const flag = flagsOf(job)[0]?.flag ?? '';
        job.tap('Robin', { do: 'acknowledge', job: '1042', flag }, '07:03');
      },
      'button',
    ],
    ['in words', (job) => void job.say('Robin', 'seen it', '07:03'), 'words'],
    ['by writing in the job', (job) => void job.say('Robin', 'on my way', '07:03'), 'wrote'],
  ])('is acknowledged %s: who, when and how is in the record', (_, see, how) => {
    const job = stopped('07:00');
    see(job);
    expect(flagsOf(job)[0]?.acknowledged).toEqual([{ at: at('07:03'), by: 'Robin', how }]);
    expect(texts(job.look('07:20')).join()).not.toContain('passed to');
  });

  it('is not acknowledged by a technician who writes on', () => {
    const job = stopped('07:00');
    job.say('Mo', 'on my way', '07:03');
    expect(flagsOf(job)[0]?.acknowledged).toEqual([]);
    expect(texts(job.look('07:10')).join()).toContain('passed to Kim');
  });
});
