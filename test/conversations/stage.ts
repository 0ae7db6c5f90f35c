// What a conversation is played on: the desk alone, or a channel with the floor and a store behind it.
import type { Settings } from '../../shared/settings.ts';
import type { Plan } from '../../src/job/plan.ts';
import type { Script } from './script.ts';

/** What people saw since the last line. */
export type Seen = {
  readonly sign: 'recorded' | 'asked' | undefined;
  /** Posts that were not there before, in the thread or the channel; what is changed in place is none. */
  readonly news: number;
  /** Texts posted or changed in the job's thread, without the job sheet. */
  readonly thread: readonly string[];
  /** Texts posted or changed in the common channel, without the job sheet. */
  readonly channel: readonly string[];
  /** Labels that can be tapped now. */
  readonly offers: readonly string[];
  /** What the job sheet says. */
  readonly sheet: string;
  readonly status: 'open' | 'closed' | 'cancelled';
};

export type Stage = {
  readonly name: string;
  readonly say: (by: string, text: string, at: string) => Promise<void>;
  readonly edit: (by: string, message: string, text: string, at: string) => Promise<void>;
  readonly remove: (by: string, message: string, at: string) => Promise<void>;
  readonly tap: (
    by: string,
    label: string,
    fields: Readonly<Record<string, string>>,
    at: string,
  ) => Promise<void>;
  /** Lets the clock run to a time. */
  readonly until: (at: string) => Promise<void>;
  readonly look: () => Promise<Seen>;
  readonly end: () => Promise<void>;
};

export type MakeStage = (
  script: Script,
  plan: Plan,
  settings: Settings,
  start: string,
) => Promise<Stage>;

export const DAY = '2026-03-10';
export const ZONE = 'Europe/London';

/** HH:MM[:SS] on the day of the conversation; the zone has no offset that day. */
export const onTheDay = (time: string): string =>
  `${DAY}T${time.length === 5 ? `${time}:00` : time}.000+00:00`;

/** An id of the directory made of the name: the same name has the same one. */
const directoryId = (name: string): string =>
  `00000000-0000-4000-8000-${Buffer.from(name).toString('hex').slice(0, 12).padEnd(12, '0')}`;

export const settingsOf = (script: Script): Settings => ({
  workshop: 'Conversation',
  zone: ZONE,
  people: script.people.map(({ name, roles, competences, under }) => ({
    name,
    ...(competences.length > 0 ? { competences: [...competences] } : {}),
    ...(under ? { under } : {}),
    slack: `U0${name.toUpperCase()}01`,
    teams: directoryId(name),
    roles: roles as Settings['people'][number]['roles'],
  })),
  shifts: [
    {
      name: 'day',
      days: ['mon', 'tue', 'wed', 'thu', 'fri'],
      from: '06:00',
      to: '18:00',
      breaks: [{ name: 'dinner', from: '12:00', to: '12:30', words: ['lunch'] }],
    },
  ],
});
