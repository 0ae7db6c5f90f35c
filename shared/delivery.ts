// What arrives from any channel, after the channel verified and translated it. Strict, since it is kept on disk.
import { z } from 'zod';

const When = z.iso.datetime({ offset: true });

const base = {
  /** Unique for what happened, however often it is delivered. */
  id: z.string().min(1).max(300),
  /** Further keys against doubles: team + channel + ts + subtype + edited.ts. */
  keys: z.array(z.string().max(400)).max(4),
  channel: z.enum(['bench', 'slack', 'teams']),
  /** Workspace or tenant; "bench" on the bench. */
  team: z.string(),
  /** Where in the platform: its channel id, and the thread's root id where it is in a thread. */
  place: z.string(),
  thread: z.string().optional(),
  /** The platform's id of the person, and the name where the channel knows it. */
  person: z.string(),
  at: When,
};

export const Attachment = z.strictObject({
  name: z.string().max(200),
  type: z.string().max(100),
  bytes: z.number().int().nonnegative(),
  /** Where the channel fetches it from, or the file name under which the bench already kept it. */
  from: z.string(),
});

export const Delivery = z.discriminatedUnion('kind', [
  z.strictObject({
    ...base,
    kind: z.literal('message'),
    /** The platform's id of the message. */
    message: z.string(),
    text: z.string(),
    typed: When.optional(),
    direct: z.boolean().optional(),
    files: z.array(Attachment).optional(),
  }),
  z.strictObject({ ...base, kind: z.literal('edit'), message: z.string(), text: z.string() }),
  z.strictObject({ ...base, kind: z.literal('delete'), message: z.string() }),
  z.strictObject({
    ...base,
    kind: z.literal('reaction'),
    message: z.string(),
    sign: z.string(),
    on: z.boolean(),
  }),
  /** A tap or a filled form: the card's intent as JSON, and the fields. */
  z.strictObject({
    ...base,
    kind: z.literal('tap'),
    intent: z.string().max(2000),
    fields: z.record(z.string(), z.union([z.string(), z.array(z.string())])).optional(),
    /** The message the card stands in. */
    message: z.string().optional(),
  }),
  /** Somebody joined or left a place, or an account was removed or given back; `own`: the bot itself. */
  z.strictObject({
    ...base,
    kind: z.literal('roll'),
    change: z.enum(['joined', 'left', 'removed', 'returned']),
    own: z.boolean(),
  }),
  /** A slash command, the words behind it. */
  z.strictObject({ ...base, kind: z.literal('command'), text: z.string() }),
]);

export type Delivery = z.infer<typeof Delivery>;
export type Attachment = z.infer<typeof Attachment>;
