// Somebody who is not in the settings: answered when they look, kept when they report, recorded once a controller says so.
import { z } from 'zod';
import { Delivery } from '../../shared/delivery.ts';
import type { Person, Settings } from '../../shared/settings.ts';
import type { Card, Intent, Stranger } from '../desk/card.ts';
import { whoMaySettle } from '../desk/on-shift.ts';
import { mayDo } from '../desk/roles.ts';
import { route } from '../desk/route.ts';
import { onlyLooks, strangerCard, takenIn } from '../desk/taking-in.ts';
import { hear } from '../desk/turn/hear.ts';
import type { Said } from '../desk/turn/turn.ts';
import { personBehind } from '../desk/workshop.ts';
import { closeCard } from './close-card.ts';
import type { Floor } from './floor.ts';
import { localIso } from './local-iso.ts';
import { messageId } from './message-id.ts';
import type { OneAtATime } from './one-at-a-time.ts';
import { takeLoose } from './take-loose.ts';

export type Strangers = {
  /** @param job where it belongs, where that is known */
  readonly take: (delivery: Delivery, job: string | undefined) => Promise<void>;
  /** A controller's tap. */
  readonly settle: (
    tap: Extract<Delivery, { kind: 'tap' }>,
    intent: Extract<Intent, { do: 'take-in' | 'turn-away' }>,
    person: Person,
  ) => Promise<void>;
};

/** Writes a person into the settings; resolves to the settings with them. */
export type TakeIn = (person: Person, by: string) => Promise<Settings>;

type Parts = {
  readonly floor: () => Floor;
  readonly takeIn: TakeIn | undefined;
  readonly changed: (settings: Settings) => void;
  /** What is kept of one stranger is read and written by one thread of one process at a time. */
  readonly oneAtATime: OneAtATime;
  /** Works a delivery off as if it had come now. */
  readonly work: (delivery: Delivery) => Promise<void>;
};

/** Deliveries kept of one stranger; whoever posts more is not taken in by mistake. */
const MOST_KEPT = 200;

const Kept = z.strictObject({
  deliveries: z.array(Delivery),
  asked: z.boolean(),
  away: z.boolean(),
});
type Kept = z.infer<typeof Kept>;

const markOf = (who: Pick<Stranger, 'channel' | 'team' | 'person'>): string =>
  `stranger:${who.channel}:${who.team}:${who.person}`;

/** Whoever is not in the settings may do nothing that takes a role. */
const NOBODY: Person = { name: 'Somebody who is not in the settings', roles: [] };

type Words = Extract<Delivery, { kind: 'message' | 'command' }>;

const plain = (text: string): Card => ({ text, blocks: [{ kind: 'text', text }] });

export const strangers = ({ floor, takeIn, changed, oneAtATime, work }: Parts): Strangers => {
  const keptOf = async (who: Pick<Stranger, 'channel' | 'team' | 'person'>): Promise<Kept> => {
    const text = await floor().store.mark(markOf(who));
    const parsed = text ? Kept.safeParse(JSON.parse(text)) : undefined;
    return parsed?.success ? parsed.data : { deliveries: [], asked: false, away: false };
  };
  const keep = (who: Pick<Stranger, 'channel' | 'team' | 'person'>, kept: Kept): Promise<void> =>
    floor().store.setMark(markOf(who), JSON.stringify(kept));

  const strangerOf = async (delivery: Delivery): Promise<Stranger> => {
    const channel = floor().channels.find(({ name }) => name === delivery.channel);
    const name = await channel?.nameOf?.(delivery.person).catch(() => undefined);
    return {
      channel: delivery.channel,
      team: delivery.team,
      person: delivery.person,
      name: (name ?? '').slice(0, 60),
    };
  };

  /** The answer of a job's thread, where the words only look; whether they report something otherwise. */
  const heard = async (
    delivery: Words,
    where: string,
  ): Promise<{ readonly card?: Card; readonly reports: boolean }> => {
    const { workshop, legible, momentFor } = floor();
    const text = delivery.text.trim() === '' ? 'help' : delivery.text;
    const found = await legible(where);
    if (!found) return { reports: false };
    const said: Said = {
      id: delivery.id,
      message: `stranger-${delivery.id}`,
      channel: delivery.channel,
      at: localIso(delivery.at, workshop.settings.zone),
      by: '',
      roles: [],
      text,
    };
    // Heard as if it were recorded, for the answer alone: nothing of the turn is kept.
    const { name } = found.state.view.opened.vehicle;
    const turn = hear(found.state, said, await momentFor(where, name, { openJobs: true }));
    const acts = turn.events.flatMap((event) =>
      event.kind === 'message-read' && event.message === said.message ? event.acts : [],
    );
    if (!onlyLooks(acts)) return { reports: acts.length > 0 };
    const card = turn.posts.find((post) => post.key === `reply:${said.id}`)?.card;
    if (!card) return { reports: false };
    const { wants: _, actions: __, ...shown } = card;
    return { card: shown, reports: false };
  };

  const ask = async (delivery: Delivery, kept: boolean): Promise<void> => {
    const { workshop, clock, reply } = floor();
    const { settings, calendar } = workshop;
    const now = localIso(clock(), settings.zone);
    const may = new Set(
      settings.people.filter((person) => mayDo(person, 'take-in').ok).map(({ name }) => name),
    );
    const [first] = whoMaySettle(settings, calendar, { controller: undefined }, now).names.filter(
      (name) => may.has(name),
    );
    const stranger = await strangerOf(delivery);
    await reply(delivery, strangerCard(settings, stranger, kept, first ? [first] : []));
  };

  const onJob = async (delivery: Words, job: string): Promise<void> => {
    const { store, reply } = floor();
    const { card, reports } = await heard(delivery, job);
    if (card) {
      await reply(delivery, card);
      return store.settle(delivery.id);
    }
    const photo = delivery.kind === 'message' && (delivery.files?.length ?? 0) > 0;
    if (reports || photo) return keepReport(delivery);
    return store.settle(delivery.id);
  };

  const signAsked = async (delivery: Delivery): Promise<void> => {
    if (delivery.kind !== 'message') return;
    const { team, place, thread, message } = delivery;
    const channel = floor().channels.find(({ name }) => name === delivery.channel);
    await channel
      ?.sign({ team, place, ...(thread ? { thread } : {}) }, message, 'asked')
      .catch(() => undefined);
  };

  const keepReport = (delivery: Words): Promise<void> =>
    oneAtATime(markOf(delivery), async () => keepInTurn(delivery, await keptOf(delivery)));

  const keepInTurn = async (delivery: Words, kept: Kept): Promise<void> => {
    const { store, reply } = floor();
    if (kept.away) return store.settle(delivery.id);
    if (kept.deliveries.length >= MOST_KEPT) {
      await reply(delivery, plain('Not kept: a controller has to take this person in first.'));
      return store.settle(delivery.id);
    }
    if (!kept.deliveries.some(({ id }) => id === delivery.id)) kept.deliveries.push(delivery);
    await keep(delivery, kept);
    if (kept.asked) {
      await signAsked(delivery);
      return store.settle(delivery.id);
    }
    await ask(delivery, true);
    await keep(delivery, { ...kept, asked: true });
  };

  const take: Strangers['take'] = async (delivery, job) => {
    const { store, reply } = floor();
    const kept = await keptOf(delivery);
    if (delivery.kind === 'tap') {
      if (kept.away)
        await reply(
          delivery,
          plain('Nothing was recorded: the controller has not taken this person in.'),
        );
      else await ask(delivery, false);
      return store.settle(delivery.id);
    }
    if (delivery.kind === 'message' || delivery.kind === 'command') {
      if (job !== undefined) return onJob(delivery, job);
      const { workshop, openJobs, viewsOf } = floor();
      const jobs = (await viewsOf(await openJobs())).map((view) => ({
        job: view.job,
        vehicle: view.opened.vehicle.name,
        plan: view.plan,
      }));
      const routed = route(delivery.text, delivery.at, NOBODY, jobs, workshop);
      if (routed.kind === 'job') return onJob(delivery, routed.job);
      const reports =
        routed.kind === 'choose' ||
        routed.kind === 'no-job' ||
        (routed.kind === 'workshop' && !onlyLooks([routed.act]));
      if (reports) return keepReport(delivery);
      // Answered as anybody is; what would go to a job only looks there.
      return takeLoose(
        { ...floor(), toJob: (of, asked) => onJob(asked as Words, of) },
        delivery,
        NOBODY,
      );
    }
    // What becomes of a message that is kept is kept behind it, in order.
    if (delivery.kind === 'edit' || delivery.kind === 'delete')
      await oneAtATime(markOf(delivery), async () => {
        const now = await keptOf(delivery);
        const isKept = now.deliveries.some(
          (other) => other.kind === 'message' && messageId(other) === messageId(delivery),
        );
        if (!isKept || now.deliveries.some(({ id }) => id === delivery.id)) return;
        now.deliveries.push(delivery);
        await keep(delivery, now);
      });
    return store.settle(delivery.id);
  };

  const settle: Strangers['settle'] = async (tap, intent, person) => {
    const { store, reply, workshop } = floor();
    const say = async (text: string): Promise<void> => {
      await reply(tap, plain(text));
      await store.settle(tap.id);
    };
    /** The card itself says what came of it; where it cannot be changed, a reply does. */
    const close = async (text: string): Promise<void> =>
      (await closeCard(floor().channels, tap, text)) ? store.settle(tap.id) : say(text);
    const may = mayDo(person, 'take-in');
    if (!may.ok) return say(may.says);
    if (intent.do === 'turn-away') {
      await oneAtATime(markOf(intent), () =>
        keep(intent, { deliveries: [], asked: true, away: true }),
      );
      return close('Not taken in. What was posted is not recorded, and nobody is asked again.');
    }
    let known = personBehind(workshop.settings, intent.channel, intent.person);
    if (!known) {
      const made = takenIn(workshop.settings, intent, tap.fields ?? {});
      if (!made.ok) return say(made.says);
      if (!takeIn)
        return say(
          'The settings cannot be changed from here. Write the person into settings.yaml and start again.',
        );
      try {
        changed(await takeIn(made.person, person.name));
      } catch (error) {
        // What was kept stays kept; the tap can be repeated once the file is mended.
        floor().log('error', 'somebody could not be taken in', { why: (error as Error).message });
        return say(`${(error as Error).message} What was posted stays kept.`);
      }
      known = made.person;
    }
    const worked = new Map<string, Delivery>();
    /** What another thread kept meanwhile is there at the next look; the mark goes with the last of it. */
    const leftToWork = (): Promise<readonly Delivery[]> =>
      oneAtATime(markOf(intent), async () => {
        const now = await keptOf(intent);
        const left = now.deliveries.filter(({ id }) => !worked.has(id));
        if (left.length === 0) await store.setMark(markOf(intent), '');
        return left;
      });
    for (let left = await leftToWork(); left.length > 0; left = await leftToWork())
      for (const delivery of left) {
        await work(delivery);
        worked.set(delivery.id, delivery);
      }
    const count = [...worked.values()].filter(({ kind }) => kind === 'message').length;
    return close(
      `${known.name} is in the settings now, as ${known.roles.join(' and ')}.${count > 0 ? ` What was kept (${count}) is recorded as far as it reports something.` : ''}`,
    );
  };

  return { take, settle };
};
