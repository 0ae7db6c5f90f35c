// Deliveries change places: an edit may come before its message, an older edit behind a newer one.
import { describe, expect, it } from 'vitest';
import { messagesOf } from '../../../src/desk/turn/log.ts';
import { at, type DeskJob, deskJob, texts } from '../desk-job.ts';

const step = (job: DeskJob, id: string) => job.state().view.steps.find((each) => each.step === id);

describe('an edit that comes before its message', () => {
  it('is kept, and the message says what it says when it comes', () => {
    const job = deskJob();
    // The edit takes the first number, the message the second.
    expect(job.edit('Ada', 'm2', 'chocked', '07:01')).toEqual([]);
    job.say('Ada', 'chocks im', '07:00', undefined, '07:02');
    expect(messagesOf(job.state().events)).toMatchObject([
      { message: 'm2', text: 'chocked', revision: 1, at: at('07:00') },
    ]);
    expect(step(job, 'chock')?.state).toBe('done');
  });

  it('leaves what it would have left in the usual order', () => {
    const [calm, early] = [deskJob(), deskJob()];
    for (const job of [calm, early]) job.say('Mo', 'morning', '06:59');
    calm.say('Ada', 'chocked', '07:00');
    calm.edit('Ada', 'm2', 'chocked, jacked up', '07:05');
    early.edit('Ada', 'm3', 'chocked, jacked up', '07:05');
    early.say('Ada', 'chocked', '07:00', undefined, '07:06');
    const steps = (job: DeskJob, message: string) =>
      JSON.parse(JSON.stringify(job.state().view.steps).replaceAll(`"${message}"`, '"it"'));
    expect(steps(early, 'm3')).toEqual(steps(calm, 'm2'));
    // What the edit added counts from the edit, what stood there from the message.
    expect(step(early, 'chock')?.at).toBe(at('07:00'));
    expect(step(early, 'jack-up')?.at).toBe(at('07:05'));
  });

  it('takes a word back before it decides anything', () => {
    const job = deskJob();
    for (const [text, time] of [
      ['chocked', '07:00'],
      ['jacked up', '07:10'],
      ['wheel swapped', '07:20'],
      ['lowered to the ground', '07:30'],
      ['nuts tight', '07:40'],
    ] as const)
      job.say('Ada', text, time);
    job.edit('Robin', 'm7', 'do not go on yet', '07:46');
    job.say('Robin', 'release tighten the wheel nuts', '07:45', undefined, '07:47');
    expect(job.state().view.holds[0]?.state).toBe('waits');
  });

  it('that never finds its message changes nothing that is true of the job', () => {
    const job = deskJob();
    job.say('Ada', 'chocked', '07:00');
    const before = job.state().view;
    expect(texts(job.edit('Ada', 'm9', 'jacked up', '07:05'))).toEqual([]);
    expect(job.state().view.steps).toEqual(before.steps);
    const events = job.state().events.length;
    job.edit('Ada', 'm9', 'jacked up', '07:05');
    expect(job.state().events.length).toBe(events + 1);
  });
});

describe('an older edit that comes behind a newer one', () => {
  const late = (): DeskJob => {
    const job = deskJob();
    job.say('Ada', 'morning all', '07:00');
    job.edit('Ada', 'm1', 'chocked, and tea is up', '07:10');
    job.edit('Ada', 'm1', 'chocked', '07:05');
    return job;
  };

  it('does not bring its text back', () => {
    expect(messagesOf(late().state().events)).toMatchObject([
      { text: 'chocked, and tea is up', revision: 2 },
    ]);
  });

  it('tells since when the message has said it', () => {
    expect(step(late(), 'chock')?.at).toBe(at('07:05'));
  });
});

it('a message deleted before it was heard decides nothing and is not signed', () => {
  const job = deskJob();
  job.remove('Robin', 'm2', '07:05');
  const posts = job.say('Robin', 'give it to Mo', '07:00', undefined, '07:06');
  expect(posts.filter(({ key }) => key !== 'sheet')).toEqual([]);
  expect(job.state().view.technician).toBe('Ada');
});
