// Who may do what, in one place. Every command, button and form asks here; hiding a button is never the guard.
import type { Role } from '../../shared/plan.ts';
import type { Person } from '../../shared/settings.ts';
import type { HoldState, JobView } from '../job/view.ts';

export type Permission = { readonly ok: true } | { readonly ok: false; readonly says: string };

const allowed: Permission = { ok: true };
const told = (says: string): Permission => ({ ok: false, says });

const list = (roles: readonly Role[]): string => roles.join(' or ');

export type Deed =
  | 'open-job'
  | 'close-job'
  | 'cancel-job'
  | 'override'
  | 'acknowledge'
  | 'settle-finding'
  | 'change-job'
  | 'reopen-job';

const DEEDS: Readonly<Record<Deed, readonly Role[]>> = {
  'open-job': ['technician', 'controller', 'manager'],
  'close-job': ['technician', 'controller'],
  'cancel-job': ['controller'],
  override: ['controller'],
  acknowledge: ['controller', 'manager'],
  'settle-finding': ['controller'],
  'change-job': ['controller', 'manager'],
  'reopen-job': ['controller'],
};

const WORDS: Readonly<Record<Deed, string>> = {
  'open-job': 'open a job',
  'close-job': 'close a job',
  'cancel-job': 'cancel a job',
  override: 'override a flag',
  acknowledge: 'acknowledge a stop',
  'settle-finding': 'settle a finding',
  'change-job': 'change who is on a job or when it is promised',
  'reopen-job': 'open a closed job again',
};

/** @returns allowed, or the sentence that tells the person who may. */
export const mayDo = (person: Pick<Person, 'name' | 'roles'>, deed: Deed): Permission =>
  DEEDS[deed].some((role) => person.roles.includes(role))
    ? allowed
    : told(
        `${person.name} may not ${WORDS[deed]}: that takes a ${list(DEEDS[deed])}. Ask one of them.`,
      );

/** Who worked on a step at a position, or on any step it rests on directly, reporters included. */
const handsOn = (view: JobView, hold: Pick<HoldState, 'step' | 'position'>): ReadonlySet<string> =>
  new Set(
    view.reports
      .filter(
        (report) =>
          report.act.step === hold.step &&
          (hold.position === null ||
            report.act.positions.length === 0 ||
            report.act.positions.includes(hold.position)),
      )
      .flatMap((report) => [report.worker, report.reporter]),
  );

/**
 * Whether a person may release or refuse a hold point: by role as the plan says, and never on their own work.
 * A one-person workshop overrides with a reason instead.
 */
export const mayRelease = (
  view: JobView,
  person: Pick<Person, 'name' | 'roles'>,
  hold: Pick<HoldState, 'step' | 'position'>,
): Permission => {
  const step = view.plan.stepById.get(hold.step);
  const roles = step?.hold?.release ?? [];
  if (!step || roles.length === 0)
    return told(
      `"${step?.title ?? hold.step}" is no hold point of this plan. Ask "where are we" for those that wait.`,
    );
  if (!roles.some((role) => person.roles.includes(role)))
    return told(
      `${person.name} may not release "${step.title}": the plan says ${list(roles)}. Ask one of them to look and release it.`,
    );
  if (handsOn(view, hold).has(person.name))
    return told(
      `${person.name} did the work at "${step.title}" and cannot release it too. Ask another ${list(roles)}, or override with a reason.`,
    );
  return allowed;
};
