// The workshop's settings file, settings.yaml in the data folder.
import { z } from 'zod';
import { ROLES } from './plan.ts';

const Clock = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'hours and minutes such as 07:30');
const Weekday = z.enum(['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun']);

export const Person = z.strictObject({
  name: z.string().trim().min(1).max(60),
  roles: z.array(z.enum(ROLES)).min(1),
  language: z
    .string()
    .regex(/^[a-z]{2}$/)
    .optional(),
  competences: z.array(z.string()).optional(),
  shifts: z
    .array(z.string())
    .min(1)
    .optional()
    .describe('names of the shifts this person works; left out: any shift'),
  under: z.string().optional().describe('works under the supervision of this person'),
  also: z.array(z.string()).optional().describe('other names people call them: Jo, Joanna'),
  slack: z
    .string()
    .regex(/^[UW][A-Z0-9]{2,}$/)
    .optional(),
  teams: z.string().optional(),
  code: z
    .string()
    .min(4)
    .optional()
    .describe('salted hash of the personal code asked for on a shared tablet'),
});

export const Shift = z.strictObject({
  name: z.string(),
  days: z.array(Weekday).min(1),
  from: Clock,
  to: Clock,
  breaks: z
    .array(
      z.strictObject({
        name: z.string(),
        from: Clock,
        to: Clock,
        words: z.array(z.string()).optional(),
      }),
    )
    .optional(),
});

export const Notes = z.strictObject({
  'shift-start': z.boolean().optional().describe('what stands when a shift begins; on if left out'),
  'shift-end': z
    .boolean()
    .optional()
    .describe('what stands when a shift ends, and handovers of its jobs; on if left out'),
  week: z
    .union([
      z.literal(false).describe('no weekly note'),
      z.strictObject({ day: Weekday, at: Clock }),
    ])
    .optional()
    .describe('when the week before is looked back on; left out: as its first shift begins'),
});

export const Settings = z.strictObject({
  workshop: z.string().trim().min(1).max(80),
  zone: z.string().describe('IANA time zone, such as Europe/London'),
  language: z
    .string()
    .regex(/^[a-z]{2}$/)
    .optional(),
  people: z.array(Person).min(1),
  shifts: z.array(Shift).optional(),
  'days-off': z.array(z.iso.date()).optional(),
  notes: Notes.optional().describe('shift notes in the common channel; they need shifts'),
  'nudge-after-minutes': z
    .number()
    .int()
    .positive()
    .optional()
    .describe(
      'working minutes after which the controller is told once of what waits; 60 if left out',
    ),
  plans: z.array(z.string()).optional().describe('folders with plan files beside the shipped ones'),
  hours: z.strictObject({ 'shown-to': z.array(z.enum(ROLES)) }).optional(),
  'keep-text-days': z.number().int().positive().optional(),
  'back-again-days': z.number().int().positive().optional(),
  slack: z
    .strictObject({
      channel: z.string().optional().describe('where jobs are opened and stop flags appear'),
    })
    .optional(),
  teams: z
    .strictObject({
      channel: z
        .string()
        .regex(/^19:.+@thread\.(?:tacv2|skype|v2)$/, 'an id such as 19:…@thread.tacv2')
        .optional()
        .describe('where jobs are opened and stop flags appear'),
    })
    .optional(),
});

export type Person = z.infer<typeof Person>;
export type Settings = z.infer<typeof Settings>;
export type Shift = z.infer<typeof Shift>;
export type Notes = z.infer<typeof Notes>;
