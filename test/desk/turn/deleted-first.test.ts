// Deliveries change places: a deletion may come before the message it deletes.
import { expect, it } from 'vitest';
import { messagesOf } from '../../../src/desk/turn/log.ts';
import { deskJob } from '../desk-job.ts';

it('a message that was deleted before it came is on the record as deleted, and reports nothing', () => {
  const job = deskJob();
  // The deletion takes the first number, the message the second.
  job.remove('Ada', 'm2', '07:05');
  job.say('Ada', 'chocks in', '07:00');
  expect(messagesOf(job.state().events)).toMatchObject([{ message: 'm2', deleted: true }]);
  expect(job.state().view.reports).toEqual([]);
  expect(job.state().view.steps.every(({ state }) => state !== 'done')).toBe(true);
  const events = job.state().events.length;
  job.remove('Ada', 'm2', '07:06');
  expect(job.state().events.length).toBe(events);
});

it('a deletion of something that never comes changes nothing that is true of the job', () => {
  const job = deskJob();
  job.say('Ada', 'chocks in', '07:00');
  const before = job.state().view;
  expect(job.remove('Ada', 'm9', '07:05')).toEqual([]);
  expect(job.state().view.steps).toEqual(before.steps);
  expect(job.state().view.flags).toEqual(before.flags);
});
