// What the bench page is told about a job, made from its view.
import { flagKey } from '../../shared/flag.ts';
import type { Settings } from '../../shared/settings.ts';
import type { BenchJob, BenchNext, BenchView } from '../chat/bench/bench-view.ts';
import { handoverCard } from '../desk/answers/handover.ts';
import { byUrgency } from '../desk/answers/open-jobs.ts';
import { phaseOf, progressOf, vehicleStateWords } from '../desk/answers/where.ts';
import type { Action, Form } from '../desk/card.ts';
import { groupActions, releaseActions } from '../desk/cards/flag-card.ts';
import { figureAsked } from '../desk/figure-form.ts';
import { grouped } from '../desk/flag-groups.ts';
import type { ForecastGround } from '../desk/forecast/forecast.ts';
import { closeForm } from '../desk/office/closing.ts';
import { findingActions } from '../desk/office/findings.ts';
import { openingForm } from '../desk/opening/opening-form.ts';
import { freeNext } from '../desk/out-of-limits.ts';
import { stepAt, stepTitle } from '../desk/say.ts';
import { announcedFlags } from '../desk/turn/log.ts';
import type { JobState } from '../desk/turn/turn.ts';
import { namesAround, waitsOf } from '../desk/waits.ts';
import type { Around, JobView } from '../job/view.ts';
import { formatQuantity, isUnit } from '../trade/units.ts';
import { holdsOf, mayTapIn } from './bench-may.ts';
import { forecastWords, stagesOf } from './bench-sheets.ts';
import type { Floor, RunningFloor } from './floor.ts';
import { localIso } from './local-iso.ts';

type BesideJob = {
  readonly people: Settings['people'];
  /** What the forecast goes by; left out: none is made. */
  readonly forecast?: ForecastGround;
};

const LEVELS = ['stop', 'caution', 'advice'];

const nextOf = (view: JobView): readonly BenchNext[] =>
  freeNext(view).flatMap(({ step, position }) => {
    const known = view.plan.stepById.get(step);
    if (!known) return [];
    const figure = figureAsked(known.report);
    return [
      {
        step,
        position,
        title: known.title,
        phase: known.phase,
        safety: known.weight === 'safety-critical',
        ...(known.caution ? { caution: known.caution } : {}),
        says: `${stepAt(view, step, position)}: done`,
        ...(figure ? { figure } : {}),
      },
    ];
  });

const actionsOf = ({ view, events }: JobState): readonly Action[] => [
  ...view.holds
    .filter((hold) => hold.state === 'waits' || hold.state === 'refused')
    .flatMap((hold) =>
      releaseActions(view.job, hold.step, hold.position).map((action) => ({
        ...action,
        label: `${action.label}: ${stepAt(view, hold.step, hold.position)}`,
      })),
    ),
  ...view.findings
    .filter((finding) => finding.state === 'open')
    .flatMap((finding) => findingActions(events, view, finding, `: ${finding.says.slice(0, 50)}`)),
  ...(view.closeNeeds.length === 0
    ? [
        {
          label: 'Release to the road',
          weight: 'plain' as const,
          intent: { do: 'say' as const, job: view.job, text: 'release to the road' },
        },
        {
          label: 'Close the job',
          weight: 'grave' as const,
          intent: { do: 'close-job' as const, job: view.job },
          ...formPart(closeForm(view)),
        },
      ]
    : []),
];

const formPart = (form: Form | undefined): Pick<Action, 'form'> => (form ? { form } : {});

const figureWords = (value: number, unit: string): string =>
  isUnit(unit) ? formatQuantity(value, unit) : `${value} ${unit}`;

const forecastPart = (forecast: string | undefined): Pick<BenchJob, 'forecast'> =>
  forecast === undefined ? {} : { forecast };

/**
 * @param around for what other open jobs on the vehicle have opened
 * @param workshop for who may release a hold point, and for the forecast
 */
export const benchJobOf = (
  state: JobState,
  now: string,
  zone: string,
  around: Around = {},
  { people, forecast }: BesideJob = { people: [] },
): BenchJob => {
  const { view } = state;
  const said = announcedFlags(state.events);
  const seen = new Map(
    state.events.flatMap((event) =>
      event.kind === 'flag-acknowledged' ? [[event.flag, event.by] as const] : [],
    ),
  );
  const { opened } = view;
  return {
    job: view.job,
    vehicle: opened.vehicle.name,
    plan: view.plan.title,
    machine: view.plan.machine,
    notice: view.plan.notice,
    ...(opened.complaint ? { complaint: opened.complaint } : {}),
    status: view.status,
    phase: phaseOf(view),
    ...(view.technician ? { technician: view.technician } : {}),
    ...(view.controller ? { controller: view.controller } : {}),
    ...(view.promised ? { promised: view.promised } : {}),
    openedAt: opened.at,
    progress: progressOf(view),
    vehicleState: vehicleStateWords(view, around),
    waits: waitsOf(view, now, zone, namesAround(around)),
    ...forecastPart(forecast && forecastWords(view, forecast)),
    holds: holdsOf(view, people),
    flags: grouped(
      view.flags.filter(
        (flag) => !flag.clearedBy && (flag.level === 'advice' || said.get(flagKey(flag))?.standing),
      ),
    )
      .map((group) => {
        const own = group.flags[0] ? flagKey(group.flags[0]) : group.key;
        const by = seen.get(own);
        return {
          key: group.key,
          level: group.level,
          says: group.says,
          since: said.get(own)?.at ?? view.lastEventAt,
          ...(by ? { acknowledgedBy: by } : {}),
          actions: groupActions(view.job, group),
        };
      })
      .sort((a, b) => LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level)),
    next: view.status === 'open' ? nextOf(view) : [],
    steps: view.steps
      .filter((step) => step.state !== 'not-on-job')
      .map((step) => ({
        step: step.step,
        title: stepTitle(view, step.step),
        phase: view.plan.stepById.get(step.step)?.phase ?? 'strip',
        position: step.position,
        state: step.state.replaceAll('-', ' '),
        at: step.at,
        by: step.by,
        figures: step.figures.map(
          (figure) =>
            `${figure.of}: ${figureWords(figure.quantity.value, figure.quantity.unit)}${figure.assumed ? ' (assumed)' : ''}`,
        ),
        assumed: step.assumed,
      })),
    actions: view.status === 'open' ? actionsOf(state) : [],
    closeNeeds: view.status === 'open' ? view.closeNeeds : [],
  };
};

/** A job in the list, and what it was made from: its own view, and those of the other jobs on its vehicle. */
type Listed = {
  readonly sameVehicle: readonly JobView[];
  readonly madeAt: number;
  readonly made: BenchJob;
};

const vehicleKey = (view: JobView): string => view.opened.vehicle.name.trim().toLowerCase();

/**
 * How long a job to whose vehicle nothing happens stands in the list as it was made: when it will be ready changes by
 * itself. One message then costs the list one job, and not all of them.
 */
const LISTED_MS = 60_000;

/** Answers the bench from the floor. */
export const benchViewOf = (floor: () => Floor, onChange: RunningFloor['onChange']): BenchView => {
  const settings = () => floor().workshop.settings;
  const jobOf = async (job: string): Promise<BenchJob | undefined> => {
    const found = await floor().legible(job);
    if (!found) return undefined;
    const { vehicle } = found.state.view.opened;
    const { around, now, paces } = await floor().momentFor(job, vehicle.name, { openJobs: true });
    return benchJobOf(found.state, floor().clock(), settings().zone, around, {
      people: settings().people,
      forecast: { settings: settings(), now, past: paces ?? new Map() },
    });
  };
  const listed = new Map<string, Listed>();
  /** The job as it was made for the list before, where nothing was written to it and it is not old. */
  const listedJob = async (
    view: JobView,
    sameVehicle: readonly JobView[],
    nowMs: number,
  ): Promise<BenchJob | undefined> => {
    const known = listed.get(view.job);
    const isAsBefore =
      known?.sameVehicle.length === sameVehicle.length &&
      sameVehicle.every((each, at) => each === known.sameVehicle[at]);
    if (isAsBefore && Math.abs(nowMs - known.madeAt) < LISTED_MS) return known.made;
    const made = await jobOf(view.job);
    if (made) listed.set(view.job, { sameVehicle, madeAt: nowMs, made });
    return made;
  };
  return {
    workshop: async () => ({
      name: settings().workshop,
      zone: settings().zone,
      people: settings().people.map(({ name, roles }) => ({ name, roles })),
    }),
    openJobs: async () => {
      const views = await floor().viewsOf(await floor().openJobs());
      const now = floor().clock();
      const onVehicle = new Map<string, JobView[]>();
      for (const view of views) {
        const name = vehicleKey(view);
        onVehicle.set(name, [...(onVehicle.get(name) ?? []), view]);
      }
      const jobs: BenchJob[] = [];
      for (const view of byUrgency(views, now)) {
        const made = await listedJob(view, onVehicle.get(vehicleKey(view)) ?? [], Date.parse(now));
        if (made) jobs.push(made);
      }
      const open = new Set(views.map(({ job }) => job));
      for (const job of listed.keys()) if (!open.has(job)) listed.delete(job);
      return jobs;
    },
    job: jobOf,
    may: mayTapIn(settings),
    tightening: async (job) => {
      const found = await floor().legible(job);
      return found && stagesOf(found.state, settings().zone, floor().clock());
    },
    handover: async (job) => {
      const found = await floor().legible(job);
      if (!found) return undefined;
      const { view, events } = found.state;
      const { around } = await floor().momentFor(job, view.opened.vehicle.name);
      const now = localIso(floor().clock(), settings().zone);
      return handoverCard(view, now, settings().zone, { events, around });
    },
    openJobForm: async () => openingForm(floor().workshop, {}),
    onChange,
  };
};
