// What a day came to: the records, freed of what depends on how things were delivered; and what is wrong with it, as seen
// from what people posted and from what stands on the platform, not from what the program says of itself.
import type { JobEvent } from '../../../../shared/event.ts';
import { checkJob } from '../../../../src/desk/turn/check-job.ts';
import { messagesOf, questionsOf } from '../../../../src/desk/turn/log.ts';
import type { Plan } from '../../../../src/job/plan.ts';
import { verifyChain } from '../../../../src/store/chain.ts';
import type { StoredJob } from '../../../../src/store/job-store.ts';
import type { Day } from './make-day.ts';
import { type Played, settingsFor } from './run-day.ts';
import { saidTwice } from './twice.ts';

const eventsOf = (job: Pick<StoredJob, 'events'>): readonly JobEvent[] =>
  job.events.map(({ event }) => event);

/** What the bot says, asks, reminds of and passes on follows from the rest and from when it arrived. */
const BY_THE_WAY: ReadonlySet<JobEvent['kind']> = new Set([
  'message-posted',
  'message-edited',
  'message-deleted',
  'message-read',
  'question-asked',
  'question-lapsed',
  'flag-announced',
  'flag-withdrawn',
  'flag-passed-on',
  'wait-nudged',
  'handed-over',
]);

/** Ids of messages as their numbers in the day; ids of taps and of turns as nothing. */
const numbered = (played: Played): (<T>(value: T) => T) => {
  const numbers = new Map([...played.ids].map(([n, id]) => [id, n]));
  return (value) =>
    JSON.parse(
      JSON.stringify(value).replace(/"(?:slack|bench|teams)[:|][^"]*"/gu, (quoted) => {
        const id = quoted.slice(1, -1).split(':').at(-1) ?? '';
        const n = numbers.get(id);
        return n === undefined ? '"#"' : `"#${n}"`;
      }),
    );
};

/** A decision without when it arrived; that a controller saw a stop because he wrote something depends on that alone. */
const decisionsIn = (events: readonly JobEvent[]): readonly string[] =>
  events
    .filter(({ kind }) => !BY_THE_WAY.has(kind))
    .filter((event) => event.kind !== 'flag-acknowledged' || event.how !== 'wrote')
    .map(({ id: _, at: __, ...decided }) => {
      if (decided.kind !== 'job-opened') return JSON.stringify(decided);
      const { plan, ...opened } = decided;
      return JSON.stringify({ ...opened, plan: plan.id });
    })
    .sort();

/**
 * Messages, by number, that were edited before they could be heard, and read from the history: that keeps the last text
 * only, and nobody can tell whether the first one said the same. They count from their edit; nothing else of them differs.
 */
export const firstTextsUnknown = (played: Played, day: Day): ReadonlySet<number> => {
  const unknown = new Set<number>();
  for (const happening of day.happenings) {
    if (happening.does !== 'edit') continue;
    const stored = played.jobs.get(happening.job);
    const id = played.ids.get(happening.of) ?? '';
    const known =
      stored && messagesOf(eventsOf(stored)).find(({ message }) => message.endsWith(id));
    if (known?.revision === 0) unknown.add(happening.of);
  }
  return unknown;
};

/** Instants at which a message may count: posted, edited, and as the record has it. */
const instantsOf = (played: Played, day: Day, n: number): ReadonlySet<number> => {
  const id = played.ids.get(n) ?? '';
  const { job } = day.happenings[n] ?? {};
  const events = eventsOf(played.jobs.get(job ?? '') ?? { events: [] });
  return new Set(
    events.flatMap((event) =>
      (event.kind === 'message-posted' || event.kind === 'message-edited') &&
      event.message.endsWith(id)
        ? [Date.parse(event.at)]
        : [],
    ),
  );
};

/** The same record with the times of some messages left out. */
const withoutTimesOf = <T>(
  record: T,
  played: Played,
  day: Day,
  numbers: ReadonlySet<number>,
): T => {
  if (numbers.size === 0) return record;
  const instants = new Map(
    [...numbers].flatMap((n) => [...instantsOf(played, day, n)].map((at) => [at, n] as const)),
  );
  return JSON.parse(
    JSON.stringify(record).replace(/"\d{4}-\d\d-\d\dT[^"]*"|\b1[67]\d{11}\b/gu, (time) => {
      const n = instants.get(time.startsWith('"') ? Date.parse(time.slice(1, -1)) : Number(time));
      return n === undefined ? time : `"when #${n} counts"`;
    }),
  ) as T;
};

/**
 * The records of a calm day and of another, to be equal. Left out is only when those messages count whose first text
 * nobody can tell.
 */
export const comparable = (
  calm: Played,
  storm: Played,
  day: Day,
  plans: readonly Plan[],
): { readonly expected: Records; readonly found: Records } => {
  const unknown = firstTextsUnknown(storm, day);
  return {
    expected: withoutTimesOf(recordsOf(calm, day, plans, unknown), calm, day, unknown),
    found: withoutTimesOf(recordsOf(storm, day, plans, unknown), storm, day, unknown),
  };
};

/** Jobs whose record in the second day is not that of the first; no job is left out. */
export const differingJobs = (
  calm: Played,
  storm: Played,
  day: Day,
  plans: readonly Plan[],
): readonly string[] => {
  const { expected, found } = comparable(calm, storm, day, plans);
  return [...new Set([...Object.keys(expected), ...Object.keys(found)])].filter(
    (job) => JSON.stringify(expected[job]) !== JSON.stringify(found[job]),
  );
};

type Records = Readonly<Record<string, unknown>>;

/**
 * The records of a day, by job, as they must be whatever went wrong on the way.
 * @param unknown numbers of messages of which only the last text is known: their revision is left out
 */
export const recordsOf = (
  played: Played,
  day: Day,
  plans: readonly Plan[],
  unknown: ReadonlySet<number> = new Set(),
): Records => {
  const free = numbered(played);
  const numbers = new Map([...played.ids].map(([n, id]) => [id, n]));
  const numberOf = (message: string): number => numbers.get(message.split(':').at(-1) ?? '') ?? -1;
  const onlyLast = new Set([...unknown].map((n) => played.ids.get(n) ?? ''));
  const people = settingsFor(day).people.map(({ name, roles }) => ({ name, roles }));
  const records: Record<string, unknown> = {};
  for (const [job, stored] of [...played.jobs].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const events = eventsOf(stored);
    const opened = events.find((event) => event.kind === 'job-opened');
    const plan = plans.find(
      (each) => opened?.kind === 'job-opened' && each.plan === opened.plan.id,
    );
    if (!plan) continue;
    const view = checkJob(plan, events, day.end, { people });
    records[job] = free({
      // By number, as they were posted: where one has its place in the record follows from when it counts.
      messages: messagesOf(events)
        .filter(({ deleted }) => !deleted)
        .sort((a, b) => numberOf(a.message) - numberOf(b.message))
        .map(({ pass: _, channel: __, relied: ___, revision, ...said }) =>
          onlyLast.has(said.message.split(':').at(-1) ?? '') ? said : { ...said, revision },
        ),
      decisions: decisionsIn(events),
      view: {
        status: view.status,
        steps: view.steps,
        holds: view.holds.map(({ at: _, ...hold }) => hold),
        vehicleState: view.vehicleState,
        // A question may be asked a minute later when its message came late.
        flags: view.flags.map((flag) => ({
          ...flag,
          says: flag.says.replace(/asked at \d\d:\d\d/gu, 'asked at another time'),
        })),
        findings: view.findings,
        blocked: view.blocked,
        next: view.next,
        fluids: view.fluids,
        closeNeeds: view.closeNeeds,
        clockings: view.clockings,
        minutesBooked: view.minutesBooked,
      },
    });
  }
  return records;
};

const unescaped = (text: string): string =>
  text.replace(/&lt;/gu, '<').replace(/&gt;/gu, '>').replace(/&amp;/gu, '&');

/** What a turn of the desk said first about flags: the turn, and whether a stop was among it. */
const saidOfFlags = (events: readonly JobEvent[]): ReadonlyMap<string, boolean> => {
  const standing = new Map<string, string>();
  const turns = new Map<string, boolean>();
  for (const event of events) {
    if (event.kind === 'flag-withdrawn') standing.delete(event.flag);
    if (event.kind !== 'flag-announced') continue;
    const isNew = standing.get(event.flag) !== event.level;
    standing.set(event.flag, event.level);
    if (!isNew || event.flag.startsWith('early-close|')) continue;
    const turn = event.id.slice(0, event.id.indexOf(':announced:'));
    turns.set(turn, (turns.get(turn) ?? false) || event.level === 'stop');
  }
  return turns;
};

/** Everything that is wrong with a day by itself, one sentence each. */
export const faultsOf = (played: Played, day: Day): readonly string[] => {
  const faults: string[] = [
    ...played.complaints,
    ...played.early.map((id) => `acknowledged before it was kept: ${id}`),
    ...played.untapped.map((tap) => `no button for ${tap}`),
    ...played.outbox.map((entry) => `still to be posted: ${entry.id}`),
    ...saidTwice(played, day),
  ];
  if (played.waiting > 0) faults.push(`${played.waiting} deliveries were not worked off`);
  const standing = new Map(played.standing.map((each) => [each.message, each]));
  const byKey = new Map<string, number>();
  for (const { key } of played.standing)
    if (key !== undefined) byKey.set(key, (byKey.get(key) ?? 0) + 1);
  const posted = (job: string, key: string): number =>
    [...byKey].reduce(
      (sum, [each, times]) =>
        each.startsWith(`${job}|`) && each.endsWith(`|${key}`) ? sum + times : sum,
      0,
    );

  for (const happening of day.happenings) {
    if (happening.does !== 'say' && happening.does !== 'open') continue;
    const message = standing.get(played.ids.get(happening.n) ?? '');
    if (!message) {
      faults.push(`number ${happening.n} was never posted`);
      continue;
    }
    if (message.deleted) continue;
    const wanted =
      happening.does === 'open' || happening.expected === 'signed' ? [played.recorded] : [];
    if (message.signs.join() !== wanted.join())
      faults.push(
        `${happening.job}, ${happening.by}: "${message.text}" is signed [${message.signs}], not [${wanted}]`,
      );
  }

  for (const [job, stored] of played.jobs) {
    const events = eventsOf(stored);
    if (events.length === 0) continue;
    if (!verifyChain(stored.events).good) faults.push(`${job}: the chain of its events is broken`);
    const roots = played.standing.filter(
      ({ byBot, key }) => byBot && key?.startsWith(`${job}|`) && key.endsWith('|sheet'),
    );
    if (roots.length !== 1) faults.push(`${job}: ${roots.length} job sheets`);
    const thread = played.standing.filter((each) => each.thread === roots[0]?.message);

    // All that people posted in the thread is in the record as it stands there, and nothing else.
    const said = thread
      .filter(({ byBot }) => !byBot)
      .map(({ message, text, deleted }) => ({ message, text: deleted ? null : text, deleted }));
    const kept = messagesOf(events).map(({ message, text, deleted }) => ({
      message: message.split(':').at(-1) ?? '',
      text: deleted ? null : text,
      deleted,
    }));
    const known = new Map(kept.map((each) => [each.message, each]));
    for (const each of said) {
      const own = known.get(each.message);
      known.delete(each.message);
      // What was posted and deleted while nobody heard leaves no trace.
      if (each.deleted && !own) continue;
      if (!own) faults.push(`${job}: "${each.text}" is not in the record`);
      else if (own.deleted !== each.deleted || own.text !== (each.text && unescaped(each.text)))
        faults.push(`${job}: "${each.text}" is in the record as "${own.text}"`);
    }
    for (const { text } of known.values()) faults.push(`${job}: "${text}" is only in the record`);

    for (const [turn, stop] of saidOfFlags(events)) {
      if (posted(job, `reply:${turn}`) !== 1)
        faults.push(
          `${job}: flags of ${turn} stand ${posted(job, `reply:${turn}`)} times in the thread`,
        );
      if (stop && posted(job, `stops:${turn}`) !== 1)
        faults.push(
          `${job}: stops of ${turn} stand ${posted(job, `stops:${turn}`)} times in the channel`,
        );
    }

    // Nothing is left to tap once it is answered.
    const open = new Set(
      questionsOf(events).flatMap(({ question, state }) => (state === 'open' ? [question] : [])),
    );
    for (const each of thread)
      for (const { label, intent } of each.buttons)
        if (intent.do === 'answer' && !open.has(intent.question))
          faults.push(`${job}: "${label}" can still be tapped under "${each.text}"`);

    // Replies stand in the order in which what they answer came to the record.
    const place = new Map<string, number>();
    for (const [index, { id }] of events.entries()) {
      const turn = /^(.+?):(?:posted|edited|deleted|read|announced|withdrawn)(?::|$)/u.exec(
        id,
      )?.[1];
      if (turn !== undefined && !place.has(turn)) place.set(turn, index);
    }
    let last = -1;
    for (const { key } of thread) {
      const turn = key && /\|reply:(.+)$/u.exec(key)?.[1];
      const index = turn ? place.get(turn) : undefined;
      if (index === undefined) continue;
      if (index < last) faults.push(`${job}: the reply to ${turn} stands behind a later one`);
      last = Math.max(last, index);
    }
  }
  return faults;
};

/** How a day was, in numbers, for people. */
export const inNumbers = (played: Played, day: Day): Readonly<Record<string, number>> => ({
  jobs: [...played.jobs.values()].filter((job) => job.events.length > 0).length,
  'messages posted by people': day.happenings.filter(
    ({ does }) => does === 'say' || does === 'open',
  ).length,
  edits: day.happenings.filter(({ does }) => does === 'edit').length,
  deletions: day.happenings.filter(({ does }) => does === 'delete').length,
  taps: day.happenings.filter(({ does }) => does === 'tap').length,
  'events recorded': [...played.jobs.values()].reduce((sum, job) => sum + job.events.length, 0),
  'messages of the bot': played.standing.filter(({ byBot }) => byBot).length,
  'deliveries acknowledged': played.acknowledged,
  'deletions nobody was told of': played.untold.length,
  'messages of which only the last text can be told': firstTextsUnknown(played, day).size,
});
