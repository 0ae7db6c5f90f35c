// The claim folder as a document to print or to read as plain text: what it lacks stands on the first page.
import { duration } from '../desk/say.ts';
import type { ClaimFolder, ClaimQuote } from './claim-folder.ts';
import type { DocumentBlock, PrintDocument } from './document.ts';
import { gather, gatheredPlace, likenessOf } from './print/gather.ts';
import { dayAndTime, shortTime } from './words.ts';

export const claimDocument = (claim: ClaimFolder): PrintDocument => {
  const { record } = claim;
  const { job, zone } = record;
  return {
    title: `Claim folder of job ${job.number}, ${job.vehicle.name}`,
    running: `Claim folder, job ${job.number}, ${job.vehicle.name}. Made ${dayAndTime(record.madeAt, zone)} (${zone})`,
    made: record.madeAt,
    blocks: [
      { kind: 'heading', level: 1, text: `Claim folder: job ${job.number}, ${job.vehicle.name}` },
      {
        kind: 'notice',
        title: claim.lacks.length === 0 ? 'Nothing is lacking' : 'Still lacking',
        lines:
          claim.lacks.length === 0
            ? ['Complaint, cause, parts, tests and sign-off are on record.']
            : claim.lacks,
      },
      ...paragraph('Complaint', claim.complaint),
      ...paragraph('Cause', claim.cause),
      ...paragraph('Correction', claim.correction),
      ...partsPart(claim),
      ...testsPart(claim),
      ...labourPart(claim),
      ...photosPart(claim),
      { kind: 'heading', level: 2, text: 'What this rests on' },
      { kind: 'code', text: record.chain.end ?? 'chain end not handed over' },
      { kind: 'text', text: record.chain.proves },
      { kind: 'text', small: true, text: record.plan.notice },
    ],
  };
};

const paragraph = (title: string, text: string): readonly DocumentBlock[] => [
  { kind: 'heading', level: 2, text: title },
  { kind: 'text', text },
];

const partsPart = (claim: ClaimFolder): readonly DocumentBlock[] => {
  const quote = ({ says, by, at }: ClaimQuote): string =>
    `"${says}" (${by}, ${shortTime(at, claim.record.zone)})`;
  const told = [...new Set([...claim.oldPartNumbers, ...claim.oldPartsKept].map(quote))];
  return [
    { kind: 'heading', level: 2, text: 'Failed part and replacement' },
    {
      kind: 'text',
      text:
        told.length === 0
          ? 'Nothing is posted about the old part: neither its number nor where it is kept.'
          : 'Of the old part it was posted:',
    },
    ...(told.length > 0 ? [{ kind: 'list' as const, items: told }] : []),
    ...(claim.replacements.length > 0
      ? [
          {
            kind: 'table' as const,
            columns: [
              { title: 'Replacement', share: 3 },
              { title: 'Position', share: 3 },
              { title: 'Code on the new part', share: 3, code: true },
              { title: 'Entered', share: 3, code: true },
            ],
            rows: claim.replacements.map(({ of, position, code, entered }) => [
              of.replaceAll('-', ' '),
              position ?? '',
              code,
              entered ?? 'not yet',
            ]),
          },
        ]
      : []),
  ];
};

const testsPart = (claim: ClaimFolder): readonly DocumentBlock[] => {
  const rows = gather(claim.tests, ({ title, state, at, by, figures }) =>
    likenessOf(title, state, at, by, ...figures),
  );
  if (rows.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: 'Tests after repair' },
    {
      kind: 'table',
      columns: [
        { title: 'Test', share: 6 },
        { title: 'State', share: 2 },
        { title: 'Figures', share: 3 },
        { title: 'When and who', share: 3 },
      ],
      rows: rows.map((group) => [
        gatheredPlace(group),
        group.one.state === 'done' ? 'done' : 'NOT DONE',
        group.one.figures.join(', '),
        group.one.at === null
          ? ''
          : `${shortTime(group.one.at, claim.record.zone)} ${group.one.by ?? ''}`,
      ]),
      marked: rows.flatMap(({ one }, index) => (one.state === 'done' ? [] : [index])),
    },
  ];
};

const minutesWords = (minutes: number | null): string =>
  minutes === null ? '' : duration(minutes);

const labourPart = ({ labour, record }: ClaimFolder): readonly DocumentBlock[] => {
  if (labour.length === 0) return [];
  const shown = labour.some(({ between }) => between !== null);
  const sum = (values: readonly (number | null)[]): number =>
    values.reduce<number>((total, value) => total + (value ?? 0), 0);
  return [
    { kind: 'heading', level: 2, text: 'Labour by operation against the plan' },
    {
      kind: 'table',
      columns: [
        { title: 'Operation', share: 6 },
        { title: 'Done', share: 1.6 },
        { title: 'Planned for it', share: 2.2 },
        ...(shown ? [{ title: 'Between reports', share: 2.2 }] : []),
      ],
      rows: [
        ...labour.map((one) => [
          one.title,
          `${one.done} of ${one.of}`,
          minutesWords(one.planned),
          ...(shown ? [minutesWords(one.between)] : []),
        ]),
        [
          'Together',
          '',
          duration(sum(labour.map(({ planned }) => planned))),
          ...(shown ? [duration(sum(labour.map(({ between }) => between)))] : []),
        ],
      ],
    },
    {
      kind: 'text',
      small: true,
      text: [
        'Planned: hands-on, the mean of the three-point times of the plan, for the positions that are done.',
        shown
          ? "Between reports: the time since the same person's report before, shared by what one message reports. It is no booking."
          : '',
        record.minutes ? `Booked on the whole job: ${duration(record.minutes.booked)}.` : '',
      ]
        .filter((part) => part !== '')
        .join(' '),
    },
  ];
};

const photosPart = ({ record }: ClaimFolder): readonly DocumentBlock[] =>
  record.photos.length === 0
    ? []
    : [
        { kind: 'heading', level: 2, text: 'Photos' },
        {
          kind: 'table',
          columns: [
            { title: 'Name', share: 3 },
            { title: 'With', share: 4 },
            { title: 'SHA-256', share: 7, code: true },
          ],
          rows: record.photos.map(({ name, shows, sha256 }) => [name, shows.join(', '), sha256]),
        },
      ];
