// The conversation through a channel, with the floor and a folder store behind it. Each channel brings its own door:
// how people post there. What people see is what the channel was given to show.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Settings } from '../../shared/settings.ts';
import type { Channel } from '../../src/chat/channel.ts';
import type { Action, Card } from '../../src/desk/card.ts';
import { workshopOf } from '../../src/desk/workshop.ts';
import { makeFloor, type RunningFloor } from '../../src/floor/floor.ts';
import { loadPlan } from '../../src/job/load-plan.ts';
import { jobFileStore } from '../../src/store/job-file-store.ts';
import type { MakeStage, Seen } from './stage.ts';
import { type StoppedClock, stoppedClock } from './stopped-clock.ts';

/** How people act on one channel. Ids of messages are the channel's own. */
export type Door = {
  readonly channel: Channel;
  readonly home: { readonly team: string; readonly place: string };
  readonly post: (by: string, text: string, thread: string | undefined) => Promise<string>;
  readonly edit: (
    by: string,
    message: string,
    text: string,
    thread: string | undefined,
  ) => Promise<void>;
  readonly remove: (by: string, message: string, thread: string | undefined) => Promise<void>;
  readonly tap: (
    by: string,
    action: Action,
    message: string,
    fields: Readonly<Record<string, string>>,
    thread: string | undefined,
  ) => Promise<void>;
  /** Waits until a post is seen by a person; for doors that have something to look at. */
  readonly shows?: (by: string, message: string, thread: string | undefined) => Promise<void>;
  readonly end?: () => Promise<void>;
};

export type MakeDoor = (parts: {
  readonly folder: string;
  readonly clock: StoppedClock;
  readonly settings: Settings;
  readonly running: () => RunningFloor;
}) => Promise<Door>;

/** Where a bot can put no sign on a message, the job sheet names the message that was noted last. */
const lastNoted = (card: Card | undefined): string | undefined =>
  card?.blocks
    .flatMap((block) => (block.kind === 'facts' ? block.rows : []))
    .find(([label]) => label === 'Last noted')?.[1];

type Shown = {
  readonly message: string;
  readonly where: 'thread' | 'channel';
  readonly card: Card;
};

export const floorStage =
  (name: string, makeDoor: MakeDoor): MakeStage =>
  async (script, plan, settings, start) => {
    const folder = await mkdtemp(join(tmpdir(), 'chargehand-stage-'));
    const clock = stoppedClock(start);
    let running: RunningFloor | undefined;
    const floor = (): RunningFloor => {
      if (!running) throw new Error('The floor is not made yet.');
      return running;
    };
    const door = await makeDoor({ folder: join(folder, name), clock, settings, running: floor });
    const shown = new Map<string, Shown>();
    let fresh: Shown[] = [];
    let news = 0;
    let sign: Seen['sign'];
    let sheet: string | undefined;

    const show = (message: string, where: 'thread' | 'channel', card: Card): void => {
      const made: Shown = { message, where, card };
      shown.set(message, made);
      if (sheet === undefined) sheet = message;
      else if (message !== sheet) fresh.push(made);
    };
    const watched: Channel = {
      ...door.channel,
      post: async (place, card, key) => {
        const result = await door.channel.post(place, card, key);
        if (result.ok) {
          show(result.posted.message, place.thread === undefined ? 'channel' : 'thread', card);
          news += 1;
        }
        return result;
      },
      edit: async (posted, card) => {
        const result = await door.channel.edit(posted, card);
        if (result.ok) {
          const before = lastNoted(shown.get(posted.message)?.card);
          if (
            door.channel.showsRecorded === 'job sheet' &&
            posted.message === sheet &&
            lastNoted(card) !== before
          )
            sign = lastNoted(card) === undefined ? undefined : 'recorded';
          show(posted.message, shown.get(posted.message)?.where ?? 'thread', card);
        }
        return result;
      },
      sign: async (place, message, mark) => {
        const result = await door.channel.sign(place, message, mark);
        if (result.ok && mark !== 'unrecorded') sign = mark;
        return result;
      },
    };
    const made = makeFloor({
      store: jobFileStore(join(folder, 'jobs'), { clock: clock.now }),
      workshop: workshopOf(
        settings,
        [plan],
        script.tools.map((tool) => ({ ...tool })),
      ),
      channels: [watched],
      homes: { [door.channel.name]: door.home },
      planOf: (text, id) => loadPlan(text, id).plan,
      schedule: clock.schedule,
      clock: clock.now,
      log: (level, what, more) => {
        if (level === 'error') throw new Error(`${what}: ${JSON.stringify(more)}`);
      },
    });
    running = made;
    await made.floor.store.open();
    await made.start();

    /** Waits until everything accepted is worked off and posted, in a bounded number of looks. */
    const calm = async (): Promise<void> => {
      for (let looks = 0; looks < 400; looks += 1) {
        await made.idle();
        if (made.backlog() === 0) return;
        await new Promise((done) => setTimeout(done, 5));
      }
      throw new Error('The floor did not come to rest.');
    };
    const opener =
      script.people.find((person) => person.roles.includes('controller')) ?? script.people[0];
    const technician = script.people.find((person) => person.roles.includes('technician'));
    const words = [
      `open job ${script.job} ${script.vehicle} ${plan.title}`,
      ...script.positions,
      technician ? `tech ${technician.name}` : '',
      script.odometer ?? '',
    ].join(' ');
    await door.post(opener?.name ?? '', words, undefined);
    await calm();
    const job = await made.floor.shelved(script.job);
    const thread = job?.threads[0]?.thread;
    if (thread === undefined)
      throw new Error(
        `Job ${script.job} was not opened by "${words}". Shown: ${[...shown.values()].map(({ card }) => card.text).join(' / ')}`,
      );
    fresh = [];
    news = 0;
    sign = undefined;
    const messages = new Map<string, string>();
    const idOf = (text: string): string => {
      const known = messages.get(text);
      if (known === undefined) throw new Error(`No message "${text}" was said.`);
      return known;
    };
    const go = (at: string): Promise<void> => clock.until(at, calm);
    return {
      name,
      say: async (by, text, at) => {
        await go(at);
        messages.set(text, await door.post(by, text, thread));
        await calm();
      },
      edit: async (by, message, text, at) => {
        await go(at);
        const id = idOf(message);
        messages.set(text, id);
        await door.edit(by, id, text, thread);
        await calm();
      },
      remove: async (by, message, at) => {
        await go(at);
        await door.remove(by, idOf(message), thread);
        await calm();
      },
      tap: async (by, label, fields, at) => {
        await go(at);
        const found = [...shown.values()]
          .reverse()
          .flatMap((each) => (each.card.actions ?? []).map((action) => ({ each, action })))
          .find(({ action }) => action.label === label);
        if (!found) throw new Error(`Nothing says "${label}".`);
        await door.tap(
          by,
          found.action,
          found.each.message,
          fields,
          found.each.where === 'thread' ? thread : undefined,
        );
        await calm();
      },
      until: go,
      look: async () => {
        const now = await made.floor.shelved(script.job);
        const seen: Seen = {
          sign,
          news,
          thread: fresh.filter(({ where }) => where === 'thread').map(({ card }) => card.text),
          channel: fresh.filter(({ where }) => where === 'channel').map(({ card }) => card.text),
          offers: [...shown.values()].flatMap(({ card }) =>
            (card.actions ?? []).map((action) => action.label),
          ),
          sheet: (sheet === undefined ? undefined : shown.get(sheet)?.card.text) ?? '',
          status: now?.state.view.status ?? 'open',
        };
        if (door.shows)
          for (const { message, where } of fresh)
            await door.shows(opener?.name ?? '', message, where === 'thread' ? thread : undefined);
        fresh = [];
        news = 0;
        sign = undefined;
        return seen;
      },
      end: async () => {
        await made.stop();
        await door.end?.();
        await rm(folder, { recursive: true, force: true });
      },
    };
  };
