// Where the day is played: how people act there, what they see, and what goes wrong on the way. A channel joins the day by
// keeping `DayPlatform`.
import type { Delivery } from '../../../../shared/delivery.ts';
import type { Settings } from '../../../../shared/settings.ts';
import type { Channel } from '../../../../src/chat/channel.ts';
import type { Intent } from '../../../../src/desk/card.ts';
import type { RunningFloor } from '../../../../src/floor/floor.ts';
import type { Schedule } from '../../../../src/schedule/timers.ts';
import type { JobStore } from '../../../../src/store/job-store.ts';

/** One process of the bot, from its start to its end. */
export type Life = {
  readonly clock: () => string;
  readonly schedule: Schedule;
  readonly store: JobStore;
  readonly running: () => RunningFloor;
};

export type Joined = {
  readonly channel: Channel;
  /** The process is gone in this moment. */
  readonly kill: () => void;
};

export type Button = {
  readonly label: string;
  readonly intent: Intent;
  readonly hasForm: boolean;
};

/** What stands on the platform: of people and of the bot, as everybody sees it now. */
export type Standing = {
  readonly message: string;
  readonly thread: string | undefined;
  readonly byBot: boolean;
  /** The key under which the bot posted it. */
  readonly key: string | undefined;
  readonly text: string;
  readonly deleted: boolean;
  readonly signs: readonly string[];
  readonly buttons: readonly Button[];
};

export type DayPlatform = {
  readonly name: Delivery['channel'];
  readonly how: string;
  readonly home: { readonly team: string; readonly place: string };
  /** The sign on a message that is recorded. */
  readonly recorded: string;
  readonly join: (life: Life) => Joined;
  readonly busy: () => number;

  readonly post: (by: string, text: string, thread: string | undefined) => Promise<string>;
  readonly edit: (by: string, message: string, text: string) => Promise<void>;
  readonly remove: (by: string, message: string) => Promise<void>;
  readonly react: (by: string, message: string, sign: string) => Promise<void>;
  /** False where the person is told that it did not work. */
  readonly tap: (
    by: string,
    message: string,
    button: Button,
    fields: Readonly<Record<string, string>>,
  ) => Promise<boolean>;
  readonly standing: () => readonly Standing[];

  /** The next message arrives twice. */
  readonly double: (anew: boolean) => void;
  /** The next message comes behind the one after it in its thread. */
  readonly swap: () => void;
  /** The next acknowledgement is lost. */
  readonly loseAck: () => void;
  /** The next call of some kind fails, before or after it took effect. */
  readonly spoilCall: (random: () => number) => void;
  readonly outage: (is: boolean) => void;

  /** Told the id of each delivery in the moment in which its acknowledgement arrives. */
  readonly onAcknowledged: (listener: (delivery: string) => void) => void;
  /** Messages whose deletion the platform told nobody: it was given up, and no history shows what is gone. */
  readonly untold: () => readonly string[];
  /** What the platform found wrong in what it got; empty when all was well. */
  readonly complaints: () => readonly string[];
  /** How often what went wrong, by name. */
  readonly thrown: () => Readonly<Record<string, number>>;
  readonly end: () => Promise<void>;
};

export type MakeDayPlatform = (parts: {
  readonly clock: () => string;
  readonly schedule: Schedule;
  readonly settings: Settings;
}) => Promise<DayPlatform>;
