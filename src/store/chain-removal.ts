// Taking words and names out of events without breaking their chain.
import type { JobEvent, StoredEvent } from '../../shared/event.ts';
import { leafHash, peopleOf, REMOVED_TEXT, readSalts, saltOf } from './chain.ts';
import { type Leaf, withLeaves } from './event-leaves.ts';

/** The same stored event without the leaves that `which` picks; the same object where it picks none. */
function without(
  stored: StoredEvent,
  which: (leaf: Leaf) => string | null | undefined,
): StoredEvent {
  const salts = readSalts(stored.salt);
  const parts: string[] = [];
  let changed = false;
  const event = withLeaves(stored.event, (leaf) => {
    const gone = 'whole' in salts ? undefined : salts.hashes.get(leaf.path);
    if (gone !== undefined) {
      parts.push(`${leaf.path}=h:${gone}`);
      return leaf.value;
    }
    const salt =
      'whole' in salts ? saltOf(salts.whole, leaf.path) : (salts.salts.get(leaf.path) ?? '');
    const instead = which(leaf);
    if (instead === undefined) {
      parts.push(`${leaf.path}=s:${salt}`);
      return leaf.value;
    }
    changed = true;
    parts.push(`${leaf.path}=h:${leafHash(salt, leaf.value)}`);
    return instead;
  });
  return changed ? { ...stored, event: event as JobEvent, salt: parts.join(';') } : stored;
}

/** Picks words to remove; names stay, see `withoutPerson`. */
export type WhichTexts = (event: JobEvent, path: string, text: string) => boolean;

/** The events without the picked words; facts, names and hashes stay, and the chain verifies as before. */
export function withoutTexts(
  events: readonly StoredEvent[],
  which: WhichTexts,
): readonly StoredEvent[] {
  return events.map((stored) =>
    without(stored, ({ path, kind, value }) => {
      if (kind !== 'text' || value === null || !which(stored.event, path, value)) return undefined;
      return path === 'text' ? null : REMOVED_TEXT;
    }),
  );
}

/** The events with a person's name replaced by "removed person", numbered as in the chain, wherever it stands alone. */
export function withoutPerson(
  events: readonly StoredEvent[],
  name: string,
): readonly StoredEvent[] {
  const number = peopleOf(events).numbers.get(name);
  if (number === undefined) return events;
  return events.map((stored) =>
    without(stored, ({ kind, value }) =>
      kind === 'name' && value === name ? `removed person ${number}` : undefined,
    ),
  );
}
