// What can be asked about the workshop as a whole: open jobs by any filter, hours, a week, what was done before.
import type { Phase } from '../../../shared/plan.ts';
import type { WaitKind } from '../waits.ts';

export type JobState =
  | 'late'
  | 'waiting'
  | 'blocked'
  | 'flagged'
  | 'stopped'
  | 'to-close'
  | 'nobody';

/** Which open jobs; filters add up. */
export type JobsAsked = {
  readonly ask: 'jobs';
  readonly states: readonly JobState[];
  readonly waitsFor?: WaitKind;
  readonly phase?: Phase;
  /** Name as the settings spell it. */
  readonly person?: string;
  /** Words for the vehicle, as said. */
  readonly vehicle?: string;
  /** Words of the work, as said: "injector". */
  readonly work?: string;
};

export type Span = 'today' | 'yesterday' | 'this-week' | 'last-week';

export type Asked =
  | JobsAsked
  | { readonly ask: 'hours'; readonly span: Span; readonly person?: string }
  | { readonly ask: 'week'; readonly span: 'this-week' | 'last-week' }
  | {
      readonly ask: 'history';
      readonly vehicle?: string;
      readonly work?: string;
      readonly lastOnly: boolean;
    }
  | { readonly ask: 'note' };

export type AskedKnown = {
  /** Who asks, for "my jobs". */
  readonly asker: string;
  /** The person behind a name people use, as the settings spell it. */
  readonly person: (name: string) => string | undefined;
  readonly plans: readonly { readonly plan: string; readonly title: string }[];
  /** Numbers of the open jobs: what names one is about that job. */
  readonly jobs: readonly string[];
  /** Asked in the thread of a job, on this vehicle: there only what names the workshop is about the workshop. */
  readonly inJob?: { readonly vehicle: string } | undefined;
};

const COURTESY =
  /^(?:(?:please|ok|right|hi|hey|morning|chargehand|so|and|can you|could you|bot)[,!.]?\s+)+|(?:[,\s]+(?:please|thanks|cheers|mate|ta|now|right now|again|then))+$/giu;

/** A message as it is compared: small letters, one kind of apostrophe, no courtesy, no mark at its end. */
export const plainAsked = (text: string): string | undefined => {
  const whole = text
    .replace(/[’`´]/gu, "'")
    .replace(/\s+/gu, ' ')
    .trim()
    .toLowerCase()
    .replace(/[?!.\s]+$/u, '');
  if (whole.length === 0 || whole.length > 120) return undefined;
  return whole.replace(COURTESY, '').replace(/[?!.,\s]+$/u, '');
};

const VEHICLE_NOUN = '(?:bus|coach|truck|lorry|van|trailer|tractor|vehicle|minibus|midibus|wagen)';

/** "bus 417", "the coach 88", "417": how a vehicle is named in a question. */
export const VEHICLE = `(?:the\\s+|a\\s+)?(?:${VEHICLE_NOUN}\\s+[\\p{L}\\d-]+|[\\p{L}-]*\\d[\\p{L}\\d-]*)`;

/** Without "the", in the form names are compared in. */
export const vehicleSaid = (words: string): string => words.replace(/^(?:the|a)\s+/u, '').trim();

/** Whether words mean a vehicle: its whole name, or the number or word that tells it apart. */
export const isVehicle = (name: string, words: string): boolean => {
  const own = name.trim().toLowerCase();
  const said = words.trim().toLowerCase();
  if (own === said) return true;
  const parts = own.split(/\s+/u);
  return said.split(/\s+/u).length === 1
    ? parts.at(-1) === said
    : parts.length === 1 && said.split(/\s+/u).at(-1) === own;
};

/** Words that name work rather than ask for it. */
export const stemOf = (word: string): string => word.replace(/(?:'s|s|es)$/u, '');

const wordsOf = (text: string): readonly string[] =>
  text
    .toLowerCase()
    .split(/[^\p{L}\d]+/u)
    .filter((word) => word.length > 1)
    .map(stemOf);

/** Whether every word of the work stands in a plan's name or title: "injector" in "Renew injectors, six-cylinder". */
export const isWork = (
  plan: { readonly plan: string; readonly title: string },
  work: string,
): boolean => {
  const own = new Set([...wordsOf(plan.plan), ...wordsOf(plan.title)]);
  const wanted = wordsOf(work);
  return wanted.length > 0 && wanted.every((word) => own.has(word));
};
