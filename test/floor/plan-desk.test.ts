// Writing a plan on the bench: sound to begin with, tried without being kept, saved without writing over another.
import { describe, expect, it } from 'vitest';
import { workshopOf } from '../../src/desk/workshop.ts';
import { FIRST_PLAN } from '../../src/floor/first-plan.ts';
import { planDesk } from '../../src/floor/plan-desk.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import type { Plan } from '../../src/job/plan.ts';
import { planCheck } from '../../src/job/plan-check.ts';
import { pump, SETTINGS } from './workshop-floor.ts';

const START = '2026-03-10T07:00:00.000Z';
const OTHER = FIRST_PLAN.replace('Renew the cab filter', 'Renew both cab filters');

const desk = (inUse: readonly string[] = []) => {
  const plans = new Map<string, Plan>([[pump.plan, pump]]);
  const written = new Map<string, string>();
  const made = planDesk({
    workshop: { ...workshopOf(SETTINGS, [pump]), plans },
    plans,
    fixed: new Set([pump.plan]),
    inUse: async () => new Set(inUse),
    write: async (plan, text) => void written.set(plan, text),
    clock: () => START,
  });
  return { ...made, plans, written };
};

describe('the plan to begin with', () => {
  it('has no complaints, and stands first among the samples', () => {
    expect(planCheck(FIRST_PLAN, 'first').complaints).toEqual([]);
    const { samples, textOf } = desk();
    expect(samples().map(({ plan }) => plan)).toEqual(['first-plan', 'coolant-pump']);
    expect(textOf('first-plan')).toBe(FIRST_PLAN);
    expect(textOf('coolant-pump')).toBe(pump.text);
    expect(textOf('none')).toBeUndefined();
  });
});

describe('trying messages', () => {
  it('shows what each was understood to say, and what was answered', () => {
    const tried = desk().tryOut(FIRST_PLAN, ['battery off', 'morning', 'fired it up', '']);
    expect(tried).toHaveLength(3);
    const [battery, talk, start] = tried;
    expect(battery).toEqual({
      said: 'battery off',
      read: ['Isolate the battery: done'],
      answers: [],
    });
    expect(talk).toEqual({ said: 'morning', read: [], answers: [] });
    // The state that the first message opened forbids it.
    expect(start?.read).toEqual(['Start the engine: done']);
    expect(start?.answers.join(' ')).toMatch(/Battery isolated/);
  });

  it('shows nothing of a plan with complaints', () => {
    expect(desk().tryOut('plan: x', ['battery off'])).toEqual([]);
  });
});

describe('saving', () => {
  it('puts a new plan among those that jobs are opened with', async () => {
    const { save, plans, written } = desk();
    expect(await save(FIRST_PLAN, 'Robin')).toMatchObject({ ok: true, plan: 'first-plan' });
    expect(written.get('first-plan')).toBe(FIRST_PLAN);
    expect(plans.get('first-plan')?.title).toBe('Renew the cab filter');
  });

  it('takes the place of an earlier one that no open job rests on', async () => {
    const { save, plans, written } = desk();
    await save(FIRST_PLAN, 'Robin');
    expect(await save(OTHER, 'Robin')).toMatchObject({ ok: true, plan: 'first-plan' });
    expect([...written.keys()]).toEqual(['first-plan']);
    expect(plans.get('first-plan')?.title).toBe('Renew both cab filters');
  });

  it('leaves a plan alone that open jobs rest on, and takes a new version of its name', async () => {
    const { save, plans, written } = desk(['first-plan', 'first-plan-v2']);
    plans.set('first-plan', loadPlan(FIRST_PLAN, 'first').plan as Plan);
    const saved = await save(OTHER, 'Robin');
    expect(saved).toMatchObject({
      ok: true,
      plan: 'first-plan-v3',
      title: 'Renew both cab filters, version 3',
      says: expect.stringMatching(/stays as it is, since open jobs rest on it/),
    });
    expect([...written.keys()]).toEqual(['first-plan-v3']);
    expect(written.get('first-plan-v3')).toMatch(/^plan: first-plan-v3$/m);
    expect(plans.get('first-plan')?.text).toBe(FIRST_PLAN);
  });

  it('never writes over a plan that came with the program', async () => {
    const { save, written } = desk();
    const changed = pump.text.replace('title: Renew the coolant pump', 'title: Renew the pump');
    expect(await save(changed, 'Robin')).toMatchObject({ ok: true, plan: 'coolant-pump-v2' });
    expect([...written.keys()]).toEqual(['coolant-pump-v2']);
  });

  it('says that a plan is saved already, and writes nothing', async () => {
    const { save, written } = desk();
    expect(await save(pump.text, 'Robin')).toMatchObject({
      ok: true,
      says: '"Renew the coolant pump" is saved already.',
    });
    expect(written.size).toBe(0);
  });

  it.each([
    ['Ada', FIRST_PLAN, /may not save a plan: that takes a controller/],
    ['Nobody', FIRST_PLAN, /not among the people/],
    ['Robin', FIRST_PLAN.replace('phase: strip', 'phase: streep'), /one complaint stands/],
  ])('by %s is refused where it must be', async (by, text, says) => {
    const { save, written } = desk();
    expect(await save(text, by)).toMatchObject({ ok: false, what: expect.stringMatching(says) });
    expect(written.size).toBe(0);
  });
});
