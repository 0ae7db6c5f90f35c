// The events of a job in OCEL 2.0 JSON (object-centric event log), so that process-mining programs read them.
// Source of the form: the OCEL 2.0 specification, ocel-standard.org: objectTypes, eventTypes, objects, events; every
// attribute value is a string, whatever its type.
import type { JobEvent } from '../../shared/event.ts';
import { flagKey } from '../../shared/flag.ts';
import type { JobView, Report } from '../job/view.ts';
import { sourcesOf } from './record/sources.ts';

export type OcelType = {
  readonly name: string;
  readonly attributes: readonly { readonly name: string; readonly type: string }[];
};
export type OcelRelationship = { readonly objectId: string; readonly qualifier: string };
export type OcelObject = {
  readonly id: string;
  readonly type: string;
  readonly attributes: readonly {
    readonly name: string;
    readonly time: string;
    readonly value: string;
  }[];
  readonly relationships: readonly OcelRelationship[];
};
export type OcelEvent = {
  readonly id: string;
  readonly type: string;
  readonly time: string;
  readonly attributes: readonly { readonly name: string; readonly value: string }[];
  readonly relationships: readonly OcelRelationship[];
};
export type Ocel = {
  readonly objectTypes: readonly OcelType[];
  readonly eventTypes: readonly OcelType[];
  readonly objects: readonly OcelObject[];
  readonly events: readonly OcelEvent[];
};

const typed = (name: string, ...attributes: readonly string[]): OcelType => ({
  name,
  attributes: attributes.map((each) => {
    const [attribute = '', type = 'string'] = each.split(':');
    return { name: attribute, type };
  }),
});

const OBJECT_TYPES: readonly OcelType[] = [
  typed('job', 'status', 'complaint', 'promised:time'),
  typed('vehicle', 'vin'),
  typed('plan', 'title', 'hash'),
  typed('step', 'title', 'phase', 'weight', 'position', 'state'),
  typed('person'),
  typed('flag', 'rule', 'level', 'state'),
  typed('question', 'asks', 'state'),
  typed('photo', 'name', 'bytes:integer'),
];

const REPORT = ['kind', 'position', 'value:float', 'unit', 'stage:integer', 'code', 'message'];
const RECORDED = ['says', 'reason', 'level', 'message'];

/** Readings are our own working and no happening in the workshop; what they say is in the reports. */
const isHappening = (event: JobEvent): boolean => event.kind !== 'message-read';

/** "Drain the coolant" where it is done; "started: Drain the coolant". */
const activityOf = (report: Report, titleOf: (step: string) => string): string => {
  const title = titleOf(report.act.step ?? '');
  return report.act.kind === 'done' ? title : `${report.act.kind}: ${title}`;
};

/**
 * Every event and every standing report, with the job, its steps, people, flags, questions and photos as objects.
 * A report's activity is the title of its step and its time that of the work.
 */
export const ocel = (view: JobView, given: readonly JobEvent[]): Ocel => {
  const { events, titleOf } = sourcesOf(view, given);
  const recorded = events.filter(isHappening).map((event) => recordedEvent(view, event));
  const reports = view.reports
    .filter(({ act }) => act.step !== undefined)
    .map((report) => reportEvent(view, report, activityOf(report, titleOf)));
  const all = [...recorded, ...reports].sort(
    (a, b) => Date.parse(a.time) - Date.parse(b.time) || (a.id < b.id ? -1 : 1),
  );
  const activities = [...new Set(reports.map(({ type }) => type))];
  const kinds = [...new Set(recorded.map(({ type }) => type))];
  return {
    objectTypes: OBJECT_TYPES,
    // A step may be titled like a recorded kind of event; then both are one type.
    eventTypes: [...new Set([...kinds, ...activities])].map((name) =>
      typed(
        name,
        ...new Set([
          ...(kinds.includes(name) ? RECORDED : []),
          ...(activities.includes(name) ? REPORT : []),
        ]),
      ),
    ),
    objects: objectsOf(view, events, all),
    events: all,
  };
};

const jobId = (view: JobView): string => `job ${view.job}`;
const stepId = (step: string, position: string | null): string =>
  `step ${step}${position === null ? '' : ` at ${position}`}`;
const personId = (name: string): string => `person ${name}`;
const flagId = (key: string): string => `flag ${key}`;
const questionId = (question: string): string => `question ${question}`;

const present = (
  pairs: Readonly<Record<string, string | number | null | undefined>>,
): OcelEvent['attributes'] =>
  Object.entries(pairs).flatMap(([name, value]) =>
    value === undefined || value === null ? [] : [{ name, value: String(value) }],
  );

/** Steps and positions a report is about; a step whose positions it does not name is meant at all of them. */
const stepsOf = (view: JobView, { act }: Report): readonly string[] =>
  view.steps
    .filter(
      ({ step, position, state }) =>
        step === act.step &&
        state !== 'not-on-job' &&
        (position === null || act.positions.length === 0 || act.positions.includes(position)),
    )
    .map(({ step, position }) => stepId(step, position));

const reportEvent = (view: JobView, report: Report, type: string): OcelEvent => {
  const { act, message, index, when, worker, reporter } = report;
  return {
    id: `report ${message} ${index}`,
    type,
    time: when,
    attributes: present({
      kind: act.kind,
      position: act.positions.join(', ') || null,
      value: act.quantity?.value ?? act.angle?.value,
      unit: act.quantity?.unit ?? act.angle?.unit,
      stage: act.stage,
      code: act.code,
      message,
    }),
    relationships: [
      { objectId: jobId(view), qualifier: 'job' },
      ...stepsOf(view, report).map((objectId) => ({ objectId, qualifier: 'step' })),
      { objectId: personId(worker), qualifier: 'done by' },
      ...(reporter === worker ? [] : [{ objectId: personId(reporter), qualifier: 'reported by' }]),
    ],
  };
};

const recordedEvent = (view: JobView, event: JobEvent): OcelEvent => {
  const says =
    'says' in event
      ? event.says
      : 'asks' in event
        ? event.asks
        : 'text' in event
          ? event.text
          : null;
  const known = (step: string, position: string | null): boolean =>
    view.steps.some((one) => one.step === step && one.position === position);
  return {
    id: `event ${event.id}`,
    type: event.kind.replaceAll('-', ' '),
    time: event.at,
    attributes: present({
      says,
      reason: 'reason' in event ? event.reason : null,
      level: 'level' in event ? event.level : null,
      message: 'message' in event ? event.message : null,
    }),
    relationships: [
      { objectId: jobId(view), qualifier: 'job' },
      ...(event.by === 'chargehand' ? [] : [{ objectId: personId(event.by), qualifier: 'by' }]),
      ...('step' in event && known(event.step, event.position)
        ? [{ objectId: stepId(event.step, event.position), qualifier: 'step' }]
        : []),
      ...('flag' in event && event.flag
        ? [{ objectId: flagId(event.flag), qualifier: 'flag' }]
        : []),
      ...('question' in event
        ? [{ objectId: questionId(event.question), qualifier: 'question' }]
        : []),
      ...(event.kind === 'photo-kept'
        ? [{ objectId: `photo ${event.sha256}`, qualifier: 'photo' }]
        : []),
      ...(event.kind === 'job-opened'
        ? [{ objectId: `vehicle ${event.vehicle.name}`, qualifier: 'vehicle' }]
        : []),
    ],
  };
};

type Draft = OcelObject;

const objectOf = (
  id: string,
  type: string,
  time: string,
  attributes: Readonly<Record<string, string | number | null | undefined>>,
  relationships: readonly OcelRelationship[] = [],
): Draft => ({
  id,
  type,
  attributes: present(attributes).map(({ name, value }) => ({ name, time, value })),
  relationships,
});

/** Each once; a person, flag or question that an event names has its object. */
const objectsOf = (
  view: JobView,
  events: readonly JobEvent[],
  all: readonly OcelEvent[],
): readonly OcelObject[] => {
  const { opened, plan } = view;
  const end = view.lastEventAt;
  const ofJob = [{ objectId: jobId(view), qualifier: 'of' }];
  const objects: Draft[] = [
    objectOf(
      jobId(view),
      'job',
      end,
      { status: view.status, complaint: opened.complaint, promised: view.promised },
      [
        { objectId: `vehicle ${opened.vehicle.name}`, qualifier: 'on' },
        { objectId: `plan ${plan.plan}`, qualifier: 'follows' },
      ],
    ),
    objectOf(`vehicle ${opened.vehicle.name}`, 'vehicle', opened.at, { vin: opened.vehicle.vin }),
    objectOf(`plan ${plan.plan}`, 'plan', opened.at, { title: plan.title, hash: plan.hash }),
    ...view.steps
      .filter(({ state }) => state !== 'not-on-job')
      .map(({ step, position, state, at }) => {
        const planned = plan.stepById.get(step);
        return objectOf(
          stepId(step, position),
          'step',
          at ?? opened.at,
          {
            title: planned?.title,
            phase: planned?.phase,
            weight: planned?.weight ?? 'routine',
            position,
            state,
          },
          ofJob,
        );
      }),
    ...view.flags.map((flag) =>
      objectOf(
        flagId(flagKey(flag)),
        'flag',
        end,
        {
          rule: flag.rule,
          level: flag.level,
          state: flag.clearedBy ? (flag.how ?? 'withdrawn') : 'open',
        },
        ofJob,
      ),
    ),
    ...view.questions.map((one) =>
      objectOf(
        questionId(one.question),
        'question',
        one.askedAt,
        { asks: one.asks, state: one.state },
        ofJob,
      ),
    ),
    ...events.flatMap((event) =>
      event.kind === 'photo-kept'
        ? [
            objectOf(
              `photo ${event.sha256}`,
              'photo',
              event.at,
              { name: event.name, bytes: event.bytes },
              ofJob,
            ),
          ]
        : [],
    ),
  ];
  const known = new Set(objects.map(({ id }) => id));
  const named = all.flatMap(({ relationships }) => relationships.map(({ objectId }) => objectId));
  for (const id of named) {
    if (known.has(id)) continue;
    known.add(id);
    objects.push({ id, type: id.slice(0, id.indexOf(' ')), attributes: [], relationships: [] });
  }
  const once = new Map(objects.map((object) => [object.id, object]));
  return [...once.values()];
};
