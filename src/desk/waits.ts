// What a job waits for: released, decided, answered, delivered, made free; since when, and who was asked.
import type { Around, JobView } from '../job/view.ts';
import { clockTime, list, stepAt } from './say.ts';

export const WAIT_KINDS = [
  'release',
  'decision',
  'parts',
  'approval',
  'bay',
  'tool',
  'answer',
  'other',
] as const;
export type WaitKind = (typeof WAIT_KINDS)[number];

export type Wait = {
  /** Stable while it waits, so that the controller is told of it once. */
  readonly key: string;
  readonly kind: WaitKind;
  /** One phrase without a full stop. */
  readonly says: string;
  /** ISO; undefined where it is not known. */
  readonly since: string | undefined;
  /** Who said so, and who was asked: a name, "stores"; as far as it was said. */
  readonly by?: string;
  readonly asked?: string;
};

const KINDS: readonly (readonly [WaitKind, RegExp])[] = [
  [
    'approval',
    /\b(?:approv\w*|go[- ]ahead|authori[sz]\w*|permission|ok from|okay from|sign[- ]?off|quote|estimate|genehmig\w*|freigabe)\b/iu,
  ],
  ['bay', /\b(?:bay|pit|ramp|lift|rollers?|brake tester|wash|bühne|grube)\b/iu],
  [
    'parts',
    /\b(?:parts?|stores?|delivery|deliver\w*|on order|ordered|stock|seals?|gaskets?|bearings?|hoses?|bolts?|kit|pump|filter|discs?|pads?|teile?|lager|lieferung)\b/iu,
  ],
  [
    'tool',
    /\b(?:tools?|puller|wrench|jack|press|spanner|socket|torque|multiplier|crane|hoist|sling|scope|laptop|diagnostic|tester|gauge|werkzeug|abzieher)\b/iu,
  ],
];

/** What words of waiting wait for. A named approval or bay goes before the part it is about. */
export const waitKind = (text: string): WaitKind =>
  KINDS.find(([, pattern]) => pattern.test(text))?.[0] ?? 'other';

const ASKED =
  /\b(?:asked|rang|called|told|chased|phoned|messaged|emailed|waiting (?:for|on)|ask(?:ing)?|gefragt|with)\s+(?:the\s+)?([\p{L}'-]+)/giu;
const PLACES =
  /^(?:stores?|parts|office|supplier|dealer|workshop|foreman|controller|manager|boss|customer|depot|lager|büro)$/iu;

/** Who was asked, as far as the words say: somebody of the workshop, or a place such as stores. */
export const askedIn = (text: string, people: readonly string[]): string | undefined => {
  const names = [...text.matchAll(ASKED)].map((match) => match[1] ?? '');
  for (const name of names) {
    const known = people.find((person) => person.toLowerCase() === name.toLowerCase());
    if (known) return known;
  }
  const place = names.find((name) => PLACES.test(name) && !isWaitedFor(text, name));
  if (place) return place.toLowerCase();
  return people.find((person) => new RegExp(`\\b${escaped(person)}\\b`, 'iu').test(text));
};

/** "Waiting for parts" asks nobody; "asked parts" does. */
const isWaitedFor = (text: string, name: string): boolean =>
  /^parts$/iu.test(name) && /\b(?:waiting|wait) (?:for|on) (?:the )?parts\b/iu.test(text);

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/gu, '\\$&');

const bare = (text: string): string =>
  text
    .replace(/\s+/gu, ' ')
    .replace(/^#\S+\s+/u, '')
    .replace(/[.\s]+$/u, '');

const short = (text: string, most: number): string => {
  const whole = bare(text);
  return whole.length > most ? `${whole.slice(0, most - 1).trimEnd()}…` : whole;
};

/** "still waiting for the seals" as what stands behind "waits for". */
const waitedFor = (text: string): string =>
  bare(text).replace(
    /^(?:(?:still|i'm|i am|we're|we are|all|just)\s+)*(?:waiting|waits?)\s+(?:for|on)\s+/iu,
    '',
  );

/** Most letters of somebody's own words in a list. */
const MOST_LETTERS = 90;

/**
 * Everything a job waits for: held points, what blocks the work, findings to decide, questions to answer.
 * @param people names of the workshop, to see who was asked
 */
export const waitsIn = (view: JobView, people: readonly string[] = []): readonly Wait[] => [
  ...view.holds
    .filter((hold) => hold.state === 'waits' || hold.state === 'refused')
    .map((hold): Wait => {
      const roles = view.plan.stepById.get(hold.step)?.hold?.release ?? [];
      const done = view.steps.find(
        (step) => step.step === hold.step && step.position === hold.position,
      );
      const since = hold.state === 'refused' ? hold.at : done?.at;
      return {
        key: `hold:${hold.step}|${hold.position ?? ''}`,
        kind: 'release',
        says:
          hold.state === 'refused'
            ? `"${stepAt(view, hold.step, hold.position)}" to be put right: its release was refused`
            : `the release of "${stepAt(view, hold.step, hold.position)}"${roles.length > 0 ? ` by a ${roles.join(' or ')}` : ''}`,
        since: since ?? undefined,
        ...(hold.state === 'refused' && hold.by ? { by: hold.by } : {}),
      };
    }),
  ...view.blocked.map((block): Wait => {
    const words = block.text ?? block.says;
    const asked = askedIn(
      words,
      people.filter((name) => name !== block.by),
    );
    return {
      key: `block:${block.message}`,
      kind: waitKind(words),
      says: short(waitedFor(block.says), MOST_LETTERS),
      since: block.since,
      by: block.by,
      ...(asked === undefined ? {} : { asked }),
    };
  }),
  ...view.findings
    .filter((finding) => finding.state === 'open')
    .map(
      (finding): Wait => ({
        key: `finding:${finding.message}`,
        kind: 'decision',
        says: `a decision: ${short(finding.says, MOST_LETTERS)}`,
        since: finding.at,
        by: finding.by,
        asked: view.controller ?? 'a controller',
      }),
    ),
  ...view.questions
    .filter((question) => question.state === 'open')
    .map(
      (question): Wait => ({
        key: `question:${question.question}`,
        kind: 'answer',
        says: `an answer: ${short(question.asks, 2 * MOST_LETTERS)}`,
        since: question.askedAt,
      }),
    ),
];

/** "seals not in (Nell, since 10:10, asked stores)". */
export const waitWords = (wait: Wait, now: string, zone: string): string => {
  const beside = [
    ...(wait.by ? [wait.by] : []),
    ...(wait.since ? [`since ${clockTime(wait.since, now, zone)}`] : []),
    ...(wait.asked && !wait.says.includes(wait.asked) ? [`asked ${wait.asked}`] : []),
  ];
  return beside.length > 0 ? `${wait.says} (${beside.join(', ')})` : wait.says;
};

/** Names of the workshop's people, as far as they are known around a job. */
export const namesAround = (around: Pick<Around, 'people'>): readonly string[] =>
  (around.people ?? []).map(({ name }) => name);

/** What a job waits for, one phrase each. */
export const waitsOf = (
  view: JobView,
  now: string,
  zone: string,
  people: readonly string[] = [],
): readonly string[] => waitsIn(view, people).map((wait) => waitWords(wait, now, zone));

const KIND_WORDS: Readonly<Record<WaitKind, string>> = {
  release: 'a release',
  decision: 'a decision',
  parts: 'parts',
  approval: 'an approval',
  bay: 'a bay',
  tool: 'a tool',
  answer: 'an answer',
  other: 'something else',
};

/** "parts and a bay", for a head line. */
export const waitKindsOf = (waits: readonly Wait[]): string =>
  list([...new Set(waits.map(({ kind }) => KIND_WORDS[kind]))]);
