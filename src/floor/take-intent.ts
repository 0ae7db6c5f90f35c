// A tap or a filled form. The intent travelled through a platform and back, so it is read strictly.
import { z } from 'zod';
import type { Delivery } from '../../shared/delivery.ts';
import type { Person } from '../../shared/settings.ts';
import type { Intent } from '../desk/card.ts';
import { openingFromFields } from '../desk/opening/open-job.ts';
import { takeTap } from '../desk/turn/tap.ts';
import { closeCard } from './close-card.ts';
import type { Floor } from './floor.ts';
import { localIso } from './local-iso.ts';
import { takeChoice } from './set-aside.ts';
import { openByWords } from './take-loose.ts';

const job = z.string().max(40);
const position = z.string().max(60).nullable();
const step = z.string().max(80);
const flag = z.string().max(300);

const IntentForm = z.discriminatedUnion('do', [
  z.strictObject({
    do: z.literal('answer'),
    job,
    question: z.string().max(500),
    choice: z.number().int().min(0).max(9).nullable(),
  }),
  z.strictObject({
    do: z.literal('report'),
    job,
    step,
    position,
    ask: z.string().max(60).optional(),
  }),
  z.strictObject({
    do: z.enum(['release', 'refuse']),
    job,
    step,
    position,
    asked: z.literal(true).optional(),
  }),
  z.strictObject({ do: z.enum(['override', 'acknowledge']), job, flag }),
  z.strictObject({
    do: z.literal('settle-finding'),
    job,
    message: z.string().max(300),
    settle: z.enum(['approved', 'declined']),
  }),
  z.strictObject({ do: z.literal('open-job') }),
  z.strictObject({ do: z.enum(['close-job', 'cancel-job']), job }),
  z.strictObject({ do: z.literal('choose-job'), delivery: z.string().max(300), job }),
  z.strictObject({
    do: z.enum(['take-in', 'turn-away']),
    channel: z.enum(['bench', 'slack', 'teams']),
    team: z.string().max(60),
    person: z.string().max(120),
    name: z.string().max(120),
  }),
  z.strictObject({ do: z.literal('say'), job: job.optional(), text: z.string().max(2000) }),
]);

/** @returns undefined where the words of a tap do not fit; the card was not ours */
export const intentFrom = (text: string): Intent | undefined => {
  try {
    const parsed = IntentForm.safeParse(JSON.parse(text));
    return parsed.success ? (parsed.data as Intent) : undefined;
  } catch {
    return undefined;
  }
};

export const takeIntent = async (
  floor: Floor,
  delivery: Extract<Delivery, { kind: 'tap' }>,
  person: Person,
): Promise<void> => {
  const intent = intentFrom(delivery.intent);
  const say = async (text: string): Promise<void> => {
    await floor.reply(delivery, { text, blocks: [{ kind: 'text', text }] });
    await floor.store.settle(delivery.id);
  };
  if (!intent) return say('This button is not understood any more. Type what you meant.');
  if (intent.do === 'open-job') {
    const { opening, problems } = openingFromFields(
      delivery.fields ?? {},
      await floor.momentFor(undefined, undefined),
    );
    return openByWords(floor, delivery, opening, person, problems);
  }
  if (intent.do === 'choose-job') return takeChoice(floor, delivery, intent, person);
  if (intent.do === 'take-in' || intent.do === 'turn-away')
    return floor.strangers.settle(delivery, intent, person);
  if (intent.do === 'say' && intent.job === undefined) return say('Type it in the channel.');
  const known = intent.job === undefined ? undefined : await floor.legible(intent.job);
  if (!known || intent.job === undefined)
    return say(
      `Job ${String(intent.job).slice(0, 30)} is not known. Ask "open jobs" for those that are open.`,
    );
  const tap = {
    id: delivery.id,
    channel: delivery.channel,
    at: localIso(delivery.at, floor.workshop.settings.zone),
    by: person.name,
    roles: person.roles,
    intent,
    fields: delivery.fields ?? {},
  };
  await floor.onJob(intent.job, delivery, (before, moment) => takeTap(before.state, tap, moment));
  if ((intent.do === 'release' || intent.do === 'refuse') && intent.asked) {
    const hold = (await floor.legible(intent.job))?.state.view.holds.find(
      (each) => each.step === intent.step && each.position === intent.position,
    );
    if (hold?.by && (hold.state === 'released' || hold.state === 'refused'))
      await closeCard(
        floor.channels,
        delivery,
        `${hold.state === 'released' ? 'Released' : 'Refused'} by ${hold.by}.`,
      );
  }
};
