// The labelled messages keep their form, and speak only of what their plan has.
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import { PlanFile } from '../../shared/plan.ts';
import { Act } from '../../shared/reading.ts';
import { isUnit } from '../../src/trade/units.ts';

const folder = new URL('../../data/corpus/', import.meta.url);
const planFolder = new URL('../../data/plans/', import.meta.url);

/** The label of an act is the act itself, less what a reader adds by way of explanation. */
const LabelledAct = Act.omit({ assumed: true, span: true, note: true, candidates: true });

const LabelledMessage = z.strictObject({
  id: z.string().regex(/^[a-z]+-[a-z]+(-[a-z]+)?-\d{3}$/),
  plan: z.string(),
  text: z.string().min(1),
  previous: z.string().min(1).optional(),
  at: z.iso.datetime({ offset: true }).optional(),
  by: z.string().optional(),
  positions: z.array(z.string()).min(1).optional(),
  acts: z.array(LabelledAct),
  ask: z.literal(true).optional(),
  tags: z.array(z.string()).min(1),
  lang: z.enum(['en', 'de']),
  manner: z.string(),
});
type LabelledMessage = z.infer<typeof LabelledMessage>;

const files = readdirSync(folder).filter((name) => name.endsWith('.jsonl'));
const rows = files.flatMap((file) =>
  readFileSync(new URL(file, folder), 'utf8')
    .trimEnd()
    .split('\n')
    .map((line, index) => ({ where: `${file}:${index + 1}`, file, raw: JSON.parse(line) })),
);
const messages = rows.map(({ where, file, raw }) => ({
  where,
  file,
  message: raw as LabelledMessage,
}));

const plans = new Map(
  readdirSync(planFolder)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => PlanFile.parse(parse(readFileSync(new URL(name, planFolder), 'utf8'))))
    .map((plan) => [plan.plan, plan]),
);

/** What is wrong with the acts of one message, in words; empty when nothing is. */
function complaintsOf(message: LabelledMessage): string[] {
  const plan = plans.get(message.plan);
  if (!plan) return [`no plan ${message.plan}`];
  const names = Object.values(plan.positions ?? {}).flatMap((set) => set.names);
  const found: string[] = [];
  for (const name of message.positions ?? []) {
    if (!names.includes(name)) found.push(`position on the job ${name}`);
  }
  for (const act of message.acts) {
    const step = plan.steps.find((one) => one.id === act.step);
    const watched = plan.watched?.some((one) => one.id === act.step) ?? false;
    if (act.step !== undefined && !step && !watched) found.push(`step ${act.step}`);
    if (act.positions.some((name) => !names.includes(name)))
      found.push(`positions ${act.positions}`);
    const places = act.positions.map((name) => names.indexOf(name));
    if (places.some((place, index) => index > 0 && place <= (places[index - 1] ?? -1))) {
      found.push(`order of ${act.positions}`);
    }
    if (step && !step.each && act.positions.length > 0) found.push(`${step.id} has no positions`);
    const recorded = act.kind === 'done' || act.kind === 'partial';
    if (recorded && step?.each && act.positions.length === 0 && !message.ask) {
      found.push(`${step.id} without a position and without ask`);
    }
    if (recorded && act.step === undefined && !message.ask) found.push(`${act.kind} of nothing`);
    if (act.quantity && !isUnit(act.quantity.unit)) found.push(`unit ${act.quantity.unit}`);
    if (act.kind === 'unsure' && !message.ask) found.push('unsure without ask');
    if (act.kind === 'command' && act.command === undefined) found.push('command without a name');
    const stages =
      step?.report?.flatMap((ask) => ('stages' in ask ? [ask.stages.length] : [])) ?? [];
    if (step && act.stage !== undefined && act.stage > Math.max(0, ...stages)) {
      found.push(`${step.id} has no stage ${act.stage}`);
    }
    if (act.time !== undefined && message.at === undefined && !/^\d\d:\d\d$/.test(act.time)) {
      found.push(`time ${act.time} without a date to take it from`);
    }
  }
  return found;
}

const share = (of: (message: LabelledMessage) => boolean) =>
  messages.filter(({ message }) => of(message)).length;

describe('the labelled messages', () => {
  it('have the form that the corpus page describes', () => {
    const wrong = rows.flatMap(({ where, raw }) => {
      const result = LabelledMessage.safeParse(raw);
      return result.success ? [] : [`${where}: ${z.prettifyError(result.error)}`];
    });
    expect(wrong).toEqual([]);
  });

  it('name only steps, positions, stages and units that exist', () => {
    const wrong = messages.flatMap(({ where, message }) =>
      complaintsOf(message).map((complaint) => `${where} "${message.text}": ${complaint}`),
    );
    expect(wrong).toEqual([]);
  });

  it('have ids of their own, and no message twice under the same circumstances', () => {
    const ids = messages.map(({ message }) => message.id);
    expect(ids.length - new Set(ids).size).toBe(0);
    const seen = messages.map(({ message: m }) =>
      JSON.stringify([m.plan, m.text.toLowerCase(), m.previous, m.positions, m.at]),
    );
    expect(seen.filter((key, index) => seen.indexOf(key) !== index)).toEqual([]);
  });

  it('cover every plan in at least 200 messages', () => {
    for (const plan of plans.keys()) {
      expect(
        share((m) => m.plan === plan),
        plan,
      ).toBeGreaterThanOrEqual(200);
    }
  });

  it('number 1,500 in at least six manners of 80 and more, 250 of them German', () => {
    expect(messages.length).toBeGreaterThanOrEqual(1500);
    expect(share((m) => m.lang === 'de')).toBeGreaterThanOrEqual(250);
    const manners = [...new Set(messages.map(({ message }) => message.manner))];
    const large = manners.filter((manner) => share((m) => m.manner === manner) >= 80);
    expect(large.length, large.join(', ')).toBeGreaterThanOrEqual(6);
  });

  it('report every step of every plan at least once', () => {
    const missing = [...plans.values()].flatMap((plan) =>
      plan.steps
        .filter(
          ({ id }) =>
            !messages.some(
              ({ message }) =>
                message.plan === plan.plan &&
                message.acts.some((act) => act.step === id && act.kind === 'done'),
            ),
        )
        .map(({ id }) => `${plan.plan}: ${id}`),
    );
    expect(missing).toEqual([]);
  });

  it('keep a tenth apart, of the same kind as the rest', () => {
    const apart = messages.filter(({ file }) => file.endsWith('.heldout.jsonl'));
    expect(apart.length / messages.length).toBeGreaterThan(0.095);
    expect(apart.length / messages.length).toBeLessThan(0.105);
    expect(new Set(apart.map(({ message }) => message.plan)).size).toBe(plans.size);
    expect(new Set(apart.map(({ message }) => message.manner)).size).toBeGreaterThanOrEqual(6);
  });
});
