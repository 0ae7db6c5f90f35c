// The neutral card: what the bot posts, before any channel draws it. Text is obligatory and carries the whole meaning.
import type { Level } from '../../shared/plan.ts';

export type Block =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [label: string, value: string])[] }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  /** The usual caution where the work can hurt someone. */
  | { readonly kind: 'caution'; readonly text: string };

/** Somebody a channel knows by an id and the settings do not; `name` as the platform shows it, or empty. */
export type Stranger = {
  readonly channel: 'bench' | 'slack' | 'teams';
  readonly team: string;
  readonly person: string;
  readonly name: string;
};

/** What a tap means. Small: it travels in 2,000 characters. */
export type Intent =
  | {
      readonly do: 'answer';
      readonly job: string;
      readonly question: string;
      readonly choice: number | null;
    }
  | {
      readonly do: 'report';
      readonly job: string;
      readonly step: string;
      readonly position: string | null;
      readonly ask?: string;
    }
  | {
      readonly do: 'release';
      readonly job: string;
      readonly step: string;
      readonly position: string | null;
      /** From a card that asks nothing else: it is closed once this is done. */
      readonly asked?: true;
    }
  | {
      readonly do: 'refuse';
      readonly job: string;
      readonly step: string;
      readonly position: string | null;
      readonly asked?: true;
    }
  | { readonly do: 'override'; readonly job: string; readonly flag: string }
  | { readonly do: 'acknowledge'; readonly job: string; readonly flag: string }
  | {
      readonly do: 'settle-finding';
      readonly job: string;
      readonly message: string;
      readonly settle: 'approved' | 'declined';
    }
  | { readonly do: 'open-job' }
  | { readonly do: 'close-job'; readonly job: string }
  | { readonly do: 'cancel-job'; readonly job: string }
  /** With an empty job the form asks which. */
  | { readonly do: 'choose-job'; readonly delivery: string; readonly job: string }
  /** Somebody who is not in the settings is taken in, or is not. */
  | ({ readonly do: 'take-in' } & Stranger)
  | ({ readonly do: 'turn-away' } & Stranger)
  | { readonly do: 'say'; readonly job?: string; readonly text: string };

export type Action = {
  readonly label: string;
  readonly weight: 'main' | 'plain' | 'grave';
  readonly intent: Intent;
  /** A form to fill before the tap means anything: a reason, a figure. */
  readonly form?: Form;
};

export type Field = {
  readonly name: string;
  readonly label: string;
  readonly kind: 'text' | 'long-text' | 'number' | 'choice' | 'choices' | 'date-time';
  readonly required: boolean;
  readonly hint?: string;
  readonly unit?: string;
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
  readonly value?: string;
};

export type Form = {
  readonly title: string;
  readonly submit: string;
  readonly fields: readonly Field[];
};

/** A file that goes with a card: kept by the job in the store; a channel reads its bytes through its intake. */
export type CardFile = {
  readonly job: string;
  /** The name it is kept under in the store. */
  readonly kept: string;
  /** The name people save it under: "job-1042-record.pdf". */
  readonly name: string;
  /** Media type: "application/pdf". */
  readonly type: string;
  /** What it is, in words: "Job record to print, 7 pages". */
  readonly says: string;
  readonly bytes: number;
};

/** Files the desk cannot make itself: the floor makes them of the job's events and keeps them before the card goes out. */
export const WANTED_FILES = [
  'record-pdf',
  'record-csv',
  'record-json',
  'record-ocel',
  'claim-pdf',
] as const;
export type WantedFile = (typeof WANTED_FILES)[number];

export type CardPicture = {
  readonly svg: string;
  /** The same picture for a dark page, where there is one. */
  readonly dark?: string;
  readonly alt: string;
};

export type Card = {
  /** The whole meaning in plain text; the only part some devices show. Plain: no markup of any platform. */
  readonly text: string;
  readonly title?: string;
  readonly level?: Level;
  readonly blocks: readonly Block[];
  readonly actions?: readonly Action[];
  readonly picture?: CardPicture;
  /** Files to be sent with it; a channel that cannot send files names them. */
  readonly files?: readonly CardFile[];
  /** Set by the desk only; what a channel is given has `files` instead. */
  readonly wants?: readonly WantedFile[];
  /** People named so that they are told: names as the settings spell them. */
  readonly tells?: readonly string[];
};

/** What the desk wants posted. A channel's thread for the job is found by the shell. */
export type Post = {
  /** Stable within the job; posting the same key again edits in place where `edit` is set, else is dropped. */
  readonly key: string;
  readonly to:
    | { readonly where: 'thread' }
    | { readonly where: 'channel' }
    | { readonly where: 'person'; readonly name: string }
    /** Beside the delivery it answers, for one person where the platform can. */
    | { readonly where: 'reply'; readonly delivery: string };
  readonly card?: Card;
  /** A file or picture of a card as a post of its own, behind the card; made by the shell. */
  readonly file?: CardFile | CardPicture;
  /** A sign on a message that it is recorded (or no longer). */
  readonly sign?: { readonly message: string; readonly mark: 'recorded' | 'asked' | 'unrecorded' };
  readonly edit: boolean;
  readonly urgent: boolean;
  readonly pin?: boolean;
};
