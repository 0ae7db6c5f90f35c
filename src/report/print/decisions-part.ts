// The second half of the record: flags and how they were settled, releases, questions, findings, steps, photos, words.
import type { JobRecord, RecordFlag } from '../../../shared/record.ts';
import type { DocumentBlock } from '../document.ts';
import { placeWords, shortTime } from '../words.ts';
import { gather, gatheredPlace, likenessOf } from './gather.ts';

const heading = (text: string): DocumentBlock => ({ kind: 'heading', level: 2, text });

export const decisionsPart = (record: JobRecord): readonly DocumentBlock[] => [
  ...flags(record),
  ...holds(record),
  ...findings(record),
  ...questions(record),
  ...handovers(record),
  ...steps(record),
  ...photos(record),
  ...messages(record),
  ...needed(record),
];

const when = (record: JobRecord, at: string | null, by: string | null): string =>
  at === null ? '' : `${shortTime(at, record.zone)}${by === null ? '' : ` ${by}`}`;

const HOW = {
  button: ', by the button',
  words: ', in words',
  wrote: ', by writing in the job after it was said',
} as const;

const settledWords = (record: JobRecord, flag: RecordFlag): string => {
  const asked = [
    ...(flag.told ?? []).map(({ at, to }) => `told to ${to} ${when(record, at, null)}`),
    ...flag.acknowledged.map(
      ({ at, by, how }) => `acknowledged ${when(record, at, by)}${how ? HOW[how] : ''}`,
    ),
    ...flag.passedOn.map(({ at, to }) => `passed on to ${to} ${when(record, at, null)}`),
  ];
  if (flag.state === 'open') return ['OPEN', ...asked].join('; ');
  const end = `${flag.state} ${when(record, flag.settledAt, flag.settledByWho)}`.trim();
  return [flag.reason === null ? end : `${end}: "${flag.reason}"`, ...asked].join('; ');
};

/** The flag's sentence with other positions in the place of its own. */
const withoutPosition = ({ says, position }: RecordFlag, put: string): string =>
  position === null ? says : says.replaceAll(`, ${position}`, `, ${put}`);

/** Open ones first, the gravest first. */
const flags = (record: JobRecord): readonly DocumentBlock[] => {
  if (record.flags.length === 0)
    return [heading('Flags'), { kind: 'text', text: 'No flag was raised on this job.' }];
  const rank = (flag: RecordFlag): number =>
    (flag.state === 'open' ? 0 : 3) + ['stop', 'caution', 'advice'].indexOf(flag.level);
  const rows = gather(
    [...record.flags].sort((a, b) => rank(a) - rank(b)),
    (flag) =>
      likenessOf(
        flag.rule,
        flag.level,
        flag.part,
        withoutPosition(flag, ''),
        settledWords(record, flag),
      ),
  );
  return [
    heading('Flags and how they were settled'),
    {
      kind: 'table',
      columns: [
        { title: 'Level', share: 1.4 },
        { title: 'What it says', share: 7 },
        { title: 'Settled', share: 3.6 },
      ],
      rows: rows.map(({ one: flag, at }) => [
        flag.level.toUpperCase(),
        withoutPosition(flag, at),
        settledWords(record, flag),
      ]),
      marked: rows.flatMap(({ one: flag }, index) =>
        flag.state === 'open' && flag.level !== 'advice' ? [index] : [],
      ),
    },
    ...(record.overrides.length > 0
      ? [
          {
            kind: 'list' as const,
            items: record.overrides.map(
              ({ flag, at, by, reason }) =>
                `Let be: ${flag
                  .split('|')
                  .filter((part) => part !== '')
                  .join(', ')}. ${by}, ${shortTime(at, record.zone)}: "${reason}"`,
            ),
          },
        ]
      : []),
  ];
};

const holds = (record: JobRecord): readonly DocumentBlock[] =>
  record.holds.length === 0
    ? []
    : [
        heading('Hold points'),
        {
          kind: 'table',
          columns: [
            { title: 'Hold point', share: 5 },
            { title: 'Decision', share: 2.5 },
            { title: 'When and who', share: 3 },
            { title: 'Reason', share: 3 },
          ],
          rows: record.holds.map((hold) => [
            placeWords(hold),
            hold.decision === 'waits'
              ? 'WAITS'
              : `${hold.decision}${hold.counts ? '' : ' (no longer counts)'}`,
            `${when(record, hold.at, hold.by)}${hold.role === null ? '' : ` (${hold.role})`}`,
            hold.reason ?? '',
          ]),
          marked: record.holds.flatMap(({ decision }, index) =>
            decision === 'released' ? [] : [index],
          ),
        },
      ];

const findings = (record: JobRecord): readonly DocumentBlock[] =>
  record.findings.length === 0
    ? []
    : [
        heading('Findings and extra work'),
        {
          kind: 'table',
          columns: [
            { title: 'Finding', share: 5 },
            { title: 'When and who', share: 3 },
            { title: 'Decision', share: 5 },
          ],
          rows: record.findings.map((one) => [
            one.says,
            when(record, one.at, one.by),
            one.state === 'open'
              ? 'OPEN'
              : `${one.state} ${when(record, one.decidedAt, one.decidedBy)}${one.reason === null ? '' : `: "${one.reason}"`}`,
          ]),
        },
      ];

const questions = (record: JobRecord): readonly DocumentBlock[] =>
  record.questions.length === 0
    ? []
    : [
        heading('Questions asked'),
        {
          kind: 'table',
          columns: [
            { title: 'Asked', share: 2 },
            { title: 'Question', share: 6 },
            { title: 'Answer', share: 4 },
          ],
          rows: record.questions.map((one) => [
            shortTime(one.askedAt, record.zone),
            one.asks,
            one.state === 'answered'
              ? `${one.answer ?? ''} (${when(record, one.answeredAt, one.answeredBy)})`
              : one.state === 'open'
                ? 'OPEN'
                : 'lapsed without an answer',
          ]),
        },
      ];

const handovers = (record: JobRecord): readonly DocumentBlock[] =>
  record.handovers.length === 0
    ? []
    : [
        heading('Handovers'),
        {
          kind: 'list',
          items: record.handovers.map(
            ({ at, by, to, says }) => `${when(record, at, by)}${to ? ` to ${to}` : ''}: ${says}`,
          ),
        },
      ];

const STATE: Readonly<Record<JobRecord['steps'][number]['state'], string>> = {
  open: 'no record',
  started: 'started',
  partial: 'partly reported',
  done: 'done',
  'due-again': 'to be done again',
  'not-on-job': 'not on this job',
};

const saidOfStep = (step: JobRecord['steps'][number]): readonly string[] => [
  ...step.assumed.map((what) => `assumed ${what}`),
  ...step.missing.map((what) => `not said: ${what}`),
];

const steps = (record: JobRecord): readonly DocumentBlock[] => {
  const rows = gather(
    record.steps.filter(({ state }) => state !== 'not-on-job'),
    (step) =>
      likenessOf(step.step, step.state, step.at, step.by, ...step.reportedBy, ...saidOfStep(step)),
  );
  return [
    heading('Every step'),
    {
      kind: 'table',
      columns: [
        { title: 'Phase', share: 1.7 },
        { title: 'Step', share: 5.3 },
        { title: 'State', share: 2 },
        { title: 'When and who', share: 2.8 },
        { title: 'Assumed, or still to report', share: 4 },
      ],
      rows: rows.map(({ one: step, at, all }) => [
        step.phase,
        `${gatheredPlace({ one: step, at, all })}${step.weight === 'safety-critical' ? ' (safety-critical)' : ''}`,
        STATE[step.state],
        `${when(record, step.at, step.by)}${step.reportedBy.length > 0 ? `, reported by ${step.reportedBy.join(', ')}` : ''}`,
        saidOfStep(step).join('; '),
      ]),
    },
  ];
};

const photos = (record: JobRecord): readonly DocumentBlock[] =>
  record.photos.length === 0
    ? []
    : [
        heading('Photos'),
        {
          kind: 'table',
          columns: [
            { title: 'Name', share: 3 },
            { title: 'With', share: 3 },
            { title: 'When and who', share: 2.4 },
            { title: 'SHA-256', share: 6, code: true },
          ],
          rows: record.photos.map((photo) => [
            photo.name,
            photo.shows.join(', '),
            when(record, photo.at, photo.by),
            photo.sha256,
          ]),
        },
      ];

const messages = (record: JobRecord): readonly DocumentBlock[] => [
  heading('What was posted'),
  {
    kind: 'table',
    columns: [
      { title: 'When', share: 2 },
      { title: 'Who', share: 1.6 },
      { title: 'Words', share: 9 },
    ],
    rows: record.messages.map((one) => [
      shortTime(one.at, record.zone),
      one.by,
      one.deleted
        ? '(deleted)'
        : `${one.text ?? '(words removed)'}${one.edited > 0 ? ' (edited)' : ''}`,
    ]),
  },
];

/** Sentences that are alike, as for six cylinders, once with their number. */
const needed = ({ stillNeeded }: JobRecord): readonly DocumentBlock[] => {
  if (stillNeeded.length === 0) return [];
  const times = new Map<string, number>();
  for (const says of stillNeeded) times.set(says, (times.get(says) ?? 0) + 1);
  return [
    heading('Still needed before it can be closed'),
    {
      kind: 'list',
      items: [...times].map(([says, count]) => (count === 1 ? says : `${says} (${count} times)`)),
    },
  ];
};
