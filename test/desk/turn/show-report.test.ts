// Pictures and papers asked for, and what a claim lacks said while the vehicle is still here.
import { describe, expect, it } from 'vitest';
import { REPORTS } from '../../../src/report/reports.ts';
import { deskJob, texts } from '../desk-job.ts';

const COMPLAINT = 'wobble from the front left';
const job = (complaint?: string) =>
  deskJob({ reports: REPORTS, opening: complaint ? { complaint } : {} });

describe('closing a job that came in with a complaint', () => {
  it('says what only a claim would lack, with words or a tap', () => {
    const LINE = 'Before it leaves, for a claim: What proved the cause: ask the technician';
    expect(texts(job(COMPLAINT).say('Ada', 'close job', '08:00')).join()).toContain(LINE);
    const tapped = job(COMPLAINT).tap('Ada', { do: 'close-job', job: '1042' }, '08:00');
    expect(texts(tapped).join()).toContain(LINE);
  });

  it('asks no more for what was posted, and leaves what closing asks for to closing', () => {
    const mended = job(COMPLAINT);
    mended.say('Ada', 'old hub no. 77-4411, tagged, shelf 4', '07:30');
    const said = texts(mended.say('Ada', 'close job', '08:00')).join();
    expect(said).not.toContain('Number or code of the failed part');
    expect(said).not.toContain('The job is not closed');
  });

  it('says nothing of a claim where nobody complained', () => {
    expect(texts(job().say('Ada', 'close job', '08:00')).join()).not.toContain('claim');
  });
});

describe('asked for', () => {
  it('the claim lists everything that is lacking and sends the folder', () => {
    const [post] = job(COMPLAINT).say('Robin', 'what is missing for the claim', '07:00');
    expect(post?.card?.wants).toEqual(['claim-pdf']);
    expect(post?.card?.text).toContain('Still lacking, to be asked for before the vehicle leaves:');
    expect(post?.card?.text).toContain(`Complaint: ${COMPLAINT}.`);
  });

  it('the record is wanted in three forms, and says that an open job is not the whole', () => {
    const [post] = job().say('Robin', 'record', '07:00');
    expect(post?.card?.wants).toEqual(['record-pdf', 'record-csv', 'record-json']);
    expect(post?.card?.text).toContain('ask again after closing');
  });

  it('a picture comes; "picture" under a photo asks for none', () => {
    const [post] = job().say('Robin', 'picture', '07:00');
    expect(post?.card?.picture?.svg).toContain('<svg');
    const photo = job();
    photo.add({
      id: 'photo',
      at: '2026-03-10T07:00:00.000+00:00',
      by: 'Ada',
      kind: 'photo-kept',
      message: 'm1',
      name: 'hub.jpg',
      type: 'image/jpeg',
      bytes: 3,
      sha256: 'a'.repeat(64),
    });
    expect(texts(photo.say('Ada', 'picture', '07:00'))).toEqual([]);
  });

  it('where nothing can be shown, it is said', () => {
    expect(texts(deskJob().say('Robin', 'timeline', '07:00')).join()).toContain('not here');
  });
});
