// Opens a job: every complaint about what is missing or not known at once, else the first event of the job.
import type { JobOpened } from '../../../shared/event.ts';
import { checkJob } from '../turn/check-job.ts';
import { conclude } from '../turn/conclude.ts';
import type { Moment, Turn } from '../turn/turn.ts';
import { type Opening, positionsMeant, promisedTime } from './parse-opening.ts';
import { checkVin } from './vin-remark.ts';

const JOB_NUMBER = /^[A-Za-z0-9][A-Za-z0-9-]{0,19}$/;

/** Fields of the filled form as an opening; `problems` names each field that does not fit. */
export const openingFromFields = (
  fields: Readonly<Record<string, string | readonly string[]>>,
  moment: Moment,
): { readonly opening: Opening; readonly problems: readonly string[] } => {
  const faults: Fault[] = [];
  const text = (name: string): string | undefined => {
    const value = fields[name];
    const first = typeof value === 'string' ? value : value?.join(', ');
    return first?.trim() ? first.replace(/\s+/gu, ' ').trim().slice(0, 500) : undefined;
  };
  const plan = moment.workshop.plans.get(text('plan') ?? '');
  const positionWords = text('positions');
  const positions =
    plan && positionWords ? positionsMeant(positionWords, plan, moment.workshop) : [];
  if (positionWords && positions.length === 0)
    faults.push({
      field: 'positions',
      says: `Positions "${positionWords}" are not on this plan. Name them as the plan does: ${plan ? [...plan.setOf.keys()].join(', ') || 'this plan has none' : 'choose the work first'}.`,
    });
  const readingWords = text('reading');
  const reading = readingWords ? /^([\d ,.]+)\s*(km|mi|h)/iu.exec(readingWords) : undefined;
  if (readingWords && !reading)
    faults.push({
      field: 'reading',
      says: `"${readingWords}" is no odometer or hour reading. Write it as 412350 km, 255000 mi or 9120 h.`,
    });
  const promisedWords = text('promised');
  const promised = promisedWords
    ? isIso(promisedWords)
      ? promisedWords
      : promisedTime(promisedWords, moment.now, moment.workshop.settings.zone)
    : undefined;
  if (promisedWords && !promised)
    faults.push({
      field: 'promised',
      says: `"${promisedWords}" is no time. Write it as Thursday 14:30 or 2026-12-01 14:30.`,
    });
  const ticked = fields.options ?? [];
  const options: string[] = [];
  for (const each of (typeof ticked === 'string' ? [ticked] : ticked).filter((one) => one !== '')) {
    const [of, name = ''] = each.split('/');
    if (of === plan?.plan && plan?.options?.[name] !== undefined) options.push(name);
    else {
      const other = moment.workshop.plans.get(of ?? '');
      faults.push({
        field: 'options',
        says: `"${other?.options?.[name] ?? each.slice(0, 60)}" belongs to ${other ? `"${other.title}"` : 'no plan'}, not to the work chosen. Take it out.`,
      });
    }
  }
  const job = text('job');
  const vehicle = text('vehicle');
  const planName = text('plan');
  const vin = text('vin');
  const complaint = text('complaint');
  const technician = text('technician');
  const opening: Opening = {
    ...(job ? { job } : {}),
    ...(vehicle ? { vehicle } : {}),
    ...(planName ? { plan: planName } : {}),
    ...(positions.length > 0 ? { positions } : {}),
    ...(reading
      ? {
          reading: {
            value: Number((reading[1] ?? '').replace(/[ ,.]/gu, '')),
            unit: (reading[2] ?? 'km').toLowerCase() as 'km' | 'mi' | 'h',
          },
        }
      : {}),
    ...(vin ? { vin } : {}),
    ...(complaint ? { complaint } : {}),
    ...(technician ? { technician } : {}),
    ...(promised ? { promised } : {}),
    ...(options.length > 0 ? { options } : {}),
  };
  const typed = Object.fromEntries(
    Object.entries(fields).map(([name, value]) => [
      name,
      (typeof value === 'string' ? value : value.join('\n')).slice(0, 2000),
    ]),
  );
  const wrong = Object.fromEntries(
    [...openingFaults(opening, moment), ...faults].map(({ field, says }) => [field, says]),
  );
  return {
    opening: { ...opening, typed, wrong },
    problems: faults.map(({ says }) => says),
  };
};

type Fault = { readonly field: string; readonly says: string };

const isIso = (text: string): boolean =>
  /^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d+)?)?(Z|[+-]\d\d:\d\d)$/u.test(text);

/** What is missing or not known, by the field of the form. */
const openingFaults = (opening: Opening, moment: Moment): readonly Fault[] => {
  const faults: Fault[] = [];
  const add = (field: string, says: string): void => void faults.push({ field, says });
  const { plans, settings } = moment.workshop;
  if (!opening.job) add('job', 'Give it a job number.');
  else if (!JOB_NUMBER.test(opening.job))
    add(
      'job',
      `"${opening.job.slice(0, 30)}" is no job number. Use up to 20 letters, digits and hyphens.`,
    );
  else if (moment.jobNumbers.includes(opening.job))
    add('job', `Job ${opening.job} is there already. Use another number.`);
  if (!opening.vehicle) add('vehicle', 'Say which vehicle it is.');
  if (!opening.plan)
    add(
      'plan',
      `Say which work it is: ${[...plans.values()].map((plan) => plan.title).join('; ')}.`,
    );
  else if (!plans.has(opening.plan))
    add(
      'plan',
      `There is no plan "${opening.plan.slice(0, 40)}". Known: ${[...plans.keys()].join(', ')}.`,
    );
  if (opening.technician && !settings.people.some((person) => person.name === opening.technician))
    add(
      'technician',
      `${opening.technician.slice(0, 40)} is not in the settings. Choose one of ${settings.people.map((person) => person.name).join(', ')}.`,
    );
  return faults;
};

/** What still has to be said before the job can be opened, one sentence each. */
export const openingNeeds = (opening: Opening, moment: Moment): readonly string[] =>
  openingFaults(opening, moment).map(({ says }) => says);

/**
 * The first turn of a job.
 * @param opening complete: `openingNeeds` gave nothing
 */
export const openJob = (
  opening: Opening,
  by: {
    readonly id: string;
    readonly by: string;
    readonly roles: readonly string[];
    readonly at: string;
  },
  moment: Moment,
): Turn => {
  const plan = moment.workshop.plans.get(opening.plan ?? '');
  if (!plan || !opening.job || !opening.vehicle)
    throw new Error('openJob was called before openingNeeds gave nothing.');
  const technician = opening.technician ?? (by.roles.includes('technician') ? by.by : undefined);
  const controller =
    (by.roles.includes('controller') ? by.by : undefined) ??
    moment.workshop.settings.people.find((person) => person.roles.includes('controller'))?.name;
  const opened: JobOpened = {
    id: `${by.id}:opened`,
    at: by.at,
    by: by.by,
    kind: 'job-opened',
    job: opening.job,
    vehicle: { name: opening.vehicle, ...(opening.vin ? { vin: opening.vin } : {}) },
    ...(opening.reading ? { reading: opening.reading } : {}),
    ...(opening.complaint ? { complaint: opening.complaint } : {}),
    plan: { id: plan.plan, title: plan.title, hash: plan.hash, text: plan.text },
    positions: [...(opening.positions ?? [])],
    options: [...(opening.options ?? [])],
    ...(technician ? { technician } : {}),
    ...(controller ? { controller } : {}),
    ...(opening.promised ? { promised: opening.promised } : {}),
  };
  const view = checkJob(plan, [opened], moment.now, moment.around);
  const remark = opening.vin ? checkVin(opening.vin) : undefined;
  const pieces = remark
    ? [{ order: 6, card: { text: remark, blocks: [{ kind: 'text' as const, text: remark }] } }]
    : [];
  return conclude({ events: [], view }, [opened], pieces, [], { id: by.id }, moment);
};
