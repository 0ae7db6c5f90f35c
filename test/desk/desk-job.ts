// One job on the desk alone, for tests: people say and tap things, and what is posted is handed back.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { JobEvent } from '../../shared/event.ts';
import type { Act } from '../../shared/reading.ts';
import type { Settings } from '../../shared/settings.ts';
import type { Intent, Post } from '../../src/desk/card.ts';
import { openJob } from '../../src/desk/opening/open-job.ts';
import type { Opening } from '../../src/desk/opening/parse-opening.ts';
import type { Reports } from '../../src/desk/reports.ts';
import { takeDelete, takeEdit } from '../../src/desk/turn/amend.ts';
import { checkJob } from '../../src/desk/turn/check-job.ts';
import { hear } from '../../src/desk/turn/hear.ts';
import { takeTap } from '../../src/desk/turn/tap.ts';
import { tick } from '../../src/desk/turn/tick.ts';
import type { JobState, Moment, Turn } from '../../src/desk/turn/turn.ts';
import { workshopOf } from '../../src/desk/workshop.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import type { Plan } from '../../src/job/plan.ts';
import type { Around } from '../../src/job/view.ts';
import { ROOT } from '../layout/sources.ts';

export const PEOPLE: Settings = {
  workshop: 'Desk',
  zone: 'UTC',
  people: [
    { name: 'Ada', roles: ['technician'], competences: ['brake-tester'] },
    { name: 'Mo', roles: ['technician'] },
    { name: 'Kit', roles: ['technician'], under: 'Ada' },
    { name: 'Robin', roles: ['controller'] },
    { name: 'Kim', roles: ['manager'] },
  ],
};

export const planFrom = (text: string): Plan => {
  const { plan, complaints } = loadPlan(text, 'test.yaml');
  if (!plan) throw new Error(`The plan of the test has errors: ${JSON.stringify(complaints)}`);
  return plan;
};

export const wheelText = readFileSync(
  join(ROOT, 'test/conversations/plans/wheel-change.yaml'),
  'utf8',
);
export const wheelPlan: Plan = planFrom(wheelText);

export type DeskJob = {
  readonly state: () => JobState;
  /** `heard`: when it reaches the desk, where that is not when it was posted. */
  readonly say: (
    by: string,
    text: string,
    at: string,
    acts?: readonly Act[],
    heard?: string,
  ) => readonly Post[];
  readonly tap: (
    by: string,
    intent: Intent,
    at: string,
    fields?: Readonly<Record<string, string | readonly string[]>>,
  ) => readonly Post[];
  readonly edit: (by: string, message: string, text: string, at: string) => readonly Post[];
  readonly remove: (by: string, message: string, at: string) => readonly Post[];
  /** Adds events as the shell does before a turn: photos, for one. */
  readonly add: (...events: readonly JobEvent[]) => void;
  readonly look: (at: string) => readonly Post[];
  /** The job from here on in a workshop with other plans: a plan file was changed meanwhile. */
  readonly under: (plans: readonly Plan[]) => DeskJob;
};

/** HH:MM of the day of the test; a whole instant stays as it is. */
export const at = (time: string): string =>
  time.includes('T') ? time : `2026-03-10T${time}:00.000+00:00`;

/** Ids of messages are m1, m2 and so on, in the order in which they are said; taps and edits count too. */
export const deskJob = (
  given: {
    readonly plan?: Plan;
    readonly plans?: readonly Plan[];
    readonly settings?: Settings;
    readonly opening?: Opening;
    readonly around?: Around;
    readonly holdBack?: number;
    /** Pictures and papers; left out, there are none. */
    readonly reports?: Reports;
  } = {},
): DeskJob => {
  const plan = given.plan ?? wheelPlan;
  const settings = given.settings ?? PEOPLE;
  let workshop = workshopOf(settings, given.plans ?? [plan]);
  const around: Around = {
    people: settings.people.map(({ name, roles, competences }) => ({
      name,
      roles,
      ...(competences ? { competences } : {}),
    })),
    ...given.around,
  };
  let state: JobState | undefined;
  let number = 0;
  const now = (): JobState => {
    if (!state) throw new Error('The job is not open.');
    return state;
  };
  const moment = (time: string): Moment => ({
    workshop,
    now: at(time),
    around,
    openJobs: state ? [state.view] : [],
    jobNumbers: state ? [state.view.job] : [],
    holdBack: given.holdBack ?? 0,
    ...(given.reports ? { reports: given.reports } : {}),
  });
  const take = (turn: Turn): readonly Post[] => {
    state = turn.state;
    return turn.posts;
  };
  const base = (by: string, time: string) => {
    number += 1;
    const roles = settings.people.find(({ name }) => name === by)?.roles ?? [];
    return { id: `m${number}`, channel: 'desk', at: at(time), by, roles };
  };
  take(
    openJob(
      {
        job: '1042',
        vehicle: 'bus 17',
        plan: plan.plan,
        positions: ['front left'],
        technician: 'Ada',
        ...given.opening,
      },
      { id: 'open', by: 'Robin', roles: ['controller'], at: at('06:00') },
      moment('06:00'),
    ),
  );
  const job: DeskJob = {
    under: (plans) => {
      workshop = workshopOf(settings, plans);
      return job;
    },
    state: now,
    say: (by, text, time, acts, heard = time) => {
      const said = base(by, time);
      return take(hear(now(), { ...said, message: said.id, text }, moment(heard), acts));
    },
    tap: (by, intent, time, fields = {}) =>
      take(takeTap(now(), { ...base(by, time), intent, fields }, moment(time))),
    edit: (by, message, text, time) =>
      take(takeEdit(now(), { ...base(by, time), message, text }, moment(time))),
    remove: (by, message, time) =>
      take(takeDelete(now(), { ...base(by, time), message }, moment(time))),
    add: (...events) => {
      const all = [...now().events, ...events];
      state = { events: all, view: checkJob(now().view.plan, all, at('06:00'), around) };
    },
    look: (time) => take(tick(now(), moment(time))),
  };
  return job;
};

/** Texts of the cards posted, the job sheet left out. */
export const texts = (posts: readonly Post[]): readonly string[] =>
  posts.flatMap(({ key, card }) => (card && key !== 'sheet' ? [card.text] : []));

export const done = (step: string, more: Partial<Act> = {}): Act => ({
  kind: 'done',
  step,
  positions: [],
  assumed: [],
  span: [0, 1],
  ...more,
});
