// "open job 1042 bus 17 injectors cyl 1-6 412350 km misfire reported": what a message says of a new job.
import { DateTime } from 'luxon';
import type { Plan } from '../../job/plan.ts';
import { placesNamed } from '../../language/places-named.ts';
import { personNamed, type Workshop } from '../workshop.ts';

/** What is known of a job to be opened; what is missing is asked for with the form. */
export type Opening = {
  readonly job?: string;
  readonly vehicle?: string;
  readonly vin?: string;
  readonly plan?: string;
  readonly positions?: readonly string[];
  readonly reading?: { readonly value: number; readonly unit: 'km' | 'mi' | 'h' };
  readonly complaint?: string;
  readonly technician?: string;
  readonly promised?: string;
  /** Options of the plan that are chosen. */
  readonly options?: readonly string[];
  /** The fields of a filled form as they were typed, so that the form is given back as it was. */
  readonly typed?: Readonly<Record<string, string>>;
  /** What does not fit in a field of that form, by the field's name. */
  readonly wrong?: Readonly<Record<string, string>>;
};

const VEHICLE =
  /\b(bus|coach|truck|lorry|van|trailer|tractor|vehicle|veh|unit|fleet|digger|loader|tipper|car|machine)\s*(?:no\.?|number|#)?\s*([a-z0-9][a-z0-9-]{0,14})/iu;
const JOB = /\bjob\s*(?:no\.?|number|card|#)?\s*[:#]?\s*([a-z]{0,3}-?\d{1,8})\b|#\s*(\d{1,8})\b/iu;
const READING =
  /(?:\b(?:odo(?:meter)?|clock|hours?|reading)\s*[:=]?\s*)?(\d{1,3}(?:[ ,.]\d{3})+|\d{2,7})\s*(km|kms|kilometres|mi|miles|h|hrs?|hours)\b/iu;
const COMPLAINT =
  /\b(?:complaint|reported|reports|fault|symptom|because of|driver says)\s*[:-]?\s*(.+)$/iu;
const TECHNICIAN =
  /\b(?:tech(?:nician)?|for|with|assigned to|give (?:it )?to)\s*[:-]?\s*([\p{L}'-]+)/giu;
const PROMISED =
  /\b(?:promised|ready|due|wanted|needed)\s*(?:by|for|at|on)?\s*[:-]?\s*((?:\d{4}-\d\d-\d\d|today|tomorrow|mon\w*|tue\w*|wed\w*|thu\w*|fri\w*|sat\w*|sun\w*)?\s*(?:at\s*)?(?:\d{1,2}[:.]\d\d|\d{1,2}\s*(?:am|pm)|noon)?)/iu;
const VIN = /\b(?=[A-HJ-NPR-Z0-9]*\d)[A-HJ-NPR-Z0-9]{17}\b/u;

const DAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];

/** "Thursday 14:30" or "tomorrow noon" as an instant after now, ISO with offset; undefined if it says neither. */
export const promisedTime = (words: string, now: string, zone: string): string | undefined => {
  const today = DateTime.fromISO(now, { zone });
  const clock = /(\d{1,2})[:.](\d\d)|(\d{1,2})\s*(am|pm)|(noon)/iu.exec(words);
  const dated = /\d{4}-\d\d-\d\d/u.exec(words);
  const day = DAYS.findIndex((name) => new RegExp(`\\b${name}`, 'iu').test(words));
  if (!clock && !dated && day < 0 && !/today|tomorrow/iu.test(words)) return undefined;
  let at = dated ? DateTime.fromISO(dated[0], { zone }) : today.startOf('day');
  if (/tomorrow/iu.test(words)) at = at.plus({ days: 1 });
  if (day >= 0) at = at.plus({ days: (day + 1 - at.weekday + 7) % 7 });
  let hour = clock?.[1]
    ? Number(clock[1])
    : clock?.[3]
      ? Number(clock[3]) % 12
      : clock?.[5]
        ? 12
        : 16;
  if (clock?.[4]?.toLowerCase() === 'pm') hour += 12;
  at = at.set({ hour, minute: clock?.[2] ? Number(clock[2]) : 0 });
  if (!at.isValid) return undefined;
  if (day >= 0 && at < today) at = at.plus({ days: 7 });
  return at.toISO() ?? undefined;
};

const SMALL = new Set([
  'the',
  'a',
  'an',
  'and',
  'of',
  'on',
  'for',
  'renew',
  'replace',
  'renewal',
  'job',
  'new',
  'open',
  'six',
  'engine',
]);

const stem = (word: string): string =>
  word
    .toLowerCase()
    .replace(/(ies)$/u, 'y')
    .replace(/(?<=[a-z]{3})e?s$/u, '');

const wordsOf = (text: string): readonly string[] =>
  (text.toLowerCase().match(/[\p{L}]{3,}/gu) ?? []).filter((word) => !SMALL.has(word)).map(stem);

/** The plan whose name and title share most words with the text, if one does so alone. */
export const planMeant = (text: string, plans: Iterable<Plan>): Plan | undefined => {
  const said = new Set(wordsOf(text));
  let best: { readonly plan: Plan; readonly score: number } | undefined;
  let tied = false;
  for (const plan of plans) {
    const words = new Set(wordsOf(`${plan.plan.replaceAll('-', ' ')} ${plan.title}`));
    const score = text.toLowerCase().includes(plan.plan)
      ? 100
      : [...words].filter((word) => said.has(word)).length;
    if (score === 0) continue;
    if (!best || score > best.score) {
      best = { plan, score };
      tied = false;
    } else if (score === best.score) tied = true;
  }
  return best && !tied ? best.plan : undefined;
};

/** Reads positions of the plan out of the words: full names, or as a report would say them, "cyl 1-3 and 5", "right front". */
export const positionsMeant = (text: string, plan: Plan, workshop: Workshop): readonly string[] => {
  const low = text.toLowerCase();
  const named = [...plan.setOf.keys()].filter((name) =>
    new RegExp(
      `(?<![\\p{L}\\d])${name.toLowerCase().replace(/[.*+?^${}()|[\]\\]/gu, '\\$&')}(?![\\p{L}\\d])`,
      'u',
    ).test(low),
  );
  const said = new Set([...named, ...placesNamed(text, workshop.lexiconOf(plan))]);
  return [...plan.setOf.keys()].filter((name) => said.has(name));
};

const UNITS: Readonly<Record<string, 'km' | 'mi' | 'h'>> = { k: 'km', m: 'mi', h: 'h' };

/** Never throws; what it does not find is left out. */
export const parseOpening = (text: string, workshop: Workshop, now: string): Opening => {
  const line = text.slice(0, 2000).replace(/\s+/gu, ' ').trim();
  const complaint = COMPLAINT.exec(line);
  const head = complaint ? line.slice(0, complaint.index) : line;
  const job = JOB.exec(head) ?? /\bopen\s+(?:a\s+)?(?:new\s+)?(?:job\s+)?(\d{2,8})\b/iu.exec(head);
  const vehicle = VEHICLE.exec(head);
  const reading = READING.exec(head);
  const vin = VIN.exec(head.toUpperCase());
  const people = [...head.matchAll(TECHNICIAN)].map((match) =>
    personNamed(workshop.settings, match[1] ?? ''),
  );
  const technician = people.find((person) => person !== undefined);
  const promised = PROMISED.exec(head);
  const plan = planMeant(head, workshop.plans.values());
  const positions = plan ? positionsMeant(head, plan, workshop) : [];
  const unit = UNITS[reading?.[2]?.[0]?.toLowerCase() ?? ''];
  const number = (job?.[1] ?? job?.[2])?.toUpperCase();
  const at = promised?.[1]?.trim()
    ? promisedTime(promised[1], now, workshop.settings.zone)
    : undefined;
  return {
    ...(number ? { job: number } : {}),
    ...(vehicle ? { vehicle: `${(vehicle[1] ?? '').toLowerCase()} ${vehicle[2]}` } : {}),
    ...(vin ? { vin: vin[0] } : {}),
    ...(plan ? { plan: plan.plan } : {}),
    ...(positions.length > 0 ? { positions } : {}),
    ...(reading && unit
      ? { reading: { value: Number((reading[1] ?? '').replace(/[ ,.]/gu, '')), unit } }
      : {}),
    ...(complaint?.[1] ? { complaint: complaint[1].trim().slice(0, 500) } : {}),
    ...(technician ? { technician: technician.name } : {}),
    ...(at ? { promised: at } : {}),
  };
};
