// The first page: what job, in what state, what a reader must know before the tables.
import type { JobRecord } from '../../../shared/record.ts';
import { duration, list } from '../../desk/say.ts';
import { formatFigure } from '../../trade/units.ts';
import type { DocumentBlock } from '../document.ts';
import { dayAndTime } from '../words.ts';

const STATUS = { open: 'OPEN, work is not finished', closed: 'closed', cancelled: 'cancelled' };

export const firstPage = (record: JobRecord): readonly DocumentBlock[] => [
  { kind: 'heading', level: 1, text: `Job ${record.job.number}: ${record.job.vehicle.name}` },
  { kind: 'text', text: record.plan.title },
  { kind: 'facts', rows: facts(record) },
  { kind: 'notice', title: inShort(record), lines: attention(record) },
];

const facts = (record: JobRecord): readonly (readonly [string, string])[] => {
  const { job, plan, minutes, zone, signOff } = record;
  const say = (iso: string): string => dayAndTime(iso, zone);
  const reading = job.readings
    .map(({ when, value, unit }) => `${formatFigure(value, 9)} ${unit} when ${when}`)
    .join(', ');
  return [
    ['State', STATUS[job.status]],
    ...(job.vehicle.vin ? [['VIN', job.vehicle.vin] as const] : []),
    ...(reading === '' ? [] : [['Odometer or hours', reading] as const]),
    ['Complaint', job.complaint ?? 'none recorded'],
    ['Opened', `${say(job.openedAt)} by ${job.openedBy}`],
    ...(signOff.closed
      ? [['Closed', `${say(signOff.closed.at)} by ${signOff.closed.by}`] as const]
      : []),
    ...(job.promised ? [['Promised', say(job.promised)] as const] : []),
    ...(job.technician ? [['Technician', job.technician] as const] : []),
    ...(job.controller ? [['Controller', job.controller] as const] : []),
    ...job.positions.map(({ set, names }) => [capital(set), names.join(', ')] as const),
    ...(job.options.length > 0
      ? [['Options', job.options.map(({ title }) => title).join('; ')] as const]
      : []),
    ['Machine of the plan', plan.machine],
    ...(minutes
      ? [
          [
            'Hours',
            `${duration(minutes.booked)} booked, ${duration(minutes.planned)} planned hands-on`,
          ] as const,
        ]
      : []),
  ];
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const inShort = (record: JobRecord): string => {
  const counted = record.steps.filter(({ state }) => state !== 'not-on-job');
  const done = counted.filter(({ state }) => state === 'done').length;
  return `${done} of ${counted.length} steps on record as done`;
};

/** Lines that a reader must not miss; one that says so where there are none. */
const attention = (record: JobRecord): readonly string[] => {
  const open = (level: string): number =>
    record.flags.filter((flag) => flag.state === 'open' && flag.level === level).length;
  const out = record.figures.filter(({ within }) => within === false);
  const assumed = record.figures.filter((one) => one.assumed).length;
  const waits = record.holds.filter(({ decision }) => decision !== 'released');
  const lines = [
    ...(open('stop') > 0 ? [`Stop flags open: ${open('stop')}.`] : []),
    ...(open('caution') > 0 ? [`Caution flags open: ${open('caution')}.`] : []),
    ...(record.overrides.length > 0
      ? [`Flags let be by a controller, with a reason: ${record.overrides.length}.`]
      : []),
    ...(out.length > 0
      ? [
          `Figures out of limits: ${list(
            out.map(({ title, position }) => (position === null ? title : `${title}, ${position}`)),
            3,
          )}.`,
        ]
      : []),
    ...(waits.length > 0
      ? [
          `Hold points not released: ${list(
            waits.map(({ title }) => title),
            3,
          )}.`,
        ]
      : []),
    ...(assumed > 0 ? [`Figures nobody said, the plan's value stands for them: ${assumed}.`] : []),
    ...(record.stillNeeded.length > 0
      ? [
          `Before it can be closed: ${new Set(record.stillNeeded).size} points, listed at "Still needed".`,
        ]
      : []),
    ...(record.signOff.cancelled ? [`Cancelled: ${record.signOff.cancelled.reason}`] : []),
  ];
  return lines.length > 0
    ? lines
    : ['No flag open, no figure out of limits, nothing let be, nothing assumed.'];
};
