// Overrides and acknowledgements of flags.
import { flagKey } from '../../../shared/flag.ts';
import type { Act } from '../../../shared/reading.ts';
import type { JobView } from '../../job/view.ts';
import { ORDER } from '../cards/gather.ts';
import { meansFlag } from '../flag-groups.ts';
import { OVERRIDE_FORM } from '../forms.ts';
import { mayDo } from '../roles.ts';
import { type Asker, asPerson, decidedAt, type Obeyed, only, says } from './obeyed.ts';
import type { Moment } from './turn.ts';

/** Overrides standing flags with a reason, if this person may and the flags can be. */
export const overrideFlags = (
  view: JobView,
  keys: readonly string[],
  reason: string | undefined,
  asker: Asker,
  moment: Moment,
): Obeyed => {
  const may = mayDo(asPerson(asker), 'override');
  if (!may.ok) return only(may.says);
  const standing = view.flags.filter(
    (flag) => !flag.clearedBy && keys.some((key) => meansFlag(key, flag)),
  );
  if (standing.length === 0)
    return only('No such flag stands on this job. Ask "where are we" for the open ones.');
  const fixed = standing.find(
    (flag) => flag.rule === 'unsafe-state' || flag.rule === 'early-close',
  );
  if (fixed) return only(`A vehicle state cannot be overridden, only closed. ${fixed.says}`);
  if (!reason?.trim()) {
    const [first] = standing;
    return {
      events: [],
      pieces: [
        {
          order: ORDER.answer,
          card: {
            text: 'An override needs a reason. Type "override because …" with the reason, or use the button.',
            blocks: [
              {
                kind: 'text',
                text: 'An override needs a reason. Type "override because …" with the reason, or use the button.',
              },
            ],
            ...(first
              ? {
                  actions: [
                    {
                      label: 'Give a reason',
                      weight: 'grave' as const,
                      intent: {
                        do: 'override' as const,
                        job: view.job,
                        flag: keys[0] ?? flagKey(first),
                      },
                      form: OVERRIDE_FORM,
                    },
                  ],
                }
              : {}),
          },
        },
      ],
    };
  }
  return {
    events: standing.map((flag) => ({
      id: `${asker.id}:override:${flagKey(flag)}`,
      at: decidedAt(asker, moment),
      by: asker.by,
      kind: 'flag-overridden',
      flag: flagKey(flag),
      reason: reason.trim(),
    })),
    pieces: [],
  };
};

export const acknowledgeFlags = (
  view: JobView,
  keys: readonly string[],
  asker: Asker,
  moment: Moment,
  how: 'button' | 'words',
): Obeyed => {
  const may = mayDo(asPerson(asker), 'acknowledge');
  if (!may.ok) return only(may.says);
  const standing = view.flags.filter(
    (flag) => !flag.clearedBy && keys.some((key) => meansFlag(key, flag)),
  );
  if (standing.length === 0) return only('No stop waits to be acknowledged on this job.');
  return {
    events: standing.map((flag) => ({
      id: `${asker.id}:seen:${flagKey(flag)}`,
      at: decidedAt(asker, moment),
      by: asker.by,
      kind: 'flag-acknowledged',
      flag: flagKey(flag),
      how,
    })),
    pieces: [
      says(
        `${asker.by} has seen it. The flag stands until it is settled or overridden.`,
        ORDER.remark,
      ),
    ],
  };
};

/** Identities of the standing flags an act means: those of the step it names, else all. */
export const flagsMeant = (view: JobView, act: Act, level?: 'stop'): readonly string[] => {
  const standing = view.flags.filter(
    (flag) =>
      !flag.clearedBy && flag.level !== 'advice' && (level === undefined || flag.level === level),
  );
  const named = standing.filter((flag) => act.step === undefined || flag.step === act.step);
  return named.map(flagKey);
};
