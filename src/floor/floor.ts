// The floor: takes deliveries from the channels, keeps them, hands them to the desk job by job, and posts what it says.
import type { Delivery } from '../../shared/delivery.ts';
import type { Person, Settings } from '../../shared/settings.ts';
import type { Channel, Intake } from '../chat/channel.ts';
import { foundBy } from '../desk/answers/history.ts';
import type { Needs } from '../desk/asking/answer-asked.ts';
import type { Card, Post } from '../desk/card.ts';
import { formOf } from '../desk/forms.ts';
import { tick } from '../desk/turn/tick.ts';
import type { Moment, Turn } from '../desk/turn/turn.ts';
import { personBehind, type Workshop } from '../desk/workshop.ts';
import type { Plan } from '../job/plan.ts';
import type { JobView } from '../job/view.ts';
import { REPORTS } from '../report/reports.ts';
import type { Schedule } from '../schedule/timers.ts';
import type { IndexEntry, JobStore, OutboxEntry, ThreadRef } from '../store/job-store.ts';
import { aroundVehicle, closedLately, surroundings } from './around.ts';
import { type Crew, makeCrew } from './crew.ts';
import { fileTrouble, legibleJobs } from './damaged-jobs.ts';
import { filePosts } from './files-out.ts';
import { floorIndex } from './floor-index.ts';
import { type FollowUps, followUps } from './follow-ups.ts';
import { heardIn } from './heard-in.ts';
import { homeFor } from './home.ts';
import { indexEntryOf, jobShelf, type ShelvedJob } from './job-shelf.ts';
import { joinChannel } from './join-channel.ts';
import { liveWorkshop } from './live-workshop.ts';
import { localIso } from './local-iso.ts';
import { makeFiles, type Print } from './make-files.ts';
import { messageId } from './message-id.ts';
import { oneAtATime } from './one-at-a-time.ts';
import { type Backlog, type Home, outbox as makeOutbox, type Outbox } from './outbox.ts';
import { ownWordIn } from './own-word.ts';
import { pastJobsFor } from './past-jobs.ts';
import { pastPaces } from './past-paces.ts';
import { homeMark, placeFromText, placeOf, placeRead } from './places.ts';
import { queues } from './queues.ts';
import { type Outside, sayOutside } from './say-outside.ts';
import { formToChoose, setAside } from './set-aside.ts';
import { shiftNotes } from './shift-notes.ts';
import { strangers as makeStrangers, type Strangers, type TakeIn } from './strangers.ts';
import { takeIntent } from './take-intent.ts';
import { takeLoose } from './take-loose.ts';
import { takeMessage } from './take-message.ts';
import { takeRoll } from './take-roll.ts';
import { takeSign } from './take-sign.ts';
import { trail as makeTrail, type Step } from './trail.ts';
import { turnstile } from './turnstile.ts';

export type FloorOptions = {
  readonly store: JobStore;
  readonly workshop: Workshop;
  readonly channels: readonly Channel[];
  /** Where a channel shows jobs and stops that began elsewhere. */
  readonly homes: Readonly<Partial<Record<Delivery['channel'], Home>>>;
  readonly planOf: (text: string, id: string) => Plan | undefined;
  readonly schedule: Schedule;
  readonly clock: () => string;
  readonly log: (level: 'info' | 'warn' | 'error', what: string, more?: object) => void;
  /** Writes somebody into the settings; without it nobody is taken in by a tap. */
  readonly takeIn?: TakeIn;
  /** Looks for people whom another process took in, before somebody is taken for a stranger. */
  readonly lookForPeople?: () => Promise<void>;
  /** Prints papers as PDF; without it they are sent in their other forms. */
  readonly print?: Print;
  /** Told of each step on a message's way, for counting. */
  readonly watch?: (step: Step) => void;
};

/** Seconds for which a `skipped` is held back in a channel, so that two messages sent together raise nothing. */
export const HOLD_BACK_SECONDS = 20;
const SWEEP_MILLISECONDS = 5 * 60_000;
/** Seconds for which a stop waits for posts that are still to go out; the rest goes out after the next start. */
const STOP_SECONDS = 8;

/** What the parts of the floor use of each other. */
export type Floor = FloorOptions & {
  readonly openJobs: () => Promise<readonly IndexEntry[]>;
  readonly shelved: (job: string) => Promise<ShelvedJob | undefined>;
  /** The same, but undefined where the job's file cannot be read; the controller is told. */
  readonly legible: (job: string) => Promise<ShelvedJob | undefined>;
  readonly viewsOf: (entries: readonly IndexEntry[]) => Promise<readonly JobView[]>;
  readonly momentFor: (
    job: string | undefined,
    vehicle: string | undefined,
    more?: { readonly openJobs?: boolean; readonly needs?: Needs },
  ) => Promise<Moment>;
  /** Runs one turn of a job in its queue: decide, append, post. */
  readonly onJob: (
    job: string,
    delivery: Delivery | undefined,
    decide: (shelved: ShelvedJob, moment: Moment) => Turn & { readonly needs?: Needs },
  ) => Promise<void>;
  readonly newJob: (
    job: string,
    delivery: Delivery,
    decide: (moment: Moment) => Turn,
    /** For what other open jobs on it have opened. */
    vehicle?: string,
  ) => Promise<boolean>;
  /** Answers where it was said, for what concerns no job. */
  readonly reply: (delivery: Delivery, card: Card) => Promise<void>;
  /** Says a card to the person behind a delivery alone, where the platform can; it settles nothing. */
  readonly replyAlone: (delivery: Delivery, card: Card) => Promise<void>;
  /** Numbers of all jobs, closed ones too. */
  readonly jobNumbers: () => readonly string[];
  readonly toJob: (job: string, delivery: Delivery, person: Person) => Promise<void>;
  readonly strangers: Strangers;
  /** Says a card somewhere, once for a key. */
  readonly say: Outside['say'];
  /** Says a card to each controller directly, on the channel of the delivery that brought it about. */
  readonly tellControllers: (delivery: Delivery, card: Card) => Promise<void>;
};

export type RunningFloor = {
  readonly intake: Intake;
  readonly start: () => Promise<void>;
  readonly stop: () => Promise<void>;
  readonly floor: Floor;
  readonly backlog: () => number;
  readonly backlogs: () => readonly Backlog[];
  /** Resolves when every accepted delivery is worked off. */
  readonly idle: () => Promise<void>;
  readonly onChange: (listener: (job: string) => void) => () => void;
  /** A job was changed on the disk by others than the floor: it is read again when it is next needed. */
  readonly forget: (job: string) => void;
  /** Somebody was taken in by another process: from now on everybody sees them. */
  readonly changeSettings: (settings: Settings) => void;
};

export const makeFloor = (options: FloorOptions): RunningFloor => {
  const { store, clock, log, schedule } = options;
  const { workshop, change } = liveWorkshop(options.workshop);
  const channels = new Map(options.channels.map((channel) => [channel.name, channel]));
  const lanes = queues();
  const trail = makeTrail(log, options.watch);
  const shelf = jobShelf(store, options.planOf);
  let shared = surroundings(workshop.settings, workshop.tools);
  const listeners = new Set<(job: string) => void>();
  const onChange = (listener: (job: string) => void): (() => void) => {
    listeners.add(listener);
    return () => void listeners.delete(listener);
  };
  const index = floorIndex();
  const gate = turnstile();
  let newOutbox: ((seed: readonly OutboxEntry[]) => Outbox) | undefined;
  let later: FollowUps | undefined;
  let stopping = false;

  const openEntries = index.open;

  const changeSettings = (settings: Settings): void => {
    change(settings);
    shared = surroundings(settings, workshop.tools);
  };

  /** Times in the record carry the workshop's own offset, so that what is shown from them is its time of day. */
  const local = (iso: string): string => localIso(iso, workshop.settings.zone);

  const shelved = (job: string): Promise<ShelvedJob | undefined> =>
    shelf.get(job, shared, local(clock()));

  const outside = sayOutside({
    store,
    lanes,
    clock,
    homes: options.homes,
    channels,
    post: (entries) => crew.outbox()?.add(entries),
  });
  const legible = legibleJobs({ shelved, tell: outside.tell, log });

  const viewsOf = async (entries: readonly IndexEntry[]): Promise<readonly JobView[]> => {
    const views: JobView[] = [];
    for (const entry of entries) {
      const found = await legible(entry.job);
      if (found) views.push(found.state.view);
    }
    return views;
  };

  const past = pastPaces({ index: index.all, viewsOf, settings: workshop.settings });

  const withOpenJobs = async (
    open: readonly IndexEntry[],
  ): Promise<Pick<Moment, 'openJobs' | 'paces'>> => {
    const openJobs = await viewsOf(open);
    return { openJobs, paces: await past(new Set(openJobs.map(({ plan }) => plan.plan))) };
  };

  const foundLately = async (job: string, vehicle: string) => {
    const { openedAt } = index.get(job) ?? { openedAt: clock() };
    const days = workshop.settings['back-again-days'];
    const lately = closedLately(index.onVehicle(vehicle), { job, vehicle }, days, openedAt);
    return new Map((await viewsOf(lately)).map((view) => [view.job, foundBy(view)]));
  };

  const momentFor: Floor['momentFor'] = async (job, vehicle, more) => {
    const open = openEntries();
    const beside =
      vehicle === undefined
        ? []
        : index.onVehicle(vehicle).filter((entry) => entry.job !== job && entry.status === 'open');
    return {
      workshop,
      now: local(clock()),
      around:
        vehicle === undefined || job === undefined
          ? shared
          : aroundVehicle(
              shared,
              { job, vehicle },
              index.onVehicle(vehicle),
              await viewsOf(beside),
              await foundLately(job, vehicle),
            ),
      ...(more?.openJobs || more?.needs ? await withOpenJobs(open) : {}),
      ...(more?.needs ? { pastJobs: await pastJobsFor(index.all(), more.needs, viewsOf) } : {}),
      reports: REPORTS,
      jobNumbers: index.numbers(),
      holdBack: HOLD_BACK_SECONDS,
    };
  };

  const withFiles = makeFiles({
    store,
    print: options.print,
    settings: () => workshop.settings,
    now: () => local(clock()),
    log,
  });

  const entriesFor = (job: string, turn: string, posts: readonly Post[]): readonly OutboxEntry[] =>
    posts.flatMap((post, number) =>
      [...channels.keys()]
        .filter((name) => post.sign === undefined || post.sign.message.startsWith(`${name}:`))
        .filter((name) => post.to.where !== 'reply' || post.to.delivery.startsWith(`${name}|`))
        .map(
          (name): OutboxEntry => ({
            id: `${name}|${turn}|${number}|${post.key}`,
            job,
            channel: name,
            post,
            madeAt: clock(),
            tries: 0,
            state: 'waiting',
          }),
        )
        .flatMap((entry) => [
          entry,
          ...filePosts(post, channels.get(entry.channel)).map((file) => ({
            ...entry,
            id: `${entry.channel}|${turn}|${number}|${file.key}`,
            post: file,
          })),
        ]),
    );

  const lookAgain = (job: string, again: string | undefined): void => {
    if (again === undefined) return;
    schedule.at(`job:${job}`, again, () => look(job));
  };

  const written = async (
    job: string,
    turn: Turn,
    before: ShelvedJob | undefined,
    delivery: Delivery | undefined,
    home: readonly ThreadRef[] = [],
  ): Promise<boolean> => {
    const threads = [...(before?.threads ?? []), ...home];
    const posts = await withFiles(turn.posts, turn.state.view, shared);
    const entries = entriesFor(job, delivery?.id ?? `tick:${clock()}`, posts);
    if (turn.events.length === 0 && entries.length === 0) {
      if (delivery) await store.settle(delivery.id);
      lookAgain(job, turn.again);
      return true;
    }
    const entry = indexEntryOf(turn.state, threads);
    const result = await store.append({
      job,
      expected: before?.version ?? 0,
      events: turn.events,
      outbox: entries,
      index: entry,
      ...(delivery ? { settles: delivery.id } : {}),
    });
    if (!result.ok) return false;
    shelf.put(job, {
      state: turn.state,
      version: result.version,
      threads,
      posts: before?.posts ?? [],
    });
    index.set(entry);
    trail.recorded(delivery?.id ?? `tick:${clock()}`, job, turn.events.length, entries.length);
    crew.outbox()?.add(entries);
    lookAgain(job, turn.again);
    await later?.note(turn.state.view);
    lookBeside(before?.state.view, turn.state.view);
    for (const listener of listeners) listener(job);
    return true;
  };

  /** What one job makes of the vehicle bears on the other open jobs on it, and on follow-ups by distance. */
  const lookBeside = (before: JobView | undefined, now: JobView): void => {
    const told = (view: JobView | undefined): string =>
      JSON.stringify([
        view?.status,
        view?.opened.vehicle.name,
        view?.opened.reading,
        view?.vehicleState,
      ]);
    if (told(before) === told(now)) return;
    const names = [now.opened.vehicle.name, before?.opened.vehicle.name];
    if (before && before.opened.vehicle.name !== now.opened.vehicle.name) look(now.job);
    const kept = new Set(later?.jobs() ?? []);
    const beside = names.flatMap((name) => (name ? index.onVehicle(name) : []));
    for (const job of new Set(beside.map((entry) => entry.job)))
      if (job !== now.job && (index.get(job)?.status === 'open' || kept.has(job))) look(job);
  };

  const followed = (): readonly IndexEntry[] =>
    (later?.jobs() ?? []).flatMap((job) => index.get(job) ?? []);

  const look = (job: string): void =>
    void onJob(job, undefined, (now, moment) => tick(now.state, moment)).catch((error: Error) =>
      log('error', 'a look at a job failed', { job, why: error.message }),
    );

  const onJob: Floor['onJob'] = (job, delivery, decide) =>
    lanes.run(`job:${job}`, async () => {
      for (let tries = 0; tries < 5; tries += 1) {
        // Reading a job that is not in memory checks it too.
        await gate.pass();
        const before = await shelved(job);
        if (!before) {
          if (delivery) await store.settle(delivery.id);
          return;
        }
        const vehicle = before.state.view.opened.vehicle.name;
        const moment = await momentFor(job, vehicle);
        await gate.pass();
        let turn = decide(before, moment);
        if (turn.needs) turn = decide(before, await momentFor(job, vehicle, { needs: turn.needs }));
        if (await written(job, turn, before, delivery)) return;
        shelf.drop(job);
      }
      throw new Error(`Job ${job} changed under every attempt to write it.`);
    });

  const newJob: Floor['newJob'] = (job, delivery, decide, vehicle) =>
    lanes.run(`job:${job}`, async () => {
      const spot = { team: delivery.team, place: delivery.place };
      await store.setMark(homeMark(job, delivery.channel), JSON.stringify(spot));
      return written(job, decide(await momentFor(job, vehicle)), undefined, delivery);
    });

  const floor: Floor = {
    ...options,
    workshop,
    openJobs: async () => openEntries(),
    shelved,
    legible,
    viewsOf,
    momentFor,
    onJob,
    newJob,
    reply: outside.reply,
    say: outside.say,
    replyAlone: (delivery, card) =>
      outside.say(
        `alone:${delivery.id}`,
        delivery.channel,
        { team: delivery.team, place: delivery.place, person: delivery.person },
        card,
      ),
    jobNumbers: index.numbers,
    toJob: (job, delivery, person) => takeMessage(floor, job, delivery, person),
    strangers: makeStrangers({
      floor: () => floor,
      takeIn: options.takeIn,
      changed: changeSettings,
      oneAtATime: oneAtATime(lanes, store.shared),
      work: (delivery) => work(delivery),
    }),
    tellControllers: async (delivery, card) => {
      const channel = channels.get(delivery.channel);
      for (const person of workshop.settings.people) {
        const id = delivery.channel === 'bench' ? undefined : person[delivery.channel];
        const place = id && channel?.direct?.(delivery.team, id);
        if (place && person.roles.includes('controller'))
          await outside.say(`told:${delivery.id}:${id}`, delivery.channel, place, card);
      }
    },
  };

  /** The job whose thread or log a delivery belongs to, if any. */
  const jobOf = async (delivery: Delivery): Promise<string | undefined> => {
    if (delivery.thread) {
      const known = await store.jobOfThread(
        delivery.channel,
        delivery.team,
        delivery.place,
        delivery.thread,
      );
      if (known) return known;
    }
    if (delivery.kind !== 'edit' && delivery.kind !== 'delete') return undefined;
    const message = messageId(delivery);
    for (const entry of openEntries()) {
      const found = await legible(entry.job);
      if (
        found?.state.events.some(
          (event) => event.kind === 'message-posted' && event.message === message,
        )
      )
        return entry.job;
    }
    return undefined;
  };

  const work = async (delivery: Delivery): Promise<void> => {
    if (delivery.kind === 'roll') return takeRoll(floor, delivery);
    const behind = () => personBehind(workshop.settings, delivery.channel, delivery.person);
    if (!behind()) await options.lookForPeople?.();
    const person = behind();
    if (!person) {
      const job = await jobOf(delivery);
      if (delivery.channel !== 'bench') return floor.strangers.take(delivery, job);
      if (job !== undefined || delivery.kind === 'tap' || delivery.kind === 'command') {
        const who =
          delivery.channel === 'bench' ? `"${delivery.person.slice(0, 40)}"` : 'This person';
        const text = `${who} is not in the workshop's settings, so nothing was recorded. Ask the controller to add the name.`;
        await outside.reply(delivery, { text, blocks: [{ kind: 'text', text }] });
      }
      await store.settle(delivery.id);
      return;
    }
    if (delivery.kind === 'tap') return takeIntent(floor, delivery, person);
    if (delivery.kind === 'reaction') return takeSign(floor, delivery, person);
    const job = await jobOf(delivery);
    if (job !== undefined && delivery.kind !== 'command')
      return takeMessage(floor, job, delivery, person);
    return takeLoose(floor, delivery, person);
  };

  /** What failed stays in the inbox and is tried again. */
  const workOff = async (delivery: Delivery): Promise<void> => {
    try {
      await crew.catchUp();
      await work(delivery);
      trail.workedOff(delivery);
    } catch (error) {
      notWorkedOff(delivery, error as Error);
    }
  };

  const enqueue = (delivery: Delivery): void => {
    if (!stopping) crew.enqueue(delivery);
  };

  const notWorkedOff = (delivery: Delivery, error: Error): void => {
    trail.workedOff(delivery, error);
    const says =
      fileTrouble(error) ?? 'The program met a fault; the controller finds it in the log.';
    const text = `Kept, but not recorded yet. ${says} It is tried again at the next start.`;
    const card: Card = { text, blocks: [{ kind: 'text', text }] };
    void outside
      .say(`kept:${delivery.id}`, delivery.channel, placeOf(delivery), card)
      .catch((again: Error) => log('error', 'nor could it be said', { why: again.message }));
  };

  const crew: Crew = makeCrew({
    store,
    lanes,
    schedule,
    log,
    work: workOff,
    newOutbox: (seed) => {
      if (!newOutbox) throw new Error('The floor is not started.');
      return newOutbox(seed);
    },
    changed: (entry) => {
      index.set(entry);
      for (const listener of listeners) listener(entry.job);
    },
  });

  const formFor: Intake['formFor'] = async (intent, person, channel) => {
    if (intent.do === 'choose-job') return formToChoose(floor, person, channel);
    const job = 'job' in intent ? intent.job : undefined;
    const known = job === undefined ? undefined : await legible(job);
    return formOf(workshop, known?.state.view, intent, known?.state.events);
  };

  const intake: Intake = {
    accept: async (delivery) => {
      const begin = performance.now();
      const since = (): number => (performance.now() - begin) / 1000;
      const kept = await gate
        .arriving(() => store.accept(delivery, clock()))
        .catch((error: unknown) => {
          trail.accepted(delivery, 'not-kept', since());
          throw error;
        });
      trail.accepted(delivery, kept, since());
      if (kept === 'new') enqueue(delivery);
      return kept;
    },
    formFor,
    homeFor: (person, channel) => homeFor(floor, person, channel),
    onChange,
    setAside: (delivery) => setAside(store, delivery.id, delivery),
    ownWordIn: (delivery) => ownWordIn(floor, jobOf, delivery),
    heardIn: (where) => heardIn(floor, where),
    fileOf: ({ job, kept }) => store.readFile(job, kept),
  };

  const start = async (): Promise<void> => {
    for (const entry of await store.list()) index.set(entry);
    later = await followUps(store);
    newOutbox = (seed) =>
      makeOutbox(
        {
          store,
          channels,
          schedule,
          clock,
          trail,
          homeOf: async (job, name) => {
            const kept = await store.mark(homeMark(job, name));
            return (kept && placeFromText(kept)) || options.homes[name];
          },
          refsOf: async (job) => {
            const stored = await store.load(job);
            return { threads: stored?.threads ?? [], posts: stored?.posts ?? [] };
          },
          threadOpened: async (job, thread) => {
            await lanes.run(`job:${job}`, async () => {
              const before = await shelved(job);
              if (!before) return;
              const threads = [...before.threads, thread];
              const entry = indexEntryOf(before.state, threads);
              const result = await store.append({
                job,
                expected: before.version,
                events: [],
                threads: [thread],
                index: entry,
              });
              if (!result.ok) return shelf.drop(job);
              shelf.put(job, { ...before, version: result.version, threads });
              index.set(entry);
            });
            for (const listener of listeners) listener(job);
          },
          placeOfDelivery: async (delivery) => placeRead(delivery),
          personOn: (name, channel) => {
            const person = workshop.settings.people.find((each) => each.name === name);
            return channel === 'bench' ? person?.name : person?.[channel];
          },
        },
        seed,
      );
    await crew.start();
    for (const { delivery } of await store.waiting()) enqueue(delivery);
    const joined = (): void => crew.outbox()?.kick();
    for (const channel of options.channels)
      await joinChannel({ intake, schedule, clock, log, joined }, channel);
    crew.outbox()?.kick();
    const sweep = async (): Promise<void> => {
      await later?.look();
      for (const entry of [...openEntries(), ...followed()])
        await onJob(entry.job, undefined, (now, moment) => tick(now.state, moment)).catch(
          (error: Error) =>
            log('error', 'a look at a job failed', { job: entry.job, why: error.message }),
        );
    };
    const giveNotes = shiftNotes({
      store,
      schedule,
      clock,
      log,
      workshop: () => workshop,
      lookAtAll: sweep,
      tell: (key, card) => outside.tell(key, card, 'unclear'),
      jobsSince: async (needs) => {
        const {
          now,
          openJobs = [],
          pastJobs = [],
          paces,
        } = await momentFor(undefined, undefined, { needs });
        return { now, openJobs, pastJobs, paces };
      },
      inTurn: (look) => lanes.run('notes', () => crew.alone('notes', look)),
    });
    const sweepAlone = (): void =>
      void crew
        .alone('sweep', sweep)
        .catch((error: Error) => log('error', 'a look at the jobs failed', { why: error.message }));
    schedule.every('sweep', SWEEP_MILLISECONDS, sweepAlone);
    sweepAlone();
    void giveNotes();
  };

  return {
    intake,
    floor,
    start,
    stop: async () => {
      // What still arrives is kept and acknowledged, and worked off at the next start.
      stopping = true;
      await lanes.idle();
      const late = new Promise<void>((done) => {
        const at = new Date(Date.parse(clock()) + STOP_SECONDS * 1000).toISOString();
        schedule.at('stop', at, done);
      });
      await Promise.race([crew.outbox()?.drained(), late]);
      await crew.stop();
      for (const channel of options.channels) await channel.stop();
      schedule.stop();
      await lanes.idle();
      await store.close();
    },
    backlog: () => crew.outbox()?.backlog() ?? 0,
    backlogs: () => crew.outbox()?.backlogs() ?? [],
    idle: () => lanes.idle(),
    onChange,
    changeSettings,
    forget: (job) => void lanes.run(`job:${job}`, async () => shelf.drop(job)),
  };
};
