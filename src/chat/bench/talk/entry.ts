// What stands in a thread of the bench, and the records on disk that it is folded from.
import { z } from 'zod';
import { Attachment } from '../../../../shared/delivery.ts';
import type { Card } from '../../../desk/card.ts';

export type Mark = 'recorded' | 'asked' | 'unrecorded';

export type Entry = {
  /** The message's id on the bench. */
  readonly id: string;
  /** The thread's root, or null in the yard. */
  readonly thread: string | null;
  readonly at: string;
  /** Said by a person. */
  readonly by?: string;
  readonly text?: string;
  readonly typed?: string;
  /** The shared tablet on which the poster was only chosen. */
  readonly chosenOn?: string;
  readonly files?: readonly Attachment[];
  /** Posted by the bot. */
  readonly card?: Card;
  readonly key?: string;
  /** When that happened which it speaks of, where it was posted more than an hour later. */
  readonly of?: string;
  /** Only this person sees it. */
  readonly only?: string;
  readonly changedAt?: string;
  readonly takenBack?: boolean;
  readonly mark?: Mark;
  readonly pinned?: boolean;
};

const Id = z.string().regex(/^[a-z0-9-]{1,80}$/);

/** A kept card is read loosely: later versions may add to it, and what is shown is drawn with care anyway. */
const KeptCard = z
  .looseObject({
    text: z.string(),
    blocks: z.array(z.looseObject({ kind: z.string() })),
  })
  .transform((card) => card as unknown as Card);

export const Line = z.discriminatedUnion('what', [
  z.strictObject({
    what: z.literal('said'),
    id: Id,
    client: Id,
    at: z.string(),
    by: z.string(),
    text: z.string(),
    typed: z.string().optional(),
    chosenOn: z.string().optional(),
    files: z.array(Attachment).optional(),
  }),
  z.strictObject({
    what: z.literal('changed'),
    id: Id,
    client: Id,
    at: z.string(),
    text: z.string(),
  }),
  z.strictObject({ what: z.literal('taken-back'), id: Id, client: Id, at: z.string() }),
  z.strictObject({
    what: z.literal('posted'),
    id: Id,
    at: z.string(),
    key: z.string(),
    card: KeptCard,
    of: z.string().optional(),
    only: z.string().optional(),
  }),
  z.strictObject({ what: z.literal('redrawn'), id: Id, at: z.string(), card: KeptCard }),
  z.strictObject({
    what: z.literal('signed'),
    id: Id,
    mark: z.enum(['recorded', 'asked', 'unrecorded']),
  }),
  z.strictObject({ what: z.literal('pinned'), id: Id }),
]);

export type Line = z.infer<typeof Line>;

/** The entry after a line; undefined where the line speaks of an entry that is not there. */
export function afterLine(
  entry: Entry | undefined,
  line: Line,
  thread: string | null,
): Entry | undefined {
  switch (line.what) {
    case 'said': {
      const { id, at, by, text, typed, chosenOn, files } = line;
      return {
        id,
        thread,
        at,
        by,
        text,
        ...(typed === undefined ? {} : { typed }),
        ...(chosenOn === undefined ? {} : { chosenOn }),
        ...(files === undefined ? {} : { files }),
      };
    }
    case 'posted': {
      const { id, at, key, card, of, only } = line;
      return {
        id,
        thread,
        at,
        key,
        card,
        ...(of === undefined ? {} : { of }),
        ...(only === undefined ? {} : { only }),
      };
    }
    case 'changed':
      return entry && { ...entry, text: line.text, changedAt: line.at };
    case 'taken-back':
      return entry && { ...entry, takenBack: true };
    case 'redrawn':
      return entry && { ...entry, card: line.card };
    case 'signed':
      return entry && { ...entry, mark: line.mark };
    case 'pinned':
      return entry && { ...entry, pinned: true };
  }
}
