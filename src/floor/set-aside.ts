// Messages that wait until somebody says which job they belong to: asked by a card, or by the form behind a shortcut.
import { Delivery } from '../../shared/delivery.ts';
import type { Person } from '../../shared/settings.ts';
import type { Form, Intent } from '../desk/card.ts';
import { chooseJobForm } from '../desk/choose-job-form.ts';
import { mayMove } from '../desk/roles.ts';
import { personBehind } from '../desk/workshop.ts';
import type { JobStore } from '../store/job-store.ts';
import { chooseMark } from './choose-mark.ts';
import { closeCard } from './close-card.ts';
import type { Floor } from './floor.ts';
import { messageId } from './message-id.ts';

type Choice = Extract<Intent, { do: 'choose-job' }>;

/** Keeps a message on disk until its job is chosen. */
export const setAside = (store: JobStore, id: string, delivery: Delivery): Promise<void> =>
  store.setMark(chooseMark(id), JSON.stringify(delivery));

/** The form with the open jobs; undefined where none is open or the person is not in the settings. */
export const formToChoose = async (
  floor: Floor,
  person: string,
  channel: Delivery['channel'],
): Promise<Form | undefined> => {
  if (!personBehind(floor.workshop.settings, channel, person)) return undefined;
  return chooseJobForm(await floor.openJobs());
};

/** The job whose record a message is on already, open or not. */
const recordedOn = async (
  floor: Floor,
  delivery: Extract<Delivery, { kind: 'message' }>,
): Promise<string | undefined> => {
  const id = messageId(delivery);
  for (const { job } of await floor.openJobs()) {
    const found = await floor.legible(job);
    const there = found?.state.events.some(
      (event) => event.kind === 'message-posted' && event.message === id,
    );
    if (there) return job;
  }
  return undefined;
};

/** A tap on "Which job is this for?", or the filled form of the shortcut. */
export const takeChoice = async (
  floor: Floor,
  tap: Extract<Delivery, { kind: 'tap' }>,
  intent: Choice,
  person: Person,
): Promise<void> => {
  const { store } = floor;
  const say = async (text: string): Promise<void> => {
    await floor.reply(tap, { text, blocks: [{ kind: 'text', text }] });
    await store.settle(tap.id);
  };
  const kept = await store.mark(chooseMark(intent.delivery));
  const parsed = kept ? Delivery.safeParse(JSON.parse(kept)) : undefined;
  if (!parsed?.success || parsed.data.kind !== 'message')
    return say('That message was put under a job already, or its writer has deleted it.');
  const message = parsed.data;
  const field = tap.fields?.job;
  const job = intent.job || (typeof field === 'string' ? field : (field?.[0] ?? ''));
  if (!(await floor.openJobs()).some((entry) => entry.job === job))
    return say(
      `Job ${job.slice(0, 30)} is not open, so the message is not recorded. Ask "open jobs" for those that are.`,
    );
  const writer = personBehind(floor.workshop.settings, message.channel, message.person);
  if (!writer) {
    // Kept with what else they posted, until a controller says who it is.
    await floor.strangers.take({ ...message, thread: message.thread ?? message.message }, job);
    await store.setMark(chooseMark(intent.delivery), '');
    return store.settle(tap.id);
  }
  const may = mayMove(person, [writer.name]);
  if (!may.ok) return say(may.says);
  const there = await recordedOn(floor, message);
  if (there !== undefined && there !== job)
    return say(
      `That message is on the record of job ${there} already. To move it, write "that was for ${job}" behind it.`,
    );
  await floor.toJob(job, message, writer);
  await store.setMark(chooseMark(intent.delivery), '');
  // From the form of the shortcut there is no card to close: its message is that of a person.
  if (intent.job) await closeCard(floor.channels, tap, `Recorded under job ${job}.`);
  return store.settle(tap.id);
};
