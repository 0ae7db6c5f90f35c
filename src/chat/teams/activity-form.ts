// What arrives at the messaging endpoint, as far as it concerns us. The service sends more than this and adds to it, so
// unknown parts are let through; what we read is checked.
import { z } from 'zod';

const Text = z.string().max(100_000);
const Id = z.string().min(1).max(500);

const Account = z.looseObject({
  id: Id,
  name: z.string().max(300).nullish(),
  /** The person's id in the organisation's directory, the same in every conversation. */
  aadObjectId: z.string().max(100).nullish(),
});

const Attached = z.looseObject({
  contentType: z.string().max(200).nullish(),
  contentUrl: z.string().max(4_000).nullish(),
  content: z.unknown().optional(),
  name: z.string().max(500).nullish(),
});

const Reaction = z.looseObject({ type: z.string().min(1).max(60) });

export const Activity = z.looseObject({
  type: z.string().min(1).max(60),
  id: Id.optional(),
  name: z.string().max(200).nullish(),
  timestamp: z.string().max(60).nullish(),
  serviceUrl: z.string().max(500),
  from: Account,
  recipient: Account.nullish(),
  conversation: z.looseObject({
    id: Id,
    conversationType: z.string().max(60).nullish(),
    tenantId: z.string().max(100).nullish(),
  }),
  text: Text.nullish(),
  textFormat: z.string().max(30).nullish(),
  replyToId: z.string().max(500).nullish(),
  entities: z
    .array(z.looseObject({ type: z.string().max(60) }))
    .max(200)
    .nullish(),
  attachments: z.array(Attached).max(50).nullish(),
  reactionsAdded: z.array(Reaction).max(20).nullish(),
  reactionsRemoved: z.array(Reaction).max(20).nullish(),
  channelData: z
    .looseObject({
      eventType: z.string().max(100).nullish(),
      tenant: z.looseObject({ id: z.string().max(100).nullish() }).nullish(),
      team: z
        .looseObject({
          id: z.string().max(500).nullish(),
          aadGroupId: z.string().max(100).nullish(),
        })
        .nullish(),
    })
    .nullish(),
  value: z.unknown().optional(),
});

export type Activity = z.infer<typeof Activity>;

/** A tap on a button or a sent form: what our cards put into their data, and what was filled in beside it. */
export const TapData = z.looseObject({
  intent: z.string().min(1).max(2_000),
});

/** What the data of a card may hold beside the fields of a form. */
export const OWN_NAMES: ReadonlySet<string> = new Set(['intent', 'msteams', 'several']);
