// The messages on plans the reading was not written with keep their form, and speak only of what their plan has.
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Act } from '../../shared/reading.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import type { Plan } from '../../src/job/plan.ts';
import { isUnit } from '../../src/trade/units.ts';
import { type Label, readLabels, readPlans } from './score.ts';

const shipped = readPlans(new URL('../../data/plans/', import.meta.url));

/** What each folder holds: how many plans, messages for each, of them held out, writers, and messages that report nothing done. */
const SETS = [
  { name: 'unseen/', plans: 4, each: 150, apart: 50, writers: 8, nothingDone: [45, 105] },
  { name: 'field/', plans: 3, each: 100, apart: 33, writers: 12, nothingDone: [15, 30] },
] as const;

const LabelledAct = Act.omit({ assumed: true, span: true, note: true, candidates: true });

/** What is wrong with the label of one message, in words. */
function complaintsOf(message: Label, plans: ReadonlyMap<string, Plan>): string[] {
  const plan = plans.get(message.plan);
  if (!plan) return [`no plan ${message.plan}`];
  const names = Object.values(plan.positions ?? {}).flatMap((set) => set.names);
  const found: string[] = [];
  for (const raw of message.acts) {
    const parsed = LabelledAct.safeParse(raw);
    if (!parsed.success) {
      found.push(parsed.error.message);
      continue;
    }
    const act = parsed.data;
    const step = plan.steps.find((one) => one.id === act.step);
    if (act.step !== undefined && !step) found.push(`step ${act.step}`);
    if (act.positions.some((name) => !names.includes(name)))
      found.push(`positions ${act.positions}`);
    if (step && !step.each && act.positions.length > 0) found.push(`${step.id} has no positions`);
    const recorded = act.kind === 'done' || act.kind === 'partial';
    if (recorded && step?.each && act.positions.length === 0 && !message.ask)
      found.push(`${step.id} without a position and without ask`);
    if (act.quantity && !isUnit(act.quantity.unit)) found.push(`unit ${act.quantity.unit}`);
    if (act.kind === 'unsure' && !message.ask) found.push('unsure without ask');
    const stages =
      step?.report?.flatMap((ask) => ('stages' in ask ? [ask.stages.length] : [])) ?? [];
    if (step && act.stage !== undefined && act.stage > Math.max(0, ...stages))
      found.push(`${step.id} has no stage ${act.stage}`);
  }
  return found;
}

describe.each(SETS)('the messages in test/corpus/$name', (set) => {
  const folder = new URL(set.name, import.meta.url);
  const plans = readPlans(folder);
  const messages = readLabels(folder);

  it('belong to plans that the plan check is satisfied with and that are not shipped', () => {
    const files = readdirSync(folder).filter((name) => name.endsWith('.yaml'));
    const complaints = files.flatMap(
      (name) => loadPlan(readFileSync(new URL(name, folder), 'utf8'), name).complaints,
    );
    expect(complaints).toEqual([]);
    expect(plans.size).toBe(set.plans);
    expect([...shipped.keys()].filter((name) => plans.has(name))).toEqual([]);
  });

  it('name only steps, positions, stages and units that exist', () => {
    const wrong = messages.flatMap((message) =>
      complaintsOf(message, plans).map((complaint) => `${message.id}: ${complaint}`),
    );
    expect(wrong).toEqual([]);
  });

  it('are as many of each plan as said, a third of them held out, each said once', () => {
    for (const name of plans.keys()) {
      const own = messages.filter((message) => message.plan === name);
      expect(own.length, name).toBe(set.each);
      expect(own.filter((message) => message.heldout).length, name).toBe(set.apart);
    }
    expect(messages.length).toBe(set.plans * set.each);
    const keys = messages.map((m) => JSON.stringify([m.plan, m.text.toLowerCase(), m.previous]));
    expect(new Set(keys).size).toBe(messages.length);
    expect(new Set(messages.map((message) => message.id)).size).toBe(messages.length);
  });

  it('come from several writers a plan, one of them German, and some record nothing done', () => {
    for (const name of plans.keys()) {
      const own = messages.filter((message) => message.plan === name);
      expect(new Set(own.map((m) => m.by)).size, name).toBeGreaterThanOrEqual(set.writers);
      expect(own.some((message) => message.lang === 'de')).toBe(true);
      const recording = own.filter((message) =>
        message.acts.some((act) => act.kind === 'done' || act.kind === 'partial'),
      );
      const [least, most] = set.nothingDone;
      expect(own.length - recording.length, name).toBeGreaterThanOrEqual(least);
      expect(own.length - recording.length, name).toBeLessThanOrEqual(most);
    }
  });
});

describe('the plans of the two folders', () => {
  it('are about different jobs', () => {
    const names = SETS.flatMap(({ name }) => [...readPlans(new URL(name, import.meta.url)).keys()]);
    expect(new Set(names).size).toBe(names.length);
  });
});
