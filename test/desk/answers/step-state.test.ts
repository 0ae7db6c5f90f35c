// What is on record of a step that somebody asks about.
import { describe, expect, it } from 'vitest';
import type { Act } from '../../../shared/reading.ts';
import { askedHow, stepStateCard } from '../../../src/desk/answers/step-state.ts';
import { at, deskJob, done, planFrom } from '../desk-job.ts';
import { planText } from '../figures/sample-view.ts';

const pump = planFrom(planText('coolant-pump'));
const job = () => deskJob({ plan: pump });
const asks = (step: string): Act => ({
  kind: 'asks',
  step,
  positions: [],
  assumed: [],
  span: [0, 1],
});
const answer = (made: ReturnType<typeof job>, step: string, text: string): string | undefined =>
  stepStateCard(made.state().view, asks(step), text, at('09:00'), 'UTC')?.text;

describe('askedHow', () => {
  it.each([
    ['is the battery isolated', 'stands'],
    ['has the coolant been drained?', 'stands'],
    ['who isolated the battery', 'stands'],
    ['can i start the engine', 'may'],
    ['is it safe to start', 'may'],
    ['how do i bleed it', undefined],
    ['what torque for the pump bolts', undefined],
    ['where is the drain', undefined],
  ])('%s: %s', (text, how) => {
    expect(askedHow(text)).toBe(how);
  });
});

describe('the answer', () => {
  it('says that there is no record, and to look at the vehicle', () => {
    const said = answer(job(), 'isolate-battery', 'is the battery isolated');
    expect(said).toContain('"Isolate the battery": no record of it on this job.');
    expect(said).toContain('look at the vehicle before you rely on it');
  });

  it('says who did it and when', () => {
    const made = job();
    made.say('Ada', 'isolated', '07:10', [done('isolate-battery')]);
    expect(answer(made, 'isolate-battery', 'is the battery isolated')).toContain(
      '"Isolate the battery": done by Ada, 07:10. Vehicle now: Battery isolated',
    );
  });

  it('says that it is over where later work ended it', () => {
    const made = job();
    made.say('Ada', 'isolated', '07:10', [done('isolate-battery')]);
    made.say('Ada', 'connected', '08:10', [done('reconnect-battery')]);
    const said = answer(made, 'isolate-battery', 'is the battery isolated');
    expect(said).toContain('"Battery isolated" is over since');
    expect(said).toContain('Vehicle now: nothing open');
  });

  it('does not call done what stands outside its limits', () => {
    const made = job();
    made.say('Ada', '60', '07:10', [done('let-cool', { quantity: { value: 60, unit: 'Cel' } })]);
    expect(answer(made, 'let-cool', 'has it cooled down')).toContain(
      'reported by Ada, 07:10, but outside its limits',
    );
  });

  it('says why something may not be done now', () => {
    const made = job();
    made.say('Ada', 'drained', '07:10', [
      done('drain-coolant', { quantity: { value: 23, unit: 'L' } }),
    ]);
    const said = answer(made, 'start-engine', 'can i start the engine');
    expect(said).toContain('Not now: "Start the engine".');
    expect(said).toContain('Coolant out');
    expect(said).toContain('No record yet of');
  });

  it('says so where nothing stands in the way', () => {
    expect(answer(job(), 'isolate-battery', 'can i isolate the battery')).toContain(
      'Nothing on record stands in the way of "Isolate the battery".',
    );
  });
});
