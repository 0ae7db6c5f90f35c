// A flag as a card: the level as a word, what, where, what to do, and what the controller can tap.
import type { Flag } from '../../../shared/flag.ts';
import { flagKey } from '../../../shared/flag.ts';
import type { Level } from '../../../shared/plan.ts';
import type { JobView } from '../../job/view.ts';
import type { Action, Card, Form } from '../card.ts';

export const LEVEL_WORD: Readonly<Record<Level, string>> = {
  stop: 'STOP',
  caution: 'Caution',
  advice: 'Advice',
};

export const reasonForm: Form = {
  title: 'Override with a reason',
  submit: 'Override',
  fields: [
    {
      name: 'reason',
      label: 'Why the work may go on',
      kind: 'long-text',
      required: true,
      hint: 'Kept in the record with your name.',
    },
  ],
};

const refuseForm: Form = {
  title: 'Refuse the hold point',
  submit: 'Refuse',
  fields: [
    { name: 'reason', label: 'What has to be put right', kind: 'long-text', required: true },
  ],
};

/** A vehicle state is over only when it is closed, so its flags cannot be overridden. */
const overridable = (flag: Flag): boolean =>
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
    form: refuseForm,
  },
];

/** What can be tapped under a standing flag; who may is checked again when it is tapped. */
export const flagActions = (job: string, flag: Flag): readonly Action[] => {
  const key = flagKey(flag);
  if (flag.clearedBy) return [];
  const actions: Action[] = [];
  if (flag.level === 'stop')
    actions.push({
      label: 'I have seen it',
      weight: 'main',
      intent: { do: 'acknowledge', job, flag: key },
    });
  if (flag.rule === 'not-released' && flag.step !== null)
    actions.push(...releaseActions(job, flag.step, flag.position));
  if (overridable(flag))
    actions.push({
      label: 'Override',
      weight: 'grave',
      intent: { do: 'override', job, flag: key },
      form: reasonForm,
    });
  return actions;
};

/** @param tells names of people who are told by name: the controller, for a stop. */
export const flagCard = (view: JobView, flag: Flag, tells: readonly string[]): Card => {
  const caution = flag.step === null ? undefined : view.plan.stepById.get(flag.step)?.caution;
  const named = tells.length > 0 ? ` For ${tells.join(' and ')}.` : '';
  return {
    text: `${LEVEL_WORD[flag.level]}. ${flag.says}${named}${caution ? ` ${caution}` : ''}`,
    title: `${LEVEL_WORD[flag.level]}, job ${view.job}, ${view.opened.vehicle.name}`,
    level: flag.level,
    blocks: [
      { kind: 'text', text: `${flag.says}${named}` },
      ...(caution ? [{ kind: 'caution' as const, text: caution }] : []),
    ],
    actions: flagActions(view.job, flag),
    tells,
  };
};

/** The same card once the flag no longer stands. */
export const withdrawnCard = (view: JobView, flag: Flag, says: string): Card => ({
  text: `No longer standing: ${says}`,
  title: `No longer standing, job ${view.job}, ${view.opened.vehicle.name}`,
  blocks: [
    { kind: 'text', text: says },
    { kind: 'text', text: `It said: ${flag.says}` },
  ],
});
