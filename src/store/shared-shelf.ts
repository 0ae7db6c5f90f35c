// What processes that share a store keep in common beside the jobs: small papers that are changed one after the other,
// one log of lines in one order for all, deliveries that are on their way in, and bytes. A contract; nothing of it is there
// where one process has the place to itself.

export type Paper = { readonly text: string; readonly rev: number };

export type LogLine = {
  /** Its place in the order of all lines; what is seen of it is never followed by something with a lower one. */
  readonly n: number;
  /** Which row of lines it stands in: a thread, or '' for the one that is common to all. */
  readonly roll: string;
  readonly body: string;
};

export type NewLine = {
  readonly roll: string;
  /** What it is about: the line is found by it beside those of a roll. */
  readonly about: string;
  /** A line with this mark is kept once, whoever adds it again. */
  readonly once?: string;
  readonly body: string;
};

export type LogHead = {
  readonly n: number;
  /** Goes up when lines were written anew: whoever holds some reads them again. */
  readonly epoch: number;
};

export type SharedShelf = {
  readonly paper: (name: string) => Promise<Paper | undefined>;
  /** Those whose name begins so, by name. */
  readonly papers: (prefix: string) => Promise<readonly (Paper & { readonly name: string })[]>;
  /** @param rev of what it was made from, 0 for a new one. @returns false where it was changed since; nothing is written */
  readonly writePaper: (name: string, text: string, rev: number) => Promise<boolean>;
  readonly removePaper: (name: string) => Promise<void>;

  readonly head: () => Promise<LogHead>;
  /** @returns the place of the log's newest line once this one is in it */
  readonly addLine: (line: NewLine) => Promise<number>;
  /** Lines behind a place, in order, at most so many. */
  readonly linesSince: (n: number, most: number) => Promise<readonly LogLine[]>;
  /** Lines of a roll and those of the common one about its root, in order, up to a place. */
  readonly linesOf: (roll: string, upTo: number) => Promise<readonly LogLine[]>;
  /** Rolls that have a line. */
  readonly rolls: () => Promise<readonly string[]>;
  /** Writes lines anew; undefined leaves one as it is. @returns how many were */
  readonly rewriteLines: (change: (line: LogLine) => string | undefined) => Promise<number>;

  /** A delivery is on its way in: until it is let go, another process may see to it. */
  readonly hold: (id: string, body: string) => Promise<void>;
  /** It is in; with a line that says so, in one go. */
  readonly letGo: (id: string, line?: NewLine) => Promise<void>;
  /** Held for longer than so many seconds: whoever held it is gone. */
  readonly leftBehind: (seconds: number) => Promise<readonly string[]>;
  /** Writes what is held anew, as `rewriteLines` does. */
  readonly rewriteHeld: (change: (body: string) => string | undefined) => Promise<number>;

  /** Keeps bytes under a name; the first ones stay. */
  readonly keepBytes: (name: string, bytes: Uint8Array) => Promise<void>;
  readonly sizeOf: (name: string) => Promise<number | undefined>;
  readonly namesOfBytes: (prefix: string) => Promise<readonly string[]>;
  readonly readBytes: (name: string) => Promise<Uint8Array | undefined>;
  /** Removes bytes whose name begins so and that are older than so many days. */
  readonly clearBytes: (prefix: string, days: number) => Promise<void>;
};
