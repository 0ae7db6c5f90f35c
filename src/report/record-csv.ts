// The record as CSV (RFC 4180): one row for each fact, the same columns for all, so that any table program can sort it.
import type { JobRecord, Measured, RecordLimit } from '../../shared/record.ts';
import { figureWords } from './words.ts';

const COLUMNS = [
  'job',
  'vehicle',
  'fact',
  'step',
  'title',
  'position',
  'what',
  'value',
  'unit',
  'min',
  'max',
  'limit unit',
  'source',
  'within',
  'assumed',
  'state',
  'at',
  'by',
  'message',
  'says',
] as const;

type Column = (typeof COLUMNS)[number];
type Cell = string | number | boolean | null | undefined;
type Row = Readonly<Partial<Record<Column, Cell>>> & { readonly fact: string };

/**
 * A text that a table program would take for a formula gets an apostrophe in front, which such programs show as text:
 * what begins with = + - @, also after blanks and in their wide forms, or with a tab or a line break. Numbers that the
 * record itself holds as numbers stay numbers.
 */
const guarded = (text: string): string =>
  /^(?:\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|[\t\r\n])/u.test(text) ? `'${text}` : text;

const cell = (value: Cell): string => {
  if (value === null || value === undefined) return '';
  if (typeof value === 'number') return String(value);
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  const text = guarded(value);
  return /[",\r\n]/u.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
};

/** The record as text with CRLF line ends and one heading line. */
export const recordCsv = (record: JobRecord): string => {
  const own = { job: record.job.number, vehicle: record.job.vehicle.name };
  const lines = rowsOf(record).map((row) =>
    COLUMNS.map((column) => cell({ ...own, ...row }[column])).join(','),
  );
  return `${[COLUMNS.join(','), ...lines].join('\r\n')}\r\n`;
};

const figure = (measured: Measured): Pick<Row, 'value' | 'unit' | 'says'> => ({
  value: measured.value,
  unit: measured.unit,
  ...(measured.low !== undefined || measured.approx ? { says: figureWords(measured) } : {}),
});

const limits = (
  limit: Partial<RecordLimit> | null,
): Pick<Row, 'min' | 'max' | 'limit unit' | 'source'> =>
  limit ? { min: limit.min, max: limit.max, 'limit unit': limit.unit, source: limit.source } : {};

const place = (one: {
  readonly step: string | null;
  readonly title: string | null;
  readonly position: string | null;
}): Pick<Row, 'step' | 'title' | 'position'> => ({
  step: one.step,
  title: one.title,
  position: one.position,
});

const seen = (one: {
  readonly at: string | null;
  readonly by: string | null;
}): Pick<Row, 'at' | 'by'> => ({ at: one.at, by: one.by });

const rowsOf = (record: JobRecord): readonly Row[] => [
  ...jobRows(record),
  ...workRows(record),
  ...measuredRows(record),
  ...decisionRows(record),
  ...endRows(record),
];

const jobRows = ({ job, plan, minutes }: JobRecord): readonly Row[] => [
  { fact: 'job', state: job.status, at: job.openedAt, by: job.openedBy, says: job.complaint },
  ...(job.vehicle.vin ? [{ fact: 'vin', says: job.vehicle.vin }] : []),
  ...(job.technician ? [{ fact: 'technician', by: job.technician }] : []),
  ...(job.controller ? [{ fact: 'controller', by: job.controller }] : []),
  ...(job.promised ? [{ fact: 'promised', at: job.promised }] : []),
  ...job.readings.map((reading) => ({
    fact: 'reading',
    what: reading.when,
    value: reading.value,
    unit: reading.unit,
  })),
  { fact: 'plan', what: plan.id, title: plan.title, says: plan.hash },
  { fact: 'notice', says: plan.notice },
  ...(minutes
    ? [
        { fact: 'minutes', what: 'booked', value: minutes.booked, unit: 'min' },
        { fact: 'minutes', what: 'planned', value: minutes.planned, unit: 'min' },
      ]
    : []),
];

const workRows = (record: JobRecord): readonly Row[] => [
  ...record.steps
    .filter(({ state }) => state !== 'not-on-job')
    .map((step) => ({
      fact: 'step',
      ...place(step),
      ...seen(step),
      state: step.state,
      message: step.messages.join(' '),
      says: [
        ...step.missing.map((what) => `still to report: ${what}`),
        ...step.assumed.map((what) => `assumed ${what}`),
      ].join('; '),
    })),
  ...record.reports.map((report) => ({
    fact: 'report',
    step: report.step,
    title: report.title,
    position: report.positions.join('; '),
    what: report.kind,
    at: report.at,
    by: report.by,
    message: report.message,
    says: report.says,
  })),
];

const measuredRows = (record: JobRecord): readonly Row[] => [
  ...record.figures.map((one) => ({
    fact: 'figure',
    ...place(one),
    what: one.of,
    ...figure(one.measured),
    ...limits(one.limit),
    within: one.within,
    assumed: one.assumed,
    ...seen(one),
    message: one.message,
  })),
  ...record.tightening.flatMap((series) =>
    series.stages.map((stage) => ({
      fact: series.kind,
      ...place(series),
      what: `${series.of}, stage ${stage.stage}`,
      state: stage.done ? 'done' : 'open',
      ...seen(stage),
      says: stage.tool === null ? null : `tool ${stage.tool}`,
    })),
  ),
  ...record.codes.flatMap(({ of, position, read, entered, agree }) => [
    ...(read
      ? [
          {
            fact: 'code',
            what: `${of} read`,
            position,
            says: read.code,
            ...seen(read),
            message: read.message,
          },
        ]
      : []),
    ...(entered
      ? [
          {
            fact: 'code',
            what: `${of} entered`,
            position,
            says: entered.code,
            ...seen(entered),
            message: entered.message,
            within: agree,
          },
        ]
      : []),
  ]),
  ...record.fluids.flatMap((fluid) => [
    { fact: 'fluid', what: `${fluid.fluid} drained`, value: fluid.drained, unit: fluid.unit },
    { fact: 'fluid', what: `${fluid.fluid} filled`, value: fluid.filled, unit: fluid.unit },
    {
      fact: 'fluid',
      what: `${fluid.fluid} unaccounted`,
      value: fluid.unaccounted,
      unit: fluid.unit,
      min: -fluid.allowed,
      max: fluid.allowed,
      'limit unit': fluid.unit,
      within: fluid.balanced,
    },
  ]),
  ...(['before', 'cleared', 'after'] as const).flatMap((when) =>
    record.troubleCodes[when].map((reading) => ({
      fact: 'trouble codes',
      ...place(reading),
      what: when,
      ...seen(reading),
      message: reading.message,
      says: reading.codes.join('; ') || 'none named',
    })),
  ),
  ...record.parts.map((part) => ({
    fact: 'part',
    ...place(part),
    what: part.part,
    value: part.count,
    state: part.saidNew ? 'said to be new' : 'not said to be new',
    at: part.saidNew?.at,
    by: part.saidNew?.by,
    message: part.saidNew?.message,
  })),
  ...record.photos.map((photo) => ({
    fact: 'photo',
    what: photo.name,
    title: photo.shows.join('; '),
    value: photo.bytes,
    unit: 'B',
    ...seen(photo),
    message: photo.message,
    says: photo.sha256,
  })),
];

const decisionRows = (record: JobRecord): readonly Row[] => [
  ...record.flags.map((flag) => ({
    fact: 'flag',
    ...place(flag),
    what: `${flag.level} ${flag.rule}${flag.part === null ? '' : ` ${flag.part}`}`,
    state: flag.state,
    at: flag.settledAt,
    by: flag.settledByWho,
    message: flag.raisedBy.join(' '),
    says: flag.reason === null ? flag.says : `${flag.says} Reason: ${flag.reason}`,
  })),
  ...record.overrides.map((one) => ({
    fact: 'override',
    what: one.flag,
    ...seen(one),
    says: one.reason,
  })),
  ...record.holds.map((hold) => ({
    fact: 'hold point',
    ...place(hold),
    state: hold.counts ? hold.decision : `${hold.decision}, no longer counts`,
    ...seen(hold),
    says: hold.reason,
  })),
  ...record.questions.map((one) => ({
    fact: 'question',
    what: one.asks,
    state: one.state,
    at: one.answeredAt ?? one.askedAt,
    by: one.answeredBy,
    message: one.message,
    says: one.answer,
  })),
  ...record.findings.map((one) => ({
    fact: 'finding',
    what: one.says,
    state: one.state,
    ...seen(one),
    message: one.message,
    says: one.reason,
  })),
  ...record.waits.map((one) => ({
    fact: 'waits',
    at: one.since,
    by: one.by,
    message: one.message,
    says: one.says,
  })),
  ...record.handovers.map((one) => ({
    fact: 'handover',
    what: one.to,
    ...seen(one),
    says: one.says,
  })),
];

const endRows = (record: JobRecord): readonly Row[] => {
  const { checks, closed, roadRelease, cancelled, reopened } = record.signOff;
  return [
    ...record.messages.map((one) => ({
      fact: 'message',
      state: one.deleted ? 'deleted' : one.edited > 0 ? 'edited' : 'as posted',
      ...seen(one),
      message: one.message,
      says: one.text,
    })),
    ...checks.map((one) => ({ fact: 'independent check', ...place(one), ...seen(one) })),
    ...(closed ? [{ fact: 'closed', ...seen(closed) }] : []),
    ...(roadRelease ? [{ fact: 'released to the road', ...seen(roadRelease) }] : []),
    ...reopened.map((one) => ({ fact: 'opened again', ...seen(one), says: one.reason })),
    ...(cancelled ? [{ fact: 'cancelled', ...seen(cancelled), says: cancelled.reason }] : []),
    ...record.stillNeeded.map((says) => ({ fact: 'still needed', says })),
    {
      fact: 'chain end',
      value: record.chain.events,
      unit: 'events',
      at: record.madeAt,
      says: record.chain.end,
    },
  ];
};
