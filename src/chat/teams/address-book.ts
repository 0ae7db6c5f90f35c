// Where conversations are reached: their service addresses, the direct ones of people, the teams that channels belong to.
// Kept by the store, since a post of the bot's own accord needs them after a restart too.
import { z } from 'zod';

export type Marks = {
  readonly mark: (name: string) => Promise<string | undefined>;
  readonly setMark: (name: string, value: string) => Promise<void>;
};

const Entry = z.strictObject({
  serviceUrl: z.string().max(500),
  /** The directory's id of the team a channel belongs to: with it the channel can be read again. */
  group: z.string().max(100).optional(),
});
export type Entry = z.infer<typeof Entry>;

export type AddressBook = {
  /** Undefined where nobody has written in the conversation yet. */
  readonly of: (place: string) => Promise<Entry | undefined>;
  readonly note: (place: string, entry: Entry) => Promise<void>;
  readonly directOf: (person: string) => Promise<string | undefined>;
  readonly noteDirect: (person: string, place: string) => Promise<void>;
};

/** @param isShared whether other processes write too: then what is known here may be old, and is asked for each time */
export const addressBook = (marks: Marks, isShared = false): AddressBook => {
  const known = new Map<string, Entry>();
  const direct = new Map<string, string>();
  const of = async (place: string): Promise<Entry | undefined> => {
    const had = isShared ? undefined : known.get(place);
    if (had) return had;
    const text = await marks.mark(`teams:at:${place}`);
    if (text === undefined) return undefined;
    try {
      const entry = Entry.parse(JSON.parse(text));
      known.set(place, entry);
      return entry;
    } catch {
      return undefined;
    }
  };
  return {
    of,
    note: async (place, entry) => {
      const had = await of(place);
      const next: Entry = { ...had, ...entry };
      if (had && had.serviceUrl === next.serviceUrl && had.group === next.group) return;
      known.set(place, next);
      await marks.setMark(`teams:at:${place}`, JSON.stringify(next));
    },
    directOf: async (person) => {
      const had = direct.get(person) ?? (await marks.mark(`teams:direct:${person}`));
      if (had !== undefined) direct.set(person, had);
      return had;
    },
    noteDirect: async (person, place) => {
      if (direct.get(person) === place) return;
      direct.set(person, place);
      await marks.setMark(`teams:direct:${person}`, place);
    },
  };
};
