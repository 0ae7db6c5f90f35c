// What the routes work with, and what several of them ask.
import type { IncomingMessage } from 'node:http';
import type { Card, Intent } from '../../../desk/card.ts';
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
import type { Pass, Passes } from './passes.ts';
import type { Tries } from './tries.ts';
import type { OwnNames } from './who-may-ask.ts';

/** The door to the workshop's network: who has a pass, and how often a wrong code was tried. */
export type NetworkDoor = {
  readonly passes: Passes;
  readonly tries: Tries;
};

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
  /** Undefined on this machine alone, where nobody signs in. */
  readonly door?: NetworkDoor;
  readonly own: () => OwnNames;
  /** Deliveries whose refusal is shown on the page that sent them, and not in the yard. */
  readonly answeredOnPage: Map<string, (card: Card) => void>;
};

export const WHO_COOKIE = 'chargehand-who';
/** The prefix makes browsers refuse it without TLS, from a subdomain, or for a part of the site. */
export const PASS_COOKIE = '__Host-chargehand';

export type Looking = Frame & { readonly pass?: Pass };

/** Who is looking and when. A name that is no longer among the workshop's people counts as nobody. */
export async function frameFor(request: IncomingMessage, parts: BenchParts): Promise<Looking> {
  const { name, zone, people } = await parts.options.view.workshop();
  const now = parts.options.clock();
  const pass = await passOf(request, parts, now);
  const chosen =
    pass?.kind === 'own'
      ? pass.name
      : parts.door !== undefined && pass === undefined
        ? undefined
        : cookieOf(request, WHO_COOKIE);
  const person = people.find((each) => each.name === chosen);
  return {
    workshop: name,
    zone,
    now,
    people: people.map((each) => each.name),
    ...(person === undefined ? {} : { who: person.name, roles: person.roles }),
    ...(pass?.kind === 'own' && person !== undefined ? { proved: true } : {}),
    ...(pass?.kind === 'tablet' ? { tablet: pass.name } : {}),
    ...(pass === undefined || (pass.kind === 'own' && person === undefined) ? {} : { pass }),
    hasPasses: parts.door !== undefined,
    hasPlans: parts.options.planCheck !== undefined,
    hasDemo: parts.options.loadDemo !== undefined,
  };
}

async function passOf(
  request: IncomingMessage,
  parts: BenchParts,
  now: string,
): Promise<Pass | undefined> {
  if (parts.door === undefined) return undefined;
  const secret = cookieOf(request, PASS_COOKIE);
  return secret === undefined ? undefined : parts.door.passes.passOf(secret, now);
}

/** The same with the buttons that mean something in this person's hands. */
export function withMay(frame: Looking, parts: BenchParts, jobs: readonly BenchJob[]): Looking {
  const { who, roles } = frame;
  const { may } = parts.options.view;
  if (who === undefined || may === undefined) return frame;
  const byNumber = new Map(jobs.map((job) => [job.job, job]));
  return {
    ...frame,
    may: (intent: Intent) =>
      may(
        { name: who, roles: roles ?? [] },
        intent,
        'job' in intent && intent.job !== undefined ? byNumber.get(intent.job) : undefined,
      ),
  };
}

function cookieOf(request: IncomingMessage, wanted: string): string | undefined {
  for (const pair of (request.headers.cookie ?? '').split(';')) {
    const [name, value] = pair.trim().split('=');
    if (name !== wanted || value === undefined) continue;
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
