import type { Act, ActKind } from '../../../shared/reading.ts';
import type { MessageRecord, RevisionReading } from './message-log.ts';

/** An act as its message stands now, with the time from which it counts as posted. */
export type StandingAct = {
  readonly act: Act;
  /** Place in the message's reading, so that two acts of one message keep their order. */
  readonly index: number;
  readonly posted: number;
  readonly postedIso: string;
};

/** How much an act claims. An edit that claims less than the message did keeps the message's time. */
const CLAIM: Readonly<Partial<Record<ActKind, number>>> = { started: 1, partial: 2, done: 3 };

/**
 * The acts of a message's newest reading. Figures and spelling may be edited freely; what an edit adds, or turns into
 * done, counts as posted when edited, so that nobody can put a step under this morning's greeting.
 */
export function standingActs(record: MessageRecord): readonly StandingAct[] {
  const [newest, ...older] = record.readings;
  if (newest === undefined) return [];
  const known = older.map((reading) => ({ reading, claims: claimsOf(reading.acts) }));
  return newest.acts.flatMap((act, index) => {
    const byRevision = new Map<number, string[]>();
    const at = act.positions.length === 0 ? [''] : act.positions;
    for (const position of at) {
      const revision = firstRevision(act, position, newest, known);
      byRevision.set(revision, [...(byRevision.get(revision) ?? []), position]);
    }
    return [...byRevision].map(([revision, positions]) => ({
      act: byRevision.size === 1 ? act : { ...act, positions },
      index,
      ...postedAt(record, revision, newest),
    }));
  });
}

type Claims = ReadonlyMap<string, number>;

const keyOf = (act: Act, position: string): string =>
  [CLAIM[act.kind] === undefined ? act.kind : 'work', act.step, position, act.stage].join('|');

function claimsOf(acts: readonly Act[]): Claims {
  const claims = new Map<string, number>();
  for (const act of acts) {
    for (const position of act.positions.length === 0 ? [''] : act.positions) {
      const key = keyOf(act, position);
      claims.set(key, Math.max(claims.get(key) ?? 0, CLAIM[act.kind] ?? 0));
    }
  }
  return claims;
}

/** The revision since which the message has said this without a break. */
function firstRevision(
  act: Act,
  position: string,
  newest: RevisionReading,
  older: readonly { readonly reading: RevisionReading; readonly claims: Claims }[],
): number {
  let since = newest.revision;
  for (const { reading, claims } of older) {
    const claim = claims.get(keyOf(act, position));
    if (claim === undefined || claim < (CLAIM[act.kind] ?? 0)) break;
    since = reading.revision;
  }
  return since;
}

function postedAt(
  record: MessageRecord,
  revision: number,
  newest: RevisionReading,
): { readonly posted: number; readonly postedIso: string } {
  if (revision === 0) return { posted: record.posted, postedIso: record.postedIso };
  const edit = record.edits[revision - 1];
  return { posted: edit?.at ?? newest.at, postedIso: edit?.iso ?? newest.iso };
}
