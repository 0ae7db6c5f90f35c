// What the bench is given when it is set up.
import type { SharedShelf } from '../../store/shared-shelf.ts';
import type { BenchPlanDesk, BenchView } from './bench-view.ts';

/** The part of a logger the bench uses; pino fits it. */
export type BenchLog = {
  readonly info: (facts: object, text: string) => void;
  readonly warn: (facts: object, text: string) => void;
  readonly error: (facts: object, text: string) => void;
};

/** A complaint about the text of a plan, at its line; `Complaint` of the plan format fits it. */
export type PlanComplaint = {
  readonly level?: 'error' | 'warning';
  readonly line: number;
  readonly what: string;
  readonly expected?: string;
  readonly mend: string;
};

/** How the bench is opened to the workshop's network; everybody needs a pass then. */
export type BenchNetwork = {
  /** Names and addresses people open the bench by. Left out only behind a proxy, which sees to that itself. */
  readonly names?: readonly string[];
  /** Certificate and key as PEM. Left out: a proxy before the bench does TLS, and what it says of a request counts. */
  readonly tls?: { readonly cert: string; readonly key: string };
};

export type BenchOptions = {
  /** The bench's own folder; made when it is missing. Not touched where there is a shelf. */
  readonly folder: string;
  /** What several processes that serve the page share: talk, passes, photos are on it. */
  readonly shelf?: SharedShelf;
  /** 0 lets the system choose; `address()` tells which. */
  readonly port: number;
  /** A loopback address, unless `network` is given. */
  readonly host: string;
  readonly network?: BenchNetwork;
  /** The salted hash of a person's own code from the settings: "salt:hash". */
  readonly ownCodeOf?: (person: string) => string | undefined;
  readonly view: BenchView;
  /** The time now, ISO 8601 with offset. */
  readonly clock: () => string;
  readonly log?: BenchLog;
  /** The root message of a job's thread on the bench, where the store knows it. Found from the posts otherwise. */
  readonly threadOf?: (job: string) => Promise<string | undefined>;
  /** Answers /health and /metrics; neither is served without it. */
  readonly health?: (
    path: string,
    asPage: boolean,
  ) => Promise<
    { readonly status: number; readonly type: string; readonly body: string } | undefined
  >;
  /** Loads the demonstration; the button is left out without it. */
  readonly loadDemo?: () => Promise<void>;
  /** Complaints about a plan's text, in the order of its lines; the page is left out without it. */
  readonly planCheck?: (
    text: string,
  ) => readonly PlanComplaint[] | Promise<readonly PlanComplaint[]>;
  /** What else the plan desk does; buttons for what is left out are not shown. */
  readonly planDesk?: BenchPlanDesk;
};
