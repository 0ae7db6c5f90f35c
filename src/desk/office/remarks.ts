// What a report brings up beside the work: a tool that is not in the register, a step that takes a competence.
import type { Act } from '../../../shared/reading.ts';
import type { JobView } from '../../job/view.ts';
import { mayReport } from '../roles.ts';
import { list } from '../say.ts';
import { says } from '../turn/obeyed.ts';
import type { Moment, Piece } from '../turn/turn.ts';

const bare = (name: string): string => name.toLowerCase().replace(/[\s_-]+/gu, '');

const WORK: ReadonlySet<Act['kind']> = new Set(['done', 'started', 'partial']);

/** A tool named by its number that the register does not know. Nothing where there is no register. */
const unknownTools = (acts: readonly Act[], moment: Moment): readonly Piece[] => {
  const register = moment.around.tools ?? [];
  if (register.length === 0) return [];
  const known = new Set(register.map(({ id }) => bare(id)));
  const unknown = [
    ...new Set(
      acts.flatMap(({ tool }) =>
        tool && /\d/u.test(tool) && !known.has(bare(tool)) ? [tool] : [],
      ),
    ),
  ];
  if (unknown.length === 0) return [];
  return [
    says(
      `${list(unknown)} is not in the tool register, so its date is not known. Known: ${list(
        register.map(({ id }) => id),
        6,
      )}. Put the message right, or have the tool entered in the register.`,
      1,
    ),
  ];
};

/** A step that only people with a competence may do, reported as done by somebody without it. */
const competences = (
  view: JobView,
  acts: readonly Act[],
  by: string,
  moment: Moment,
): readonly Piece[] => {
  const told = new Set<string>();
  for (const act of acts) {
    const step = WORK.has(act.kind) ? view.plan.stepById.get(act.step ?? '') : undefined;
    if (!step) continue;
    const may = mayReport(moment.workshop.settings, act.by ?? by, step);
    if (!may.ok) told.add(may.says);
  }
  return told.size > 0 ? [says([...told].join(' '), 1)] : [];
};

/** Work reported under a job that was cancelled: the bus is somewhere else in the books. */
const onCancelled = (view: JobView, acts: readonly Act[]): readonly Piece[] =>
  view.status === 'cancelled' && acts.some(({ kind }) => WORK.has(kind))
    ? [
        says(
          `Job ${view.job} is cancelled, and work was reported under it. Say where it belongs ("that was for 1043"), or ask a controller to open this job again.`,
          1,
        ),
      ]
    : [];

export const remarksOn = (
  view: JobView,
  acts: readonly Act[],
  by: string,
  moment: Moment,
): readonly Piece[] => [
  ...onCancelled(view, acts),
  ...competences(view, acts, by, moment),
  ...unknownTools(acts, moment),
];
