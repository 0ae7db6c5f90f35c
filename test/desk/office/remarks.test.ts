// Tools named by number and the register; who works under whom.
import { describe, expect, it } from 'vitest';
import { deskJob, done, texts } from '../desk-job.ts';

const register = [
  { id: 'TW-01', kind: 'torque-wrench', due: '2027-01-11' },
  { id: 'TW-03', kind: 'torque-wrench', due: '2026-11-02' },
];
const saidWith = (tool: string, tools = register): string =>
  texts(
    deskJob({ around: { tools } }).say('Ada', 'chocked', '07:00', [done('chock', { tool })]),
  ).join();

describe('a tool named in a message', () => {
  it('that the register does not know is said, with those it knows', () => {
    expect(saidWith('TW-99')).toBe(
      'TW-99 is not in the tool register, so its date is not known. Known: TW-01 and TW-03. Put the message right, or have the tool entered in the register.',
    );
  });

  it.each(['TW-01', 'tw 03', 'tw03', 'torque wrench'])('"%s" is no matter', (tool) => {
    expect(saidWith(tool)).toBe('');
  });

  it('without a register nobody is told', () => {
    expect(saidWith('TW-99', [])).toBe('');
  });
});

describe('an apprentice', () => {
  const sheet = (by: string, step: string): string =>
    deskJob()
      .say(by, 'done', '07:00', [done(step)])
      .find(({ key }) => key === 'sheet')?.card?.text ?? '';

  it('is recorded with the one they work under', () => {
    const job = deskJob();
    job.say('Kit', 'chocked', '07:00', [done('chock')]);
    expect(job.state().events.find(({ kind }) => kind === 'message-posted')).toMatchObject({
      by: 'Kit',
      under: 'Ada',
    });
  });

  it('is shown at a safety-critical step, and only there', () => {
    expect(sheet('Kit', 'chock')).toContain('Supervised: Chock the wheels: Kit, under Ada.');
    expect(sheet('Ada', 'chock')).not.toContain('Supervised');
    const job = deskJob();
    job.say('Ada', 'chocked', '07:00', [done('chock')]);
    job.say('Ada', 'up', '07:01', [done('jack-up')]);
    const posts = job.say('Kit', 'swapped', '07:02', [done('swap')]);
    expect(posts.find(({ key }) => key === 'sheet')?.card?.text).not.toContain('Supervised');
  });

  it('is shown in the handover too', () => {
    const job = deskJob();
    job.say('Kit', 'chocked', '07:00', [done('chock')]);
    expect(texts(job.say('Mo', 'handover', '13:55')).join()).toContain('Kit, under Ada');
  });
});
