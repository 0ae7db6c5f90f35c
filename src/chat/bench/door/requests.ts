// The bodies that the page sends, strict at every level.
import { z } from 'zod';
import type { Intent } from '../../../desk/card.ts';

/** Characters of one message. A long remark has a few hundred; a pasted page does not belong on a job. */
export const TEXT_LIMIT = 4000;
export const PLAN_LIMIT = 200_000;

const Client = z.string().regex(/^[a-z0-9-]{8,64}$/, 'an id of 8 to 64 small letters and digits');
const Thread = z
  .string()
  .regex(/^[a-z0-9-]{1,80}$/, 'the id of a thread')
  .nullable();
const Text = z
  .string()
  .max(TEXT_LIMIT, `a message may have ${TEXT_LIMIT.toLocaleString('en')} characters at most`);
const Job = z.string().min(1).max(80);
const Word = z.string().min(1).max(200);
const Position = z.string().max(200).nullable();

export const TapIntent = z.discriminatedUnion('do', [
  z.strictObject({
    do: z.literal('answer'),
    job: Job,
    question: Word,
    choice: z.number().int().min(0).max(100).nullable(),
  }),
  z.strictObject({
    do: z.literal('report'),
    job: Job,
    step: Word,
    position: Position,
    ask: Word.exactOptional(),
  }),
  z.strictObject({
    do: z.literal('release'),
    job: Job,
    step: Word,
    position: Position,
    asked: z.literal(true).exactOptional(),
  }),
  z.strictObject({
    do: z.literal('refuse'),
    job: Job,
    step: Word,
    position: Position,
    asked: z.literal(true).exactOptional(),
  }),
  z.strictObject({ do: z.literal('override'), job: Job, flag: z.string().min(1).max(600) }),
  z.strictObject({ do: z.literal('acknowledge'), job: Job, flag: z.string().min(1).max(600) }),
  z.strictObject({
    do: z.literal('settle-finding'),
    job: Job,
    message: Word,
    settle: z.enum(['approved', 'declined']),
  }),
  z.strictObject({ do: z.literal('open-job') }),
  z.strictObject({ do: z.literal('close-job'), job: Job }),
  z.strictObject({ do: z.literal('cancel-job'), job: Job }),
  z.strictObject({ do: z.literal('choose-job'), delivery: z.string().min(1).max(300), job: Job }),
  z.strictObject({
    do: z.literal('say'),
    job: Job.exactOptional(),
    text: z.string().min(1).max(500),
  }),
]) satisfies z.ZodType<Intent>;

export const Who = z.strictObject({ name: z.string().trim().min(1).max(60) });

/** The page's own clock, so that a message typed without signal keeps its time. Milliseconds since 1970. */
export const Clocks = z.strictObject({
  typed: z.number().int().nonnegative(),
  sent: z.number().int().nonnegative(),
  /** What the bench last told this page about its own time, as it was told. */
  contact: z.string().max(200),
});

/** The poster's own code, where the device is shared and what is sent takes it. */
const code = z.string().trim().min(1).max(40).optional();

export const PhotoId = z.string().regex(/^[a-z0-9-]{16,64}$/);

export const Say = z
  .strictObject({
    id: Client,
    thread: Thread,
    text: Text,
    code,
    clocks: Clocks.optional(),
    photos: z
      .array(z.string().regex(/^[a-z0-9-]{8,80}\.(jpg|png|webp)$/))
      .max(4)
      .optional(),
  })
  .refine(({ text, photos }) => text.trim() !== '' || (photos?.length ?? 0) > 0, {
    message: 'the message is empty',
    path: ['text'],
  });

export const Change = z.strictObject({
  id: Client,
  thread: Thread,
  message: z.string().regex(/^[a-z0-9-]{1,80}$/),
  text: Text.refine((text) => text.trim() !== '', 'the message is empty'),
  code,
});

export const TakeBack = z.strictObject({
  id: Client,
  thread: Thread,
  code,
  message: z.string().regex(/^[a-z0-9-]{1,80}$/),
});

export const Tap = z.strictObject({
  id: Client,
  thread: Thread,
  intent: TapIntent,
  code,
  message: z
    .string()
    .regex(/^[a-z0-9-]{1,80}$/)
    .optional(),
  fields: z
    .record(
      z.string().max(100),
      z.union([z.string().max(TEXT_LIMIT), z.array(z.string().max(500)).max(100)]),
    )
    .refine((fields) => Object.keys(fields).length <= 60, 'too many fields')
    .optional(),
  /** Names of the fields that hold a local date and time. */
  times: z.array(z.string().max(100)).max(60).optional(),
});

export const AskForm = z.strictObject({ intent: TapIntent });
export const CheckPlan = z.strictObject({ text: z.string().max(PLAN_LIMIT) });
export const TryPlan = z.strictObject({
  text: z.string().max(PLAN_LIMIT),
  messages: z.array(z.string().max(TEXT_LIMIT)).max(60, 'more than 60 messages'),
});
export const PlanText = z.strictObject({ plan: z.string().max(100) });
export const Nothing = z.strictObject({});
