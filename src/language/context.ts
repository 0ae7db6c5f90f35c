// What reading may know beside the text itself.
import type { Act, Reading } from '../../shared/reading.ts';

export type PreviousMessage = {
  readonly id: string;
  readonly from: 'bot' | 'person';
  readonly by?: string;
  readonly at?: string;
  readonly text: string;
  /** The acts it was read as; the reader reads the text itself where they are left out. */
  readonly acts?: readonly Act[];
};

export type PendingQuestion = {
  readonly question: string;
  readonly asks: string;
  readonly choices: readonly {
    readonly says: string;
    readonly acts?: readonly Act[] | undefined;
    readonly value?: string | undefined;
  }[];
};

export type ReadContext = {
  /** When the message was posted, ISO with offset; times said are resolved against it. */
  readonly at?: string;
  readonly by?: string;
  /** Earlier messages of the thread, oldest first. A few are enough. */
  readonly previous?: readonly PreviousMessage[];
  readonly pending?: readonly PendingQuestion[];
  /** Names of people, for "Jo did the lines". */
  readonly people?: readonly { readonly name: string; readonly also?: readonly string[] }[];
  /** Job numbers that are open, for "that was for 2210". */
  readonly jobs?: readonly string[];
  /** Named moments of the shift for "before dinner": word to HH:MM. */
  readonly moments?: Readonly<Record<string, { readonly from: string; readonly to: string }>>;
  /** Name of the vehicle the job is on: "bus 12" said on its own job is no other vehicle. */
  readonly vehicle?: string;
  /** Positions on this job, where they are fewer than the plan names. */
  readonly positions?: readonly string[];
};

/** One reading: acts, what it relied on, and the answer to a pending question if it is one. */
export type ReadResult = {
  readonly acts: readonly Act[];
  /** Ids of previous messages and questions whose content was needed. */
  readonly relied: readonly string[];
  /** Set where the text answers a pending question: choice index, or null for none of these. */
  readonly answers?: { readonly question: string; readonly choice: number | null };
  /** For "what did you read?": each act's words, rule and assumptions in plain sentences. */
  readonly explained: readonly string[];
};

export type ReadingOf = (input: Reading) => ReadResult;
