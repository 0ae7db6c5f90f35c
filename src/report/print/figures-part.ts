// The middle of the record: tightening, codes, fluids, clearances, other figures, trouble codes, parts.
import type { JobRecord, RecordStage, RecordTightening } from '../../../shared/record.ts';
import type { DocumentBlock } from '../document.ts';
import { figureWords, limitWords, shortTime, withinWords } from '../words.ts';
import { gather, gatheredPlace, likenessOf } from './gather.ts';
import { limitSources } from './limit-sources.ts';

const heading = (text: string): DocumentBlock => ({ kind: 'heading', level: 2, text });
const marked = (rows: readonly (readonly [boolean, ...unknown[]])[]): readonly number[] =>
  rows.flatMap(([mark], index) => (mark ? [index] : []));

export const figuresPart = (record: JobRecord): readonly DocumentBlock[] => {
  const sources = limitSources();
  const parts = [
    ...tightening(record, sources),
    ...clearances(record, sources),
    ...fluids(record),
    ...otherFigures(record, sources),
  ];
  return [
    ...parts,
    ...(parts.length > 0 ? sources.blocks(record.plan.notice) : []),
    ...codes(record),
    ...troubleCodes(record),
    ...renewed(record),
  ];
};

type Sources = ReturnType<typeof limitSources>;

const tightening = (record: JobRecord, sources: Sources): readonly DocumentBlock[] => {
  const isTouched = ({ stages }: RecordTightening): boolean => stages.some(({ at }) => at !== null);
  const touched = record.tightening.filter(isTouched);
  const without = gather(
    record.tightening.filter((series) => !isTouched(series)),
    ({ step }) => step,
  );
  if (record.tightening.length === 0) return [];
  const titles = [...new Set(touched.map(({ title }) => title))];
  return [
    heading('Tightening and loosening'),
    ...(without.length > 0
      ? [
          {
            kind: 'text' as const,
            text: `No record of any stage: ${without.map(gatheredPlace).join('; ')}.`,
          },
        ]
      : []),
    ...titles.flatMap((title): readonly DocumentBlock[] => {
      const series = touched.filter((one) => one.title === title);
      const [first] = series;
      const rows = gather(
        series.flatMap(({ position, stages }) => stages.map((stage) => ({ position, stage }))),
        ({ stage: { said, ...rest } }) => JSON.stringify([rest, said]),
      );
      const said = [
        first?.fasteners ? `${first.fasteners} ${first.of}` : first?.of,
        first?.pattern?.replaceAll('-', ' '),
        paintWords(series.map(({ paintMark }) => paintMark)),
      ].filter((word) => word);
      return [
        { kind: 'heading', level: 3, text: `${title}: ${said.join(', ')}` },
        {
          kind: 'table',
          columns: [
            { title: 'Position', share: 2.7 },
            { title: 'Stage', share: 1.3 },
            { title: 'Planned', share: 4.6 },
            { title: 'Said', share: 2.8 },
            { title: 'Within', share: 1.6 },
            { title: 'When and who', share: 2.8 },
            { title: 'Tool', share: 1.6 },
          ],
          rows: rows.map(({ at, one: { stage } }) => [
            at,
            String(stage.stage),
            planned(stage, sources),
            saidWords(stage),
            stageWithin(stage),
            seen(record, stage),
            stage.tool ?? 'not said',
          ]),
          marked: marked(
            rows.map(({ one: { stage } }) => [stageWithin(stage) === 'NO' || !stage.done]),
          ),
        },
      ];
    }),
  ];
};

const paintWords = (marks: readonly (boolean | null)[]): string => {
  if (marks.every((mark) => mark === null)) return '';
  const done = marks.filter((mark) => mark === true).length;
  return done === marks.length ? 'paint-marked' : `paint mark said at ${done} of ${marks.length}`;
};

const planned = ({ torque, angle }: RecordStage, sources: Sources): string =>
  [torque, angle]
    .flatMap((limit) =>
      limit
        ? [
            `${figureWords({ value: limit.planned, unit: limit.unit })}, from ${sources.limit(limit)}`,
          ]
        : [],
    )
    .join(' and ');

const saidWords = ({ said, done }: RecordStage): string =>
  said.length === 0
    ? done
      ? 'done, no figure'
      : 'no record'
    : said
        .map(({ measured, assumed }) => `${figureWords(measured)}${assumed ? ' (assumed)' : ''}`)
        .join(' and ');

const stageWithin = ({ said }: RecordStage): string =>
  said.some(({ within }) => within === false)
    ? 'NO'
    : said.length === 0
      ? ''
      : said.every(({ assumed }) => assumed)
        ? 'assumed'
        : withinWords(said.every(({ within }) => within === true) ? true : null);

const seen = (
  { zone }: JobRecord,
  { at, by }: { readonly at: string | null; readonly by: string | null },
): string => (at === null ? '' : `${shortTime(at, zone)} ${by ?? ''}`);

const clearances = (record: JobRecord, sources: Sources): readonly DocumentBlock[] => {
  const rows = gather(record.clearances, (one) =>
    likenessOf(one.step, one.valve, figureWords(one.measured), one.within, one.at, one.by),
  );
  return rows.length === 0
    ? []
    : [
        heading('Clearances'),
        {
          kind: 'table',
          columns: [
            { title: 'Position', share: 2 },
            { title: 'Valve', share: 2 },
            { title: 'Target', share: 1.5 },
            { title: 'Limit', share: 3 },
            { title: 'Said', share: 2 },
            { title: 'Within', share: 1.5 },
            { title: 'When and who', share: 3 },
          ],
          rows: rows.map(({ at, one }) => [
            at,
            one.valve,
            figureWords({ value: one.target, unit: one.unit }),
            `${limitWords(one)}${sources.number(one.source)}`,
            figureWords(one.measured),
            withinWords(one.within),
            seen(record, one),
          ]),
          marked: marked(rows.map(({ one: { within } }) => [within === false])),
        },
      ];
};

const litres = (value: number): string => figureWords({ value, unit: 'L' });

const fluids = ({ fluids: rows }: JobRecord): readonly DocumentBlock[] =>
  rows.length === 0
    ? []
    : [
        heading('Fluids'),
        {
          kind: 'table',
          columns: ['Fluid', 'Drained', 'Filled', 'Unaccounted', 'May differ by', 'Balance'].map(
            (title) => ({ title, share: 2 }),
          ),
          rows: rows.map((one) => [
            one.title,
            litres(one.drained),
            litres(one.filled),
            litres(one.unaccounted),
            litres(one.allowed),
            one.balanced === null
              ? 'not on both sides'
              : one.balanced
                ? 'accounted for'
                : 'NOT accounted for',
          ]),
          marked: marked(rows.map(({ balanced }) => [balanced === false])),
        },
      ];

/** What has no table of its own: measured values, volumes, counts. */
const otherFigures = (record: JobRecord, sources: Sources): readonly DocumentBlock[] => {
  const inTables = new Set([
    ...record.tightening.map(({ step }) => step),
    ...record.clearances.map(({ step }) => step),
  ]);
  const rows = gather(
    record.figures.filter(({ step }) => !inTables.has(step)),
    (one) =>
      likenessOf(
        one.step,
        one.of,
        figureWords(one.measured),
        one.assumed,
        one.within,
        one.at,
        one.by,
      ),
  );
  if (rows.length === 0) return [];
  return [
    heading('Other figures'),
    {
      kind: 'table',
      columns: [
        { title: 'Step', share: 4 },
        { title: 'Figure', share: 3 },
        { title: 'Said', share: 2 },
        { title: 'Limit', share: 2.6 },
        { title: 'Within', share: 1.8 },
        { title: 'When and who', share: 2.6 },
      ],
      rows: rows.map(({ one, at }) => [
        gatheredPlace({ one, at, all: [] }),
        one.of,
        `${figureWords(one.measured)}${one.assumed ? ' (assumed)' : ''}`,
        sources.limit(one.limit),
        one.limit ? withinWords(one.within) : '',
        seen(record, one),
      ]),
      marked: marked(rows.map(({ one: { within } }) => [within === false])),
    },
  ];
};

const codes = (record: JobRecord): readonly DocumentBlock[] => {
  const rows = record.codes.filter(({ read, entered }) => read || entered);
  if (rows.length === 0) return [];
  return [
    heading('Component codes'),
    {
      kind: 'table',
      columns: [
        { title: 'Code', share: 2 },
        { title: 'Position', share: 2 },
        { title: 'Read on the part', share: 2, code: true },
        { title: 'When and who', share: 2.4 },
        { title: 'Entered', share: 2, code: true },
        { title: 'When and who', share: 2.4 },
        { title: 'The same', share: 1.5 },
      ],
      rows: rows.map(({ of, position, read, entered, agree }) => [
        of.replaceAll('-', ' '),
        position ?? '',
        read?.code ?? 'no record',
        read ? seen(record, read) : '',
        entered?.code ?? 'no record',
        entered ? seen(record, entered) : '',
        agree === null ? 'not yet' : agree ? 'yes' : 'NO',
      ]),
      marked: marked(rows.map(({ agree }) => [agree === false])),
    },
  ];
};

const troubleCodes = (record: JobRecord): readonly DocumentBlock[] => {
  const { before, cleared, after, gone, still, fresh } = record.troubleCodes;
  const readings = [
    ...before.map((one) => ['Before the work', one] as const),
    ...cleared.map((one) => ['Cleared', one] as const),
    ...after.map((one) => ['After the work', one] as const),
  ];
  if (readings.length === 0) return [];
  const result = [
    ...(gone.length > 0 ? [`gone: ${gone.join(', ')}`] : []),
    ...(still.length > 0 ? [`STILL THERE: ${still.join(', ')}`] : []),
    ...(fresh.length > 0 ? [`NEW: ${fresh.join(', ')}`] : []),
  ];
  const says =
    after.length === 0
      ? 'Not read after the work yet.'
      : result.length === 0
        ? 'None before, none after.'
        : `After the work, ${result.join('; ')}.`;
  return [
    heading('Trouble codes'),
    {
      kind: 'table',
      columns: [
        { title: 'Reading', share: 2 },
        { title: 'Codes', share: 4, code: true },
        { title: 'When and who', share: 2.5 },
      ],
      rows: readings.map(([when, one]) => [
        when,
        one.codes.join(', ') || (when === 'Cleared' ? 'cleared' : 'none'),
        seen(record, one),
      ]),
    },
    { kind: 'text', text: says },
  ];
};

const renewed = (record: JobRecord): readonly DocumentBlock[] => {
  const rows = gather(record.parts, ({ step, part, count, saidNew }) =>
    likenessOf(step, part, count, saidNew?.at ?? null, saidNew?.by ?? null),
  );
  if (rows.length === 0) return [];
  return [
    heading('Parts that must be new'),
    {
      kind: 'table',
      columns: [
        { title: 'Part', share: 3 },
        { title: 'Number', share: 1 },
        { title: 'Step', share: 4 },
        { title: 'Said to be new', share: 3 },
      ],
      rows: rows.map(({ one: part, at, all }) => [
        part.part,
        part.count === null ? '' : String(part.count * all.length),
        gatheredPlace({ one: part, at, all }),
        part.saidNew ? seen(record, part.saidNew) : 'NOT SAID',
      ]),
      marked: marked(rows.map(({ one: { saidNew } }) => [saidNew === null])),
    },
  ];
};
