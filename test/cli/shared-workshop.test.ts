// What was added to a workshop while it ran, at one of several processes: known at the others, and taken out again for all.
import { beforeEach, describe, expect, it } from 'vitest';
import { removeTakenIn, sharedWorkshop } from '../../src/cli/shared-workshop.ts';
import { FIRST_PLAN } from '../../src/floor/first-plan.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import type { Plan } from '../../src/job/plan.ts';
import type { Paper } from '../../src/store/shared-shelf.ts';
import { SETTINGS } from '../floor/workshop-floor.ts';

const NOW = '2026-03-10T08:00:00.000Z';

/** The shelf's rule for papers, in memory. */
const shelfOf = () => {
  const kept = new Map<string, Paper>();
  return {
    paper: async (name: string) => kept.get(name),
    papers: async (prefix: string) =>
      [...kept].flatMap(([name, paper]) => (name.startsWith(prefix) ? [{ name, ...paper }] : [])),
    writePaper: async (name: string, text: string, rev: number) => {
      if ((kept.get(name)?.rev ?? 0) !== rev) return false;
      kept.set(name, { text, rev: rev + 1 });
      return true;
    },
  };
};

describe('a workshop that several processes share', () => {
  let shelf = shelfOf();
  let troubles: string[] = [];
  const open = (plans = new Map<string, Plan>()) =>
    sharedWorkshop(
      shelf,
      SETTINGS,
      plans,
      () => NOW,
      (why) => void troubles.push(why),
    );
  beforeEach(() => {
    shelf = shelfOf();
    troubles = [];
  });

  it('knows who was taken in at any of them, beside those of the file as the file has them', async () => {
    const [one, two] = [await open(), await open()];
    const [first] = SETTINGS.people;
    if (first === undefined) throw new Error('The settings name nobody.');
    await Promise.all([
      one.takeIn({ name: 'Bo', roles: ['technician'] }, 'Robin'),
      two.takeIn({ name: 'Jo', roles: ['technician'] }, 'Bo'),
      two.takeIn({ ...first, roles: ['manager'] }, 'Robin'),
    ]);
    for (const each of [one, two]) {
      await each.look();
      const { people } = each.settings();
      expect(people.slice(0, SETTINGS.people.length)).toEqual(SETTINGS.people);
      const more = people.slice(SETTINGS.people.length).map(({ name }) => name);
      expect(more.sort()).toEqual(['Bo', 'Jo']);
    }
  });

  it('takes a person out of those, and out of who took others in', async () => {
    const one = await open();
    await one.takeIn({ name: 'Bo', roles: ['technician'] }, 'Robin');
    await one.takeIn({ name: 'Jo', roles: ['technician'] }, 'Bo');
    expect(await removeTakenIn(shelf, ['Bo', 'Nobody'])).toBe(1);
    await one.look();
    expect(one.settings().people.map(({ name }) => name)).not.toContain('Bo');
    const text = (await shelf.paper('people'))?.text ?? '';
    expect(text).toContain('Jo');
    expect(text).not.toContain('Bo');
    expect(await removeTakenIn(shelfOf(), ['Bo'])).toBe(0);
  });

  it('has a plan that was saved at any of them, and leaves those of the start as they are', async () => {
    const { plan } = loadPlan(FIRST_PLAN, 'first');
    if (plan === undefined) throw new Error('The plan does not load.');
    const [plans, fixed] = [new Map<string, Plan>(), new Map([[plan.plan, plan]])];
    const [one, two, three] = [await open(), await open(plans), await open(fixed)];
    await one.writePlan(plan.plan, FIRST_PLAN);
    await Promise.all([two.look(), three.look()]);
    expect([...plans.keys()]).toEqual([plan.plan]);
    expect(fixed.get(plan.plan)).toBe(plan);
    await one.writePlan('torn', 'steps: none');
    await two.look();
    await two.look();
    expect(troubles).toEqual([expect.stringContaining('The plan torn')]);
  });
});
