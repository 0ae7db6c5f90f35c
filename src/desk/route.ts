// Which job a message belongs to that was posted outside a job's thread.
import type { Act } from '../../shared/reading.ts';
import type { Plan } from '../job/plan.ts';
import { readMessage } from '../language/read.ts';
import { askedKnownOf } from './asking/answer-asked.ts';
import type { Asked } from './asking/asked.ts';
import { workshopAsked } from './asking/workshop-asked.ts';
import type { Card } from './card.ts';
import { chooseJobForm } from './choose-job-form.ts';
import { bookingSaid } from './orders/booking-said.ts';
import { orderOf } from './orders/order-of.ts';
import { personNamed, type Workshop } from './workshop.ts';

/** What routing needs to know of an open job. */
export type OpenJob = {
  readonly job: string;
  readonly vehicle: string;
  readonly technician?: string;
  readonly plan: Plan;
};

export type Route =
  | { readonly kind: 'job'; readonly job: string }
  /** A question about the workshop as a whole. */
  | { readonly kind: 'question'; readonly asked: Asked }
  /** It names a job that is not open. */
  | { readonly kind: 'not-open'; readonly job: string }
  /** A command that needs no job. */
  | { readonly kind: 'workshop'; readonly act: Act }
  | { readonly kind: 'choose'; readonly jobs: readonly OpenJob[] }
  /** A report, but no job of theirs is open. */
  | { readonly kind: 'no-job' }
  | { readonly kind: 'talk' };

const WITHOUT_JOB: ReadonlySet<string> = new Set([
  'open-job',
  'open-jobs',
  'late',
  'waiting',
  'help',
  'last-week',
  'history',
]);

/** The empty plan: its words are the language's own, for commands that concern no job. */
export const NO_PLAN: Plan = {
  plan: 'none',
  title: 'No plan',
  machine: 'none',
  notice: '',
  steps: [],
  hash: 'none',
  text: '',
  stepById: new Map(),
  watchedById: new Map(),
  before: new Map(),
  behind: new Map(),
  setOf: new Map(),
};

/** "#1042", "job 1042", "on 1042", "1042: …" where 1042 is an open job. */
export const jobNamed = (
  text: string,
  jobs: readonly { readonly job: string }[],
): string | undefined => {
  const head = text.slice(0, 400);
  const pattern =
    /(?:#\s*|\bjob\s*(?:no\.?|number|#)?\s*|\bon\s+|\bfor\s+|^)([A-Za-z0-9][A-Za-z0-9-]{1,19})\b/giu;
  for (const match of head.matchAll(pattern)) {
    const found = jobs.find(({ job }) => job.toLowerCase() === match[1]?.toLowerCase());
    if (found) return found.job;
  }
  return undefined;
};

/** Hours booked in the channel: on the job they name, else on the writer's only job. */
const bookingRoute = (
  text: string,
  at: string,
  writer: string,
  jobs: readonly OpenJob[],
  { settings, calendar }: Workshop,
): Route | undefined => {
  const known = {
    at,
    zone: settings.zone,
    calendar,
    jobs: jobs.map(({ job }) => job),
    person: (name: string) => personNamed(settings, name)?.name,
  };
  const named = bookingSaid(text, known)?.[0]?.job;
  if (named !== undefined) return { kind: 'job', job: named };
  const own = jobs.filter((job) => job.technician === writer);
  if (own[0] === undefined || !bookingSaid(text, { ...known, job: own[0].job })) return undefined;
  return own.length === 1 ? { kind: 'job', job: own[0].job } : { kind: 'choose', jobs: own };
};

/** "#9999 drained 5 L", "job 9999: …": a number at the head that is no open job. */
const notOpen = (text: string, numbers: readonly string[]): string | undefined => {
  const named = /^\s*(?:#|job\s+#?)(\d{2,8})\b(?=.*\S)/iu.exec(text)?.[1];
  return named !== undefined && !numbers.includes(named) ? named : undefined;
};

const tells = (act: Act): boolean => act.kind !== 'asks' || act.command !== undefined;

const reads = (text: string, plan: Plan, workshop: Workshop, at: string): boolean =>
  readMessage(text, workshop.lexiconOf(plan), {
    at,
    people: workshop.settings.people.map((person) => ({
      name: person.name,
      ...(person.also ? { also: person.also } : {}),
    })),
  }).acts.some(tells);

/**
 * @param person name of the writer
 * @param jobs all open jobs
 */
export const route = (
  text: string,
  at: string,
  person: { readonly name: string; readonly roles: readonly string[] },
  jobs: readonly OpenJob[],
  workshop: Workshop,
): Route => {
  const numbers = jobs.map(({ job }) => job);
  const asked = workshopAsked(text, askedKnownOf(workshop, person.name, numbers));
  if (asked) return { kind: 'question', asked };
  const booked = bookingRoute(text, at, person.name, jobs, workshop);
  if (booked) return booked;
  const unknown = notOpen(text, numbers);
  if (unknown !== undefined) return { kind: 'not-open', job: unknown };
  const command = readMessage(text, workshop.lexiconOf(NO_PLAN), { at }).acts.find(
    (act) => act.command !== undefined && WITHOUT_JOB.has(act.command),
  );
  const order = orderOf(text, {
    jobs: jobs.map(({ job }) => job),
    person: (name) => personNamed(workshop.settings, name)?.name,
    odometerAsked: false,
  });
  // The number in "that was for 1043" is where the message belongs, not where this is said.
  const moves = order?.command === 'move-message' || order?.command === 'merge-job';
  const named = moves ? undefined : (order?.job ?? jobNamed(text, jobs));
  if (command && (command.command === 'open-job' || named === undefined))
    return { kind: 'workshop', act: command };
  if (named !== undefined) return { kind: 'job', job: named };
  const own = jobs.filter(
    (job) => job.technician === person.name && !(moves && job.job === order.job),
  );
  const [only] =
    own.length > 0 ? own : jobs.length === 1 && person.roles.includes('controller') ? jobs : [];
  if (order && only && own.length <= 1) return { kind: 'job', job: only.job };
  if (order && (own.length > 1 || person.roles.includes('controller'))) {
    const among = (own.length > 1 ? own : jobs).filter((job) => !(moves && job.job === order.job));
    if (among.length > 0) return { kind: 'choose', jobs: among };
  }
  if (only && own.length <= 1)
    return reads(text, only.plan, workshop, at) ? { kind: 'job', job: only.job } : { kind: 'talk' };
  const fits = (own.length > 0 ? own : jobs).filter((job) => reads(text, job.plan, workshop, at));
  if (fits.length > 0) return { kind: 'choose', jobs: fits };
  if (
    jobs.length === 0 &&
    [...workshop.plans.values()].some((plan) => reportsOn(text, plan, workshop, at))
  )
    return { kind: 'no-job' };
  return { kind: 'talk' };
};

const reportsOn = (text: string, plan: Plan, workshop: Workshop, at: string): boolean =>
  readMessage(text, workshop.lexiconOf(plan), { at }).acts.some(
    (act) => act.kind === 'done' && act.step !== undefined,
  );

/** "Which job is this for?" with a button for each. */
export const chooseJobCard = (text: string, jobs: readonly OpenJob[], delivery: string): Card => {
  const short = text.length > 60 ? `${text.slice(0, 57)}…` : text;
  const asks = `Which job is "${short.replace(/\s+/gu, ' ')}" for?`;
  const shown = jobs.slice(0, 5);
  const left = jobs.length - shown.length;
  const form = chooseJobForm(jobs);
  const more =
    left > 0 ? ` ${left} more: write the number in front, such as "#${jobs[5]?.job ?? ''} …".` : '';
  return {
    text: `${asks} ${shown.map((job) => `${job.job} (${job.vehicle})`).join(', ')}.${more}`,
    blocks: [{ kind: 'text', text: `${asks}${more}` }],
    actions: [
      ...shown.map((job) => ({
        label: `${job.job}, ${job.vehicle}`,
        weight: 'main' as const,
        intent: { do: 'choose-job' as const, delivery, job: job.job },
      })),
      ...(left > 0 && form
        ? [
            {
              label: 'Another job',
              weight: 'plain' as const,
              intent: { do: 'choose-job' as const, delivery, job: '' },
              form,
            },
          ]
        : []),
    ],
  };
};
