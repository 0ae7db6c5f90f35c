// Writing a plan on the bench: tried against messages as it stands, saved beside the shipped plans, never over one that
// open jobs rest on.
import type { TranscriptLine } from '../../shared/replay.ts';
import type { BenchPlanDesk, BenchPlanSaved, BenchPlanTrial } from '../chat/bench/bench-view.ts';
import { actWords } from '../desk/answers/what-read.ts';
import { type ReplayMoment, replay } from '../desk/replay.ts';
import { mayDo } from '../desk/roles.ts';
import { messagesOf } from '../desk/turn/log.ts';
import { personNamed, type Workshop } from '../desk/workshop.ts';
import { loadPlan } from '../job/load-plan.ts';
import type { Plan } from '../job/plan.ts';
import { FIRST_PLAN } from './first-plan.ts';

type Parts = {
  readonly workshop: Workshop;
  /** The plans a job can be opened with; a saved one is put among them. */
  readonly plans: Map<string, Plan>;
  /** Names of plans that came with the program or from folders of the settings: never written over. */
  readonly fixed: ReadonlySet<string>;
  /** Names of the plans that open jobs rest on. */
  readonly inUse: () => Promise<ReadonlySet<string>>;
  /** Writes the file of a plan, synced; the name is that of the plan. */
  readonly write: (plan: string, text: string) => Promise<void>;
  readonly clock: () => string;
};

const FIRST = 'first-plan';
const MOST_MESSAGES = 60;
/** Messages of a trial stand a minute apart, so that none is taken for the doubled one before it. */
const APART_MS = 60_000;

export const planDesk = (parts: Parts): BenchPlanDesk => ({
  samples: () => [
    { plan: FIRST, title: 'A short plan to learn from' },
    ...[...parts.plans.values()].map(({ plan, title }) => ({ plan, title })),
  ],
  textOf: (plan) => (plan === FIRST ? FIRST_PLAN : parts.plans.get(plan)?.text),
  tryOut: (text, messages) => tryOut(parts, text, messages),
  save: (text, by) => save(parts, text, by),
});

const tryOut = (
  { workshop, clock }: Parts,
  text: string,
  messages: readonly string[],
): readonly BenchPlanTrial[] => {
  const { plan } = loadPlan(text, 'plan');
  if (!plan) return [];
  const technician = workshop.settings.people.find(({ roles }) => roles.includes('technician'));
  const begin = Date.parse(clock());
  const lines = messages
    .filter((message) => message.trim() !== '')
    .slice(0, MOST_MESSAGES)
    .map(
      (message, index): TranscriptLine => ({
        id: `try-${index}`,
        at: new Date(begin + index * APART_MS).toISOString(),
        by: technician?.name ?? 'Technician',
        text: message,
      }),
    );
  if (lines.length === 0) return [];
  const { view, moments, result } = replay(plan, lines, {
    live: true,
    settings: workshop.settings,
  });
  const read = new Map(messagesOf(result.events).map(({ message, acts }) => [message, acts]));
  return lines.map((line, index) => {
    const upTo = lines[index + 1]?.at;
    return {
      said: line.text ?? '',
      read: (read.get(line.id) ?? []).map((act) => actWords(view, act)),
      answers: moments
        .filter(({ at }) => at >= line.at && (upTo === undefined || at < upTo))
        .flatMap(textsOf),
    };
  });
};

/** What stands in the thread; the job sheet and the signs are no answers. */
const textsOf = ({ posts }: ReplayMoment): readonly string[] => [
  ...new Set(
    posts
      .filter(({ key, to, card }) => card && key !== 'sheet' && to.where === 'thread')
      .map(({ card }) => card?.text ?? ''),
  ),
];

const save = async (parts: Parts, text: string, by: string): Promise<BenchPlanSaved> => {
  const refused = (what: string, doThis: string): BenchPlanSaved => ({ ok: false, what, doThis });
  const person = personNamed(parts.workshop.settings, by);
  const may = person && mayDo(person, 'save-plan');
  if (!may?.ok) return refused(may?.says ?? `${by} is not among the people.`, 'Ask a controller.');
  const { plan, complaints } = loadPlan(text, 'plan');
  if (!plan)
    return refused(
      `The plan is not saved: ${complaints.length === 1 ? 'one complaint stands' : `${complaints.length} complaints stand`}.`,
      'Mend the lines named below it, then save again.',
    );
  const known = parts.plans.get(plan.plan);
  if (known?.hash === plan.hash) return saved(known, `"${known.title}" is saved already.`);
  const inUse = await parts.inUse();
  const isTaken = (name: string): boolean => parts.fixed.has(name) || inUse.has(name);
  if (!isTaken(plan.plan)) {
    await parts.write(plan.plan, text);
    parts.plans.set(plan.plan, plan);
    return saved(plan, `"${plan.title}" is saved. A job can be opened with it now.`);
  }
  const version = versioned(plan, text, (name) => isTaken(name) || parts.plans.has(name));
  if (!version)
    return refused(
      `The name ${plan.plan} belongs to a plan that stays as it is.`,
      'Write another name behind "plan:" and save again.',
    );
  await parts.write(version.plan, version.text);
  parts.plans.set(version.plan, version);
  const why = inUse.has(plan.plan) ? 'open jobs rest on it' : 'it came with the program';
  return saved(
    version,
    `Saved as "${version.title}". The plan ${plan.plan} stays as it is, since ${why}.`,
  );
};

const saved = ({ plan, title }: Plan, says: string): BenchPlanSaved => ({
  ok: true,
  plan,
  title,
  says,
});

/** The same text under the next free version of its name, told apart in its title too. */
const versioned = (
  { plan, title }: Plan,
  text: string,
  isTaken: (name: string) => boolean,
): Plan | undefined => {
  const base = plan.replace(/-v\d+$/u, '');
  const bareTitle = title.replace(/, version \d+$/u, '');
  for (let number = 2; number < 1000; number += 1) {
    const name = `${base}-v${number}`;
    if (isTaken(name)) continue;
    const renamed = text
      .replace(/^plan:.*$/mu, `plan: ${name}`)
      .replace(/^title:.*$/mu, `title: ${JSON.stringify(`${bareTitle}, version ${number}`)}`);
    const { plan: made } = loadPlan(renamed, name);
    return made?.plan === name ? made : undefined;
  }
  return undefined;
};
