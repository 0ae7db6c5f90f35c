// What the routes work with, and what several of them ask.
import type { IncomingMessage } from 'node:http';
import type { Intake } from '../../channel.ts';
import type { BenchOptions } from '../bench-options.ts';
import type { BenchJob } from '../bench-view.ts';
import type { Frame } from '../draw/time-words.ts';
import type { Arrivals } from '../talk/arrivals.ts';
import type { Conversation } from '../talk/conversation.ts';
import type { Entry } from '../talk/entry.ts';
import type { HandIn } from '../talk/hand-in.ts';
import type { JobThreads } from '../talk/job-threads.ts';
import type { Photos } from '../talk/photos.ts';
import type { Contacts } from './contact.ts';
import type { Live } from './live.ts';

export type BenchParts = {
  readonly options: BenchOptions;
  readonly intake: Intake;
  readonly conversation: Conversation;
  readonly arrivals: Arrivals;
  readonly photos: Photos;
  readonly handIn: HandIn;
  readonly threads: JobThreads;
  readonly contacts: Contacts;
  readonly live: Live;
  /** All open jobs, asked for once between two changes. */
  readonly jobs: () => Promise<readonly BenchJob[]>;
};

export const WHO_COOKIE = 'chargehand-who';

/** Who is looking and when. A name that is no longer among the workshop's people counts as nobody. */
export async function frameFor(request: IncomingMessage, parts: BenchParts): Promise<Frame> {
  const { name, zone, people } = await parts.options.view.workshop();
  const names = people.map((person) => person.name);
  const chosen = cookieOf(request);
  return {
    workshop: name,
    zone,
    now: parts.options.clock(),
    people: names,
    ...(chosen !== undefined && names.includes(chosen) ? { who: chosen } : {}),
    hasPlans: parts.options.planCheck !== undefined,
    hasDemo: parts.options.loadDemo !== undefined,
  };
}

function cookieOf(request: IncomingMessage): string | undefined {
  for (const pair of (request.headers.cookie ?? '').split(';')) {
    const [name, value] = pair.trim().split('=');
    if (name !== WHO_COOKIE || value === undefined) continue;
    try {
      return decodeURIComponent(value);
    } catch {
      return undefined;
    }
  }
  return undefined;
}

/** What this person sees: nothing that the floor has not taken in, and nothing that is for somebody else. */
export function isSeenBy(entry: Entry, frame: Pick<Frame, 'who'>, arrivals: Arrivals): boolean {
  if (entry.only !== undefined && entry.only !== frame.who) return false;
  return entry.by === undefined || !arrivals.isHeldNew(`bench:${entry.id.slice(2)}`);
}
