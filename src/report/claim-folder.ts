// The claim folder: what a warranty desk asks for, from the same events as the record.
import type { JobEvent } from '../../shared/event.ts';
import type { JobRecord } from '../../shared/record.ts';
import type { JobView } from '../job/view.ts';
import { type ClaimLabour, claimLabour, type MinutesBetween } from './claim/labour.ts';
import { claimLacks, type Told } from './claim/lacks.ts';
import { causeParagraph, complaintParagraph, correctionParagraph } from './claim/paragraphs.ts';
import { jobRecord, type RecordOptions } from './job-record.ts';
import { figureWords } from './words.ts';

/** Words of a message, as posted, that tell of an old part. */
export type ClaimQuote = {
  readonly message: string;
  readonly says: string;
  readonly by: string;
  readonly at: string;
};

export type ClaimFolder = {
  readonly record: JobRecord;
  readonly complaint: string;
  readonly cause: string;
  readonly correction: string;
  /** The failed part's own number or code, in the words of whoever posted it. */
  readonly oldPartNumbers: readonly ClaimQuote[];
  /** Its tag and where it is kept, in the words of whoever posted it. */
  readonly oldPartsKept: readonly ClaimQuote[];
  readonly replacements: readonly {
    readonly of: string;
    readonly position: string | null;
    readonly code: string;
    readonly entered: string | null;
  }[];
  readonly tests: readonly {
    readonly title: string;
    readonly position: string | null;
    readonly state: JobRecord['steps'][number]['state'];
    readonly at: string | null;
    readonly by: string | null;
    readonly figures: readonly string[];
  }[];
  readonly labour: readonly ClaimLabour[];
  /** What is still to be asked for; empty when the folder is whole. */
  readonly lacks: readonly string[];
  /** Of these, what only a claim asks for: closing the job asks for the rest by itself. */
  readonly onlyForClaim: readonly string[];
};

export type ClaimOptions = RecordOptions & {
  /** Minutes between two instants; working minutes where the shifts are known. Used only where hours may be shown. */
  readonly minutesBetween?: MinutesBetween;
};

const OLD =
  /\b(?:old|failed|broken|faulty|removed|worn|alte[nrs]?|defekte[nrs]?|ausgebaute[nrs]?)\b/iu;
const KEPT =
  /\b(?:tag(?:ged)?|bag(?:ged)?|shelf|bin|rack|cage|stores?|quarantine|handed in|Anhänger|Regal|Kiste|Lager)\b/iu;
/** A number or code: at least four letters and digits with a digit among them, after a word that announces it. */
const NUMBERED =
  /\b(?:number|no|nr|part|code|serial|p\/n|s\/n|Nummer|Teilenummer)\.?\s*[:#]?\s*(?=[A-Z0-9-]*\d)[A-Z0-9][A-Z0-9-]{3,}\b/iu;

const quotes = (record: JobRecord, wanted: RegExp): readonly ClaimQuote[] =>
  record.messages.flatMap(({ message, text, by, at }) =>
    text !== null && OLD.test(text) && wanted.test(text) ? [{ message, says: text, by, at }] : [],
  );

/** The same inputs as `jobRecord`. */
export const claimFolder = (
  view: JobView,
  events: readonly JobEvent[],
  options: ClaimOptions,
): ClaimFolder => {
  const record = jobRecord(view, events, options);
  const oldPartNumbers = quotes(record, NUMBERED);
  const oldPartsKept = quotes(record, KEPT);
  return {
    record,
    complaint: complaintParagraph(record),
    cause: causeParagraph(record, oldPartNumbers),
    correction: correctionParagraph(record),
    oldPartNumbers,
    oldPartsKept,
    replacements: record.codes.flatMap(({ of, position, read, entered }) =>
      read ? [{ of, position, code: read.code, entered: entered?.code ?? null }] : [],
    ),
    tests: testsOf(record),
    labour: claimLabour(view, options.hours ? options.minutesBetween : undefined),
    ...claimLacks(record, { oldPartNumbers, oldPartsKept, wants: wantsOf(view) }),
  };
};

/** Which readings of the trouble codes the plan asks for. */
const wantsOf = (view: JobView): Told['wants'] =>
  new Set(
    view.plan.steps
      .flatMap(({ report }) => report ?? [])
      .flatMap((ask) => (ask.kind === 'trouble-codes' ? [ask.ask] : [])),
  );

/** Steps that prove the work or hand the vehicle back. */
const testsOf = (record: JobRecord): ClaimFolder['tests'] =>
  record.steps
    .filter(
      ({ phase, state }) => (phase === 'prove' || phase === 'hand back') && state !== 'not-on-job',
    )
    .map(({ step, title, position, state, at, by }) => ({
      title,
      position,
      state,
      at,
      by,
      figures: record.figures
        .filter((one) => one.step === step && one.position === position)
        .map((one) => `${one.of} ${figureWords(one.measured)}`),
    }));
