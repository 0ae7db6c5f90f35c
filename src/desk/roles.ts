// Who may do what, in one place. Every command, button and form asks here; hiding a button is never the guard.
import type { Role, Step } from '../../shared/plan.ts';
import type { Person, Settings } from '../../shared/settings.ts';
import type { HoldState, JobView } from '../job/view.ts';

export type Permission = { readonly ok: true } | { readonly ok: false; readonly says: string };

const allowed: Permission = { ok: true };
const told = (says: string): Permission => ({ ok: false, says });

const list = (roles: readonly string[]): string => roles.join(' or ');

export type Deed =
  | 'open-job'
  | 'close-job'
  | 'cancel-job'
  | 'override'
  | 'acknowledge'
  | 'settle-finding'
  | 'change-job'
  | 'reopen-job'
  | 'correct-job'
  | 'take-in'
  | 'save-plan';

const DEEDS: Readonly<Record<Deed, readonly Role[]>> = {
  'open-job': ['technician', 'controller', 'manager'],
  'close-job': ['technician', 'controller'],
  'cancel-job': ['controller'],
  override: ['controller'],
  acknowledge: ['controller', 'manager'],
  'settle-finding': ['controller'],
  'change-job': ['controller', 'manager'],
  'reopen-job': ['controller'],
  'correct-job': ['controller'],
  'take-in': ['controller'],
  'save-plan': ['controller'],
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
  'correct-job': 'change the plan or the vehicle of a job',
  'take-in': 'say who may record',
  'save-plan': 'save a plan',
};

/** The competence that lets a person release a vehicle to the road, where the settings give it to anybody. */
export const ROAD_RELEASE = 'road-release';

const named = (people: readonly Pick<Person, 'name'>[]): string =>
  people.length > 0 ? list(people.map(({ name }) => name)) : 'nobody in the settings';

/**
 * Whether a person may release a vehicle to the road: those with the competence `road-release`; a controller where the
 * settings give that competence to nobody.
 */
export const mayReleaseToRoad = (
  settings: Pick<Settings, 'people'>,
  person: Pick<Person, 'name' | 'roles'>,
): Permission => {
  const able = settings.people.filter(({ competences }) => competences?.includes(ROAD_RELEASE));
  if (able.length === 0)
    return person.roles.includes('controller')
      ? allowed
      : told(
          `${person.name} may not release a vehicle to the road: that takes a controller. Ask one of them.`,
        );
  return able.some(({ name }) => name === person.name)
    ? allowed
    : told(
        `${person.name} may not release a vehicle to the road: that takes the competence ${ROAD_RELEASE}. Ask ${named(able)}.`,
      );
};

/** Whether a step counts as done by a person: those with one of its competences, where it asks for any. */
export const mayReport = (
  settings: Pick<Settings, 'people'>,
  name: string,
  step: Pick<Step, 'title' | 'competence'>,
): Permission => {
  const wanted = step.competence;
  if (!wanted?.length) return allowed;
  const has = (person: Pick<Person, 'competences'> | undefined): boolean =>
    person?.competences?.some((each) => wanted.includes(each)) === true;
  if (has(settings.people.find((person) => person.name === name))) return allowed;
  return told(
    `"${step.title}" takes the competence ${list(wanted)}, which ${name} does not have in the settings, so it does not count as done. Ask ${named(settings.people.filter(has))} to do it and post it.`,
  );
};

/** Whether a person may take a job over: a technician of the workshop. */
export const mayTakeOver = (person: Pick<Person, 'name' | 'roles'>): Permission =>
  person.roles.includes('technician')
    ? allowed
    : told(
        `${person.name} may not take a job over: that takes a technician. A controller gives it: "give it to …".`,
      );

/** Whether a person may move messages to another job: their own; a controller anybody's. */
export const mayMove = (
  person: Pick<Person, 'name' | 'roles'>,
  writers: readonly string[],
): Permission =>
  person.roles.includes('controller') || writers.every((writer) => writer === person.name)
    ? allowed
    : told(
        `${person.name} may move only their own messages; this one is from ${list([...new Set(writers.filter((writer) => writer !== person.name))])}. Ask a controller.`,
      );

/**
 * Whether a person may answer a question about somebody's report by a tap: the writer, whoever has the job now, or a
 * controller. Others were not there.
 */
export const mayAnswer = (
  person: Pick<Person, 'name' | 'roles'>,
  writer: string | undefined,
  technician: string | undefined,
): Permission =>
  writer === undefined ||
  person.name === writer ||
  person.name === technician ||
  person.roles.includes('controller')
    ? allowed
    : told(
        `The question is for ${writer}, who posted the report. ${writer} or a controller answers it.`,
      );

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
