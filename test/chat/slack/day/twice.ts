// Whether the bot said something twice, as everybody sees it in the end: by the texts that stand in its threads and channels,
// not by the keys under which it posted them.
import type { JobEvent } from '../../../../shared/event.ts';
import type { Standing } from './day-platform.ts';
import type { Day } from './make-day.ts';
import type { Played } from './run-day.ts';

export type OwnPost = {
  readonly job: string;
  readonly kind: string;
  /** What it answers: a message of a person, its edit or its deletion, a tap, or a look at the clock. */
  readonly cause: string | undefined;
};

/** What a post of the bot is, from its key. */
export const ownPost = ({ key }: Pick<Standing, 'key'>): OwnPost | undefined => {
  const [, job, kind, turn] =
    /^([^|]+)\|.*\|(sheet|reply|stops|nudge|passed|alone|note)(?::(.+))?$/u.exec(key ?? '') ?? [];
  if (job === undefined || kind === undefined) return undefined;
  return { job, kind, cause: turn };
};

/** Turns that recorded something: a look at the clock that changed nothing is no reason to say anything. */
const turnsThatRecorded = (events: readonly JobEvent[]): ReadonlySet<string> =>
  new Set(
    events.flatMap(
      ({ id }) =>
        /^(tick:.+?):(?:announced|withdrawn|asked|lapsed|nudged|passed)/u.exec(id)?.[1] ?? [],
    ),
  );

/** "Skipped: "Drain the coolant"", whatever follows it. */
const FLAG = /(?:^|[\s•▪■▲◆●*])((?:[A-Z][a-z]+(?: [a-z]+)*): "[^"]+")/gu;

const flagsNamed = (text: string): ReadonlySet<string> =>
  new Set([...text.replace(/\s+/gu, ' ').matchAll(FLAG)].flatMap(([, named]) => named ?? []));

/** In how many turns each flag was raised, and in how many it was withdrawn: so often it may be said. */
const turnsOf = (
  events: readonly JobEvent[],
): Readonly<Record<'reply' | 'stops', ReadonlyMap<string, number>>> => {
  const standing = new Map<string, string>();
  const names = new Map<string, ReadonlySet<string>>();
  const raised = new Map<string, Set<string>>();
  const withdrawn = new Map<string, Set<string>>();
  const note = (turns: Map<string, Set<string>>, flag: string, turn: string): void => {
    for (const name of names.get(flag) ?? [])
      turns.set(name, (turns.get(name) ?? new Set()).add(turn));
  };
  for (const event of events) {
    if (event.kind === 'flag-withdrawn') {
      standing.delete(event.flag);
      note(withdrawn, event.flag, event.id.slice(0, event.id.indexOf(':withdrawn:')));
    }
    if (event.kind !== 'flag-announced') continue;
    const isNew = standing.get(event.flag) !== event.level;
    standing.set(event.flag, event.level);
    names.set(event.flag, flagsNamed(event.says));
    if (isNew) note(raised, event.flag, event.id.slice(0, event.id.indexOf(':announced:')));
  }
  const count = (name: string): number =>
    (raised.get(name)?.size ?? 0) + (withdrawn.get(name)?.size ?? 0);
  return {
    reply: new Map([...raised.keys()].map((name) => [name, count(name)])),
    // In the channel the card that raised it is changed; nothing more is posted.
    stops: new Map([...raised].map(([name, turns]) => [name, turns.size])),
  };
};

/** One sentence for each thing that was said twice without a reason. */
export const saidTwice = (
  played: Pick<Played, 'standing' | 'ids' | 'jobs'>,
  day: Pick<Day, 'happenings'>,
): readonly string[] => {
  const faults: string[] = [];
  const own = played.standing.flatMap((each) => {
    const post = each.byBot && !each.deleted ? ownPost(each) : undefined;
    return post ? [{ ...each, ...post }] : [];
  });
  for (const { key, text } of played.standing.filter((each) => each.byBot && !each.deleted))
    if (ownPost({ key }) === undefined) faults.push(`"${text}" stands under no key that is known`);

  // The same words of the same kind in the same place answer as many different things that people did.
  const alike = new Map<string, (typeof own)[number][]>();
  for (const each of own) {
    const name = [each.job, each.kind, each.thread ?? 'channel', each.text].join('\n');
    alike.set(name, [...(alike.get(name) ?? []), each]);
  }
  for (const each of alike.values()) {
    const [first] = each;
    const events = played.jobs.get(first?.job ?? '')?.events.map(({ event }) => event) ?? [];
    const recorded = turnsThatRecorded(events);
    const causes = new Set(
      each.flatMap(({ cause }) =>
        cause !== undefined && (!cause.startsWith('tick:') || recorded.has(cause)) ? [cause] : [],
      ),
    );
    if (first && causes.size < each.length && each.length > 1)
      faults.push(
        `${first.job}: "${first.text}" stands ${each.length} times in the ${first.thread ? 'thread' : 'channel'}, for ${causes.size} reasons`,
      );
  }

  // A flag is named once for each time it was raised, in the thread once more when it is withdrawn; whoever asks is told.
  const talk = new Set(
    day.happenings.flatMap((each) =>
      each.does === 'say' && each.expected === 'plain' ? [played.ids.get(each.n) ?? ''] : [],
    ),
  );
  for (const [job, stored] of played.jobs) {
    const turns = turnsOf(stored.events.map(({ event }) => event));
    for (const kind of ['reply', 'stops'] as const) {
      const named = new Map<string, number>();
      for (const post of own)
        if (
          post.job === job &&
          post.kind === kind &&
          !talk.has(post.cause?.split(':').at(-1) ?? '')
        )
          for (const name of flagsNamed(post.text)) named.set(name, (named.get(name) ?? 0) + 1);
      for (const [name, most] of turns[kind])
        if ((named.get(name) ?? 0) > most)
          faults.push(
            `${job}: ${name} is said in ${named.get(name)} posts of the ${kind === 'reply' ? 'thread' : 'channel'}, with reason in ${most}`,
          );
    }
  }
  return faults;
};
