// The chain of hashes over a job's events. Words and names enter it by their salted hash, so that they can be removed
// and the chain still verified; nothing else can be changed without breaking it.
//
// A name enters as the number of the person in the job (in the order in which names first appear) and a salted hash.
// When it is removed it becomes "removed person 2": who did the work and who checked it stay told apart, and proved.
//
// Each word or name has a salt of its own, derived from the event's. Removing one drops the event's salt and keeps the
// derived salts of the others: nobody can find out by trying all names of a small workshop which one was removed.
import { createHash } from 'node:crypto';
import type { JobEvent, StoredEvent } from '../../shared/event.ts';
import { leavesOf, withLeaves } from './event-leaves.ts';

const BEGIN = sha256('chargehand chain, format 1');
export const REMOVED_TEXT = '(removed)';
const REMOVED_NAME = /^removed person ([1-9]\d{0,5})$/;

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

/** JSON with the members in the order of their names and no spaces: the same text for the same value. */
export function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map((v) => canonical(v ?? null)).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  const members = Object.entries(value)
    .filter(([, v]) => v !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${members.map(([k, v]) => `${JSON.stringify(k)}:${canonical(v)}`).join(',')}}`;
}

export const leafHash = (salt: string, value: string | null): string =>
  sha256(`${salt}:${JSON.stringify(value)}`);
export const saltOf = (eventSalt: string, path: string): string =>
  sha256(`${eventSalt}:${path}`).slice(0, 32);

/** What the field `salt` says: one salt for the event, or a salt or hash for each leaf once something was removed. */
export type Salts =
  | { readonly whole: string }
  | { readonly salts: ReadonlyMap<string, string>; readonly hashes: ReadonlyMap<string, string> };

export function readSalts(field: string): Salts {
  if (!field.includes('=')) return { whole: field };
  const salts = new Map<string, string>();
  const hashes = new Map<string, string>();
  for (const part of field.split(';')) {
    const [path = '', kind, value = ''] = part.split(/[=:]/);
    (kind === 'h' ? hashes : salts).set(path, value);
  }
  return { salts, hashes };
}

/** The people of a job in the order in which the chain first names them. */
export type People = { readonly numbers: Map<string, number>; last: number };
export const noPeople = (): People => ({ numbers: new Map(), last: 0 });

function numberOf(people: People, name: string): number {
  const known = people.numbers.get(name);
  if (known !== undefined) return known;
  people.last += 1;
  people.numbers.set(name, people.last);
  return people.last;
}

type Seen = { readonly form: unknown; readonly textHash?: string; readonly why?: string };

/** The event as it enters the chain. */
function chainForm(event: JobEvent, salts: Salts, people: People): Seen {
  let why: string | undefined;
  let textHash: string | undefined;
  const form = withLeaves(event, (leaf) => {
    const removed = 'whole' in salts ? undefined : salts.hashes.get(leaf.path);
    if (removed === undefined) {
      const salt = 'whole' in salts ? saltOf(salts.whole, leaf.path) : salts.salts.get(leaf.path);
      if (salt === undefined) why ??= `"${leaf.path}" has no salt`;
      const hash = leafHash(salt ?? '', leaf.value);
      if (leaf.path === 'text') textHash = hash;
      return leaf.kind === 'text'
        ? { text: hash }
        : { person: numberOf(people, leaf.value ?? ''), hash };
    }
    if (leaf.path === 'text') textHash = removed;
    if (leaf.kind === 'text') {
      if (leaf.value !== (leaf.path === 'text' ? null : REMOVED_TEXT)) {
        why ??= `"${leaf.path}" is marked as removed and yet says something`;
      }
      return { text: removed };
    }
    const number = Number(REMOVED_NAME.exec(leaf.value ?? '')?.[1] ?? 0);
    if (number === 0) why ??= `"${leaf.path}" is marked as removed and yet names somebody`;
    people.last = Math.max(people.last, number);
    return { person: number, hash: removed };
  });
  return {
    form,
    ...(textHash === undefined ? {} : { textHash }),
    ...(why === undefined ? {} : { why }),
  };
}

const link = (previous: string, form: unknown): string => sha256(previous + canonical(form));

/**
 * Adds one event to a chain.
 * @param previous the hash of the event before; undefined for the first.
 * @param salt at least 16 random bytes as hex, used for this event only.
 * @param people the people named so far, from `peopleOf`; the ones of this event are added to it.
 */
export function sealEvent(
  previous: string | undefined,
  event: JobEvent,
  salt: string,
  people: People,
): StoredEvent {
  const { form, textHash } = chainForm(event, { whole: salt }, people);
  const hash = link(previous ?? BEGIN, form);
  return { event, salt, ...(textHash === undefined ? {} : { textHash }), hash };
}

/** The people that a job's events name. */
export function peopleOf(events: readonly StoredEvent[]): People {
  const people = noPeople();
  for (const { event, salt } of events) {
    const salts = readSalts(salt);
    for (const leaf of leavesOf(event)) {
      if (leaf.kind !== 'name') continue;
      if (!('whole' in salts) && salts.hashes.has(leaf.path)) {
        const number = Number(REMOVED_NAME.exec(leaf.value ?? '')?.[1] ?? 0);
        people.last = Math.max(people.last, number);
      } else numberOf(people, leaf.value ?? '');
    }
  }
  return people;
}

export type ChainCheck =
  | {
      readonly good: true;
      /** Hash of the last event, the chain's end; compare it with the one printed on a record. */
      readonly end: string;
      /** Words and names that were removed. */
      readonly removed: number;
    }
  | {
      readonly good: false;
      /** Place in the list of the first event that does not fit, from 0. */
      readonly at: number;
      readonly why: string;
    };

/**
 * Follows the chain from the first event on. What was cut off behind the last event does not show here: compare the
 * end with one kept elsewhere.
 */
export function verifyChain(events: readonly StoredEvent[]): ChainCheck {
  const people = noPeople();
  let previous = BEGIN;
  let removed = 0;
  for (const [at, stored] of events.entries()) {
    const salts = readSalts(stored.salt);
    if (!('whole' in salts)) removed += salts.hashes.size;
    const { form, textHash, why } = chainForm(stored.event, salts, people);
    if (why !== undefined) return { good: false, at, why };
    if (textHash !== stored.textHash) {
      return { good: false, at, why: 'the text is not the one that was recorded' };
    }
    if (link(previous, form) !== stored.hash) {
      return {
        good: false,
        at,
        why: 'this event, or the one that stood before it, is not the one that was recorded',
      };
    }
    previous = stored.hash;
  }
  return { good: true, end: previous, removed };
}
