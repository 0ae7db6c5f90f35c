// The record as a document to print. Nothing in it is left to colour, and every limit stands with its source.
import type { JobRecord } from '../../shared/record.ts';
import type { DocumentBlock, PrintDocument } from './document.ts';
import { decisionsPart } from './print/decisions-part.ts';
import { figuresPart } from './print/figures-part.ts';
import { firstPage } from './print/first-page.ts';
import { dayAndTime, placeWords } from './words.ts';

export const recordDocument = (record: JobRecord): PrintDocument => ({
  title: `Record of job ${record.job.number}, ${record.job.vehicle.name}`,
  running: `Job ${record.job.number}, ${record.job.vehicle.name}. Record made ${dayAndTime(record.madeAt, record.zone)} (${record.zone})`,
  made: record.madeAt,
  blocks: [
    ...firstPage(record),
    ...figuresPart(record),
    ...decisionsPart(record),
    ...lastPage(record),
  ],
});

/** Sign-off, the plan by its hash, the end of the chain and what it proves: always on the last page, together. */
const lastPage = (record: JobRecord): readonly DocumentBlock[] => [
  { kind: 'new-page' },
  { kind: 'heading', level: 2, text: 'Sign-off' },
  { kind: 'facts', rows: signOffRows(record) },
  { kind: 'heading', level: 2, text: 'The plan' },
  {
    kind: 'facts',
    rows: [
      ['Plan', `${record.plan.title} (${record.plan.id})`],
      ['SHA-256 of its text', record.plan.hash],
      ...(record.plan.openedWith === record.plan.hash
        ? []
        : [['Opened with the plan', record.plan.openedWith] as const]),
      ...record.plan.moved.map(
        ({ at, by, changes }) =>
          ['Moved', `${dayAndTime(at, record.zone)} by ${by}: ${changes.join('; ')}`] as const,
      ),
    ],
  },
  { kind: 'text', text: record.plan.notice },
  { kind: 'heading', level: 2, text: 'The end of the chain' },
  { kind: 'code', text: record.chain.end ?? 'not handed over with these events' },
  { kind: 'text', text: record.chain.proves },
  {
    kind: 'text',
    small: true,
    text: `Record version ${record.version}, made ${dayAndTime(record.madeAt, record.zone)}; all times are those of the clocks in ${record.zone}. The same record as JSON holds every event's particulars.`,
  },
];

const signOffRows = (record: JobRecord): readonly (readonly [string, string])[] => {
  const { checks, closed, roadRelease, reopened, cancelled } = record.signOff;
  const say = ({ at, by }: { readonly at: string; readonly by: string }): string =>
    `${by}, ${dayAndTime(at, record.zone)}`;
  return [
    ...checks.map((one) => ['Independent check', `${placeWords(one)}: ${say(one)}`] as const),
    ...record.holds
      .filter(({ decision, counts }) => decision === 'released' && counts)
      .map(
        (hold) =>
          [
            'Released',
            `${placeWords(hold)}: ${say({ at: hold.at ?? '', by: hold.by ?? '' })}`,
          ] as const,
      ),
    [
      'Released to the road',
      roadRelease
        ? `${say(roadRelease)}${roadRelease.role === null ? '' : ` (${roadRelease.role})`}`
        : 'not on record',
    ],
    ['Closed', closed ? say(closed) : 'not closed'],
    ...reopened.map((one) => ['Opened again', `${say(one)}: "${one.reason}"`] as const),
    ...(cancelled ? [['Cancelled', `${say(cancelled)}: "${cancelled.reason}"`] as const] : []),
    [
      'People on this job',
      record.people.map(({ name, did }) => `${name} (${did.join(', ')})`).join('; '),
    ],
  ];
};
