// Small builders, so that a test reads like the thread it is about.

import type { JobEvent } from '../../shared/event.ts';
import { flagKey } from '../../shared/flag.ts';
import { PlanFile, type Step } from '../../shared/plan.ts';
import type { Act, ActKind } from '../../shared/reading.ts';
import { check } from '../../src/job/check.ts';
import type { Plan } from '../../src/job/plan.ts';
import { compilePlan } from '../../src/job/plan-file/compile-plan.ts';
import type { Around, JobView } from '../../src/job/view.ts';

export type StepDraft = Omit<Partial<Step>, 'id'> & { readonly id: string };

/** A plan from its steps; each is routine and called by its id unless it says otherwise. */
export function planOf(
  steps: readonly StepDraft[],
  rest: Partial<Omit<PlanFile, 'steps'>> = {},
): Plan {
  const file = PlanFile.parse({
    plan: 'test-plan',
    title: 'Test plan',
    machine: 'an invented machine',
    notice: 'Demonstration values.',
    source: 'demonstration value',
    ...rest,
    steps: steps.map((step) => ({
      title: step.id,
      phase: 'strip',
      ...(step.weight !== undefined && step.weight !== 'routine' && { why: 'It matters.' }),
      ...step,
    })),
  });
  return compilePlan(file, JSON.stringify(file));
}

export const SIX = { cylinders: { names: [1, 2, 3, 4, 5, 6].map((n) => `cylinder ${n}`) } };
export const cyl = (...numbers: readonly number[]): string[] => numbers.map((n) => `cylinder ${n}`);

/** A clock time on the day of the test, two hours east of UTC. */
export const at = (clock: string): string =>
  clock.includes('T') ? clock : `2026-05-12T${clock.length === 5 ? `${clock}:00` : clock}+02:00`;

export function opened(more: Partial<Extract<JobEvent, { kind: 'job-opened' }>> = {}): JobEvent {
  return {
    id: 'opened',
    at: at('07:00'),
    by: 'Sam',
    kind: 'job-opened',
    job: '1042',
    vehicle: { name: 'Bus 7' },
    plan: { id: 'test-plan', title: 'Test plan', hash: 'x', text: 'x' },
    positions: [],
    options: [],
    ...more,
  };
}

/** An act: `act('done', 'drain', { quantity: litres(28) })`, positions as the last word. */
export function act(
  kind: ActKind,
  step: string | undefined,
  more: Partial<Act> = {},
  positions: readonly string[] = [],
): Act {
  return {
    kind,
    ...(step !== undefined && { step }),
    positions: [...positions],
    assumed: [],
    span: [0, 1],
    ...more,
  };
}
export const done = (
  step: string,
  more: Partial<Act> = {},
  positions: readonly string[] = [],
): Act => act('done', step, more, positions);
export const started = (step: string, positions: readonly string[] = []): Act =>
  act('started', step, {}, positions);
export const litres = (value: number) => ({ value, unit: 'L' });
export const newtonMetres = (value: number) => ({ value, unit: 'N.m' });

type Words = { readonly text?: string; readonly role?: string; readonly channel?: string };

/** A message as posted and as read. */
export function says(
  id: string,
  clock: string,
  by: string,
  acts: readonly Act[],
  words: Words = {},
): JobEvent[] {
  return [
    {
      id: `${id}:posted`,
      at: at(clock),
      by,
      kind: 'message-posted',
      message: id,
      channel: words.channel ?? 'bench',
      text: words.text ?? `words of ${id}`,
      ...(words.role !== undefined && { role: words.role }),
    },
    read(id, clock, acts),
  ];
}

export function read(
  id: string,
  clock: string,
  acts: readonly Act[],
  revision = 0,
  pass = 0,
): JobEvent {
  return {
    id: `${id}:read:${revision}:${pass}`,
    at: at(clock),
    by: 'chargehand',
    kind: 'message-read',
    message: id,
    revision,
    pass,
    acts: [...acts],
    relied: [],
  };
}

/** An edit of a message and its new reading. */
export function edits(id: string, clock: string, acts: readonly Act[], revision = 1): JobEvent[] {
  return [
    {
      id: `${id}:edited:${revision}`,
      at: at(clock),
      by: 'x',
      kind: 'message-edited',
      message: id,
      text: `words of ${id}, edited ${revision}`,
    },
    read(id, clock, acts, revision),
  ];
}

export const deletes = (id: string, clock: string): JobEvent => ({
  id: `${id}:deleted`,
  at: at(clock),
  by: 'x',
  kind: 'message-deleted',
  message: id,
});

export const overrides = (flag: string, clock: string, by = 'Sam'): JobEvent => ({
  id: `override:${flag}:${clock}`,
  at: at(clock),
  by,
  kind: 'flag-overridden',
  flag,
  reason: 'looked at it',
});

export function releases(
  step: string,
  clock: string,
  by = 'Sam',
  position: string | null = null,
  role: string | undefined = 'controller',
): JobEvent {
  return {
    id: `release:${step}:${position}:${clock}`,
    at: at(clock),
    by,
    kind: 'hold-released',
    step,
    position,
    ...(role !== undefined && { role }),
  };
}

/** The refusal of a hold point by the controller. */
export const refuses = (step: string, clock: string, by = 'Sam'): JobEvent => ({
  id: `refuse:${step}:${clock}`,
  at: at(clock),
  by,
  kind: 'hold-refused',
  step,
  position: null,
  role: 'controller',
});

/** Asks a question the checker wants answered, and answers it. */
export function answers(
  view: JobView,
  about: string,
  choice: number,
  clock: string,
  by = 'Tom',
): JobEvent[] {
  const want = view.wants.find((one) => one.about === about);
  if (want === undefined) throw new Error(`no question about ${about} is wanted`);
  const acts = want.choices[choice]?.acts;
  return [
    {
      id: `asked:${want.question}`,
      at: at(clock),
      by: 'chargehand',
      kind: 'question-asked',
      question: want.question,
      message: want.message,
      asks: want.asks,
      about: want.about,
      choices: want.choices,
      ...(want.flag !== undefined && { flag: want.flag }),
    },
    {
      id: `answered:${want.question}`,
      at: at(clock),
      by,
      kind: 'question-answered',
      question: want.question,
      choice,
      ...(acts && { acts }),
    },
  ];
}

/** Events as a test writes them down: in lists of lists, as the thread grows. */
export type Story = JobEvent | readonly Story[];

export const eventsOf = (story: Story): JobEvent[] =>
  'kind' in story ? [story] : story.flatMap(eventsOf);

/** The view of a job from its events; opened at 07:00 unless they open it themselves. */
export function viewOf(
  plan: Plan,
  story: Story,
  { now = '18:00', around = {} }: { now?: string; around?: Around } = {},
): JobView {
  const all = eventsOf(story);
  const whole = all.some((event) => event.kind === 'job-opened') ? all : [opened(), ...all];
  return check(plan, whole, at(now), around);
}

/** Standing flags as "rule|step|position|part level", sorted; those that no longer stand end in how they went. */
export const flagsOf = (view: JobView): string[] =>
  view.flags.map((flag) => `${flagKey(flag)} ${flag.how ?? flag.level}`).sort();

/** Only one rule's flags, in short. */
export const only = (view: JobView, rule: string): string[] =>
  flagsOf(view).filter((flag) => flag.startsWith(`${rule}|`));

export const stateOf = (view: JobView, step: string, position: string | null = null): string =>
  view.steps.find((one) => one.step === step && one.position === position)?.state ?? 'none';
