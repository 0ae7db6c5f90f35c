// What only counts as a person's own word: a release, an override, an independent check. A device that several people
// share asks before it hands such a thing in; so it is tried here on the job as it stands, and nothing is kept of it.
import { Delivery } from '../../shared/delivery.ts';
import type { JobEvent } from '../../shared/event.ts';
import type { Person } from '../../shared/settings.ts';
import { type OpenJob, route } from '../desk/route.ts';
import { stepAt } from '../desk/say.ts';
import { takeEdit } from '../desk/turn/amend.ts';
import { hear } from '../desk/turn/hear.ts';
import { takeTap } from '../desk/turn/tap.ts';
import type { Said, Turn } from '../desk/turn/turn.ts';
import { personBehind } from '../desk/workshop.ts';
import type { JobView } from '../job/view.ts';
import { chooseMark } from './choose-mark.ts';
import type { Floor } from './floor.ts';
import type { ShelvedJob } from './job-shelf.ts';
import { localIso } from './local-iso.ts';
import { messageId } from './message-id.ts';
import { intentFrom } from './take-intent.ts';

const OWN: Readonly<Partial<Record<JobEvent['kind'], string>>> = {
  'hold-released': 'A release',
  'hold-refused': 'Refusing a release',
  'flag-overridden': 'An override',
  'finding-settled': 'Settling a finding',
  'road-released': 'A release to the road',
  'job-cancelled': 'Cancelling a job',
  'job-reopened': 'Opening a job again',
};

/** A state of an independent check that this turn brought about. */
const checkDone = (before: JobView, after: JobView): string | undefined => {
  const key = ({ step, position }: { step: string; position: string | null }): string =>
    `${step}|${position ?? ''}`;
  const was = new Map(before.steps.map((each) => [key(each), each.messages.length]));
  const found = after.steps.find(
    (each) =>
      (after.plan.stepById.get(each.step)?.check?.length ?? 0) > 0 &&
      each.messages.length > (was.get(key(each)) ?? 0),
  );
  return found && `The independent check "${stepAt(after, found.step, found.position)}"`;
};

const ownWord = (before: ShelvedJob, turn: Turn): string | undefined =>
  turn.events.map(({ kind }) => OWN[kind]).find((words) => words !== undefined) ??
  checkDone(before.state.view, turn.state.view);

/** @param jobOf the job whose thread a delivery belongs to */
export const ownWordIn = async (
  floor: Floor,
  jobOf: (delivery: Delivery) => Promise<string | undefined>,
  delivery: Delivery,
): Promise<string | undefined> => {
  const { settings } = floor.workshop;
  const person = personBehind(settings, delivery.channel, delivery.person);
  if (!person) return undefined;
  const tried = async (
    job: string | undefined,
    turn: (known: ShelvedJob, moment: Awaited<ReturnType<Floor['momentFor']>>) => Turn,
  ): Promise<string | undefined> => {
    const known = job === undefined ? undefined : await floor.legible(job);
    if (!known || job === undefined) return undefined;
    const moment = await floor.momentFor(job, known.state.view.opened.vehicle.name, {
      openJobs: true,
    });
    return ownWord(known, turn(known, moment));
  };
  const by = {
    id: delivery.id,
    channel: delivery.channel,
    at: localIso(delivery.at, settings.zone),
    by: person.name,
    roles: person.roles,
  };
  switch (delivery.kind) {
    case 'message': {
      const at = localIso(delivery.typed ?? delivery.at, settings.zone);
      const said: Said = { ...by, at, message: messageId(delivery), text: delivery.text };
      const job = (await jobOf(delivery)) ?? (await routed(floor, delivery.text, by.at, person));
      return tried(job, (known, moment) => hear(known.state, said, moment));
    }
    case 'edit': {
      const edit = { ...by, message: messageId(delivery), text: delivery.text };
      return tried(await jobOf(delivery), (known, moment) => takeEdit(known.state, edit, moment));
    }
    case 'tap': {
      const intent = intentFrom(delivery.intent);
      if (intent === undefined) return undefined;
      if (intent.do === 'choose-job') {
        const kept = await floor.store.mark(chooseMark(intent.delivery));
        const held = kept ? Delivery.safeParse(JSON.parse(kept)) : undefined;
        if (!held?.success || held.data.kind !== 'message') return undefined;
        const { text } = held.data;
        const said: Said = { ...by, message: messageId(held.data), text };
        return tried(intent.job, (known, moment) => hear(known.state, said, moment));
      }
      const tap = { ...by, intent, fields: delivery.fields ?? {} };
      return tried('job' in intent ? intent.job : undefined, (known, moment) =>
        takeTap(known.state, tap, moment),
      );
    }
    default:
      return undefined;
  }
};

/** The job that words said outside every thread go to. */
const routed = async (
  floor: Floor,
  text: string,
  at: string,
  person: Person,
): Promise<string | undefined> => {
  const views = await floor.viewsOf(await floor.openJobs());
  const jobs = views.map(
    (view): OpenJob => ({
      job: view.job,
      vehicle: view.opened.vehicle.name,
      plan: view.plan,
      ...(view.technician ? { technician: view.technician } : {}),
    }),
  );
  const found = route(text, at, person, jobs, floor.workshop);
  return found.kind === 'job' ? found.job : undefined;
};
