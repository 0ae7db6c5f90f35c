// Flags as a card: the level as a word, what, where, what to do, and what the controller can tap.
import type { Flag } from '../../../shared/flag.ts';
import type { Level } from '../../../shared/plan.ts';
import type { JobView } from '../../job/view.ts';
import type { Action, Block, Card, Form } from '../card.ts';
import { type FlagGroup, grouped } from '../flag-groups.ts';
import { OVERRIDE_FORM, REFUSE_FORM } from '../forms.ts';
import { firstSentence } from '../say.ts';

export const LEVEL_WORD: Readonly<Record<Level, string>> = {
  stop: 'STOP',
  caution: 'Caution',
  advice: 'Advice',
};

/** Flags said in full on one card; more are named by their first sentence. */
const IN_FULL = 3;
/** Flags named at all on one card; more are counted. */
const NAMED = 8;

/** A vehicle state is over only when it is closed, so its flags cannot be overridden. */
export const overridable = (flag: Pick<Flag, 'rule'>): boolean =>
  flag.rule !== 'unsafe-state' && flag.rule !== 'early-close';

export const releaseActions = (
  job: string,
  step: string,
  position: string | null,
): readonly Action[] => [
  { label: 'Release', weight: 'main', intent: { do: 'release', job, step, position } },
  {
    label: 'Refuse',
    weight: 'plain',
    intent: { do: 'refuse', job, step, position },
    form: REFUSE_FORM,
  },
];

/** The form says which flag it is for: it covers the card. */
const overrideForm = (job: string, group: FlagGroup): Form => ({
  ...OVERRIDE_FORM,
  title: `Override on job ${job}`,
  fields: OVERRIDE_FORM.fields.map((field) => ({
    ...field,
    hint: [`For: ${firstSentence(group.says)}`, field.hint].filter(Boolean).join(' '),
  })),
});

/** What can be tapped under a standing group of flags; who may is checked again when it is tapped. */
export const groupActions = (job: string, group: FlagGroup, numbered = ''): readonly Action[] => {
  const [flag] = group.flags;
  if (!flag || flag.clearedBy) return [];
  const actions: Action[] = [];
  if (flag.level === 'stop')
    actions.push({
      label: `I have seen it${numbered}`,
      weight: 'main',
      intent: { do: 'acknowledge', job, flag: group.key },
    });
  if (flag.rule === 'not-released' && flag.step !== null)
    actions.push(
      ...releaseActions(job, flag.step, flag.position).map((action) => ({
        ...action,
        label: `${action.label}${numbered}`,
      })),
    );
  if (overridable(flag))
    actions.push({
      label: `Override${numbered}`,
      weight: 'grave',
      intent: { do: 'override', job, flag: group.key },
      form: overrideForm(job, group),
    });
  return actions;
};

const headOf = (view: JobView): string => `job ${view.job}, ${view.opened.vehicle.name}`;

/**
 * One card for all flags that stand among those given.
 * @param tells names of people who are told by name: the controller, for a stop
 * @param beside what is said of them: who comes next, that nobody is on shift
 */
export const flagsCard = (
  view: JobView,
  flags: readonly Flag[],
  tells: readonly string[],
  beside = '',
): Card | undefined => {
  const groups = grouped(flags.filter((flag) => !flag.clearedBy));
  const [first] = groups;
  if (!first) return undefined;
  const full = groups.slice(0, groups.length > IN_FULL + 1 ? IN_FULL : IN_FULL + 1);
  const named = groups.slice(full.length, NAMED);
  const left = groups.length - full.length - named.length;
  const cautions = [
    ...new Set(
      full.flatMap((group) =>
        group.flags.map((flag) =>
          flag.step === null ? undefined : view.plan.stepById.get(flag.step)?.caution,
        ),
      ),
    ),
  ].filter((text) => text !== undefined);
  // The numbers are those of the buttons.
  const number = (index: number): string => (full.length > 1 ? `${index + 1}. ` : '');
  const lines = full.map(
    (group, index) => `${number(index)}${LEVEL_WORD[group.level]}. ${group.says}`,
  );
  const more = [
    ...named.map((group) => firstSentence(group.says)),
    ...(left > 0 ? [`and ${left} more.`] : []),
  ];
  const also = more.length > 0 ? [`Also: ${more.join(' ')}`] : [];
  const told = tells.length > 0 ? [`For ${tells.join(' and ')}. ${beside}`.trim()] : [];
  const blocks: Block[] = [
    ...full.map(
      (group, index): Block => ({
        kind: 'text',
        text: `${number(index)}${
          groups.some((other) => other.level !== first.level)
            ? `${LEVEL_WORD[group.level]}. ${group.says}`
            : group.says
        }`,
      }),
    ),
    ...also.map((text): Block => ({ kind: 'text', text })),
    ...(beside ? [{ kind: 'text', text: beside } satisfies Block] : []),
    ...cautions.map((text): Block => ({ kind: 'caution', text })),
  ];
  return {
    text: [...lines, ...also, ...told, ...cautions].join(' '),
    title: `${LEVEL_WORD[first.level]}, ${headOf(view)}`,
    level: first.level,
    blocks,
    actions: full.flatMap((group, index) =>
      groupActions(view.job, group, full.length > 1 ? ` ${index + 1}` : ''),
    ),
    tells,
  };
};

/** What is said when flags no longer stand. */
export const goneCard = (view: JobView, sentences: readonly string[]): Card => ({
  text: `No longer standing: ${sentences.join(' ')}`,
  title: `No longer standing, ${headOf(view)}`,
  blocks: sentences.map((text) => ({ kind: 'text', text })),
});
