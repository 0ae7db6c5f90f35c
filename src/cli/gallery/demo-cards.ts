// One card of each kind, made by the desk from the demonstration: the same set for every channel.
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Level } from '../../../shared/plan.ts';
import type { TranscriptLine } from '../../../shared/replay.ts';
import type { Settings } from '../../../shared/settings.ts';
import { forecastCard } from '../../desk/answers/forecast.ts';
import { handoverCard } from '../../desk/answers/handover.ts';
import { helpCard } from '../../desk/answers/help.ts';
import { historyCard } from '../../desk/answers/history.ts';
import { homeCard } from '../../desk/answers/home.ts';
import { hoursCard } from '../../desk/answers/hours.ts';
import { nextCard } from '../../desk/answers/next.ts';
import { claimCard, recordCard } from '../../desk/answers/papers.ts';
import { peopleHoursCard } from '../../desk/answers/people-hours.ts';
import { pictureCard } from '../../desk/answers/pictures.ts';
import { stepStateCard } from '../../desk/answers/step-state.ts';
import { summaryCard } from '../../desk/answers/summary.ts';
import { weekCard } from '../../desk/answers/week.ts';
import { whereCard } from '../../desk/answers/where.ts';
import type { Card } from '../../desk/card.ts';
import { flagsCard, goneCard } from '../../desk/cards/flag-card.ts';
import { sheetCard } from '../../desk/cards/job-sheet.ts';
import { closedQuestionCard, questionCard } from '../../desk/cards/question-card.ts';
import { answerFigure } from '../../desk/figures/answer-figure.ts';
import { noteCard, shiftEndCard, shiftStandingCard } from '../../desk/notes/shift-note.ts';
import { openingForm } from '../../desk/opening/opening-form.ts';
import { type Replayed, replay } from '../../desk/replay.ts';
import { chooseJobCard } from '../../desk/route.ts';
import { strangerCard } from '../../desk/taking-in.ts';
import { questionsOf } from '../../desk/turn/log.ts';
import { workshopOf } from '../../desk/workshop.ts';
import { loadPlan } from '../../job/load-plan.ts';
import type { JobView } from '../../job/view.ts';
import { DATA, settingsIn } from '../../main.ts';
import { REPORTS } from '../../report/reports.ts';
import { demoJobs } from '../demo.ts';

export type GalleryCard = {
  /** What kind it is, in words. */
  readonly kind: string;
  /** The function of src/desk that makes this kind, or the words that bring it about. */
  readonly from: string;
  readonly card: Card;
};

const at = (clock: string): string => `2026-03-10T${clock}:00+00:00`;

/** What brings about the cards that the demonstration shift is too quiet for. */
const LOUD: readonly (readonly [clock: string, by: string, text: string, role?: 'controller'])[] = [
  ['06:10', 'Nell', 'chocks in, brake on'],
  ['06:20', 'Nell', 'drained 12 L of coolant'],
  ['06:40', 'Nell', 'rocker cover off'],
  ['06:50', 'Nell', 'found the seat on cyl 3 badly corroded'],
  ['07:00', 'Nell', 'what torque for the injector clamp stage 2'],
  ['07:05', 'Nell', 'what did you read'],
  ['07:10', 'Nell', 'waiting for parts, no washers in the stores'],
  ['07:20', 'Wen', 'close job', 'controller'],
  ['07:30', 'Wen', 'cancel job', 'controller'],
];

const given = (card: Card | undefined, kind: string): Card => {
  if (!card) throw new Error(`The demonstration no longer brings about the card "${kind}".`);
  return card;
};

const cardsOf = ({ moments }: Replayed): readonly Card[] =>
  moments.flatMap(({ posts }) => posts.flatMap(({ card }) => (card ? [card] : [])));

const loudJob = async (settings: Settings): Promise<Replayed> => {
  const file = join(DATA, 'plans', 'injectors-six-cylinder.yaml');
  const { plan } = loadPlan(await readFile(file, 'utf8'), file);
  if (!plan) throw new Error(`The plan ${file} has errors.`);
  const lines = LOUD.map(
    ([clock, by, text, role], index): TranscriptLine => ({
      id: `g${index}`,
      at: at(clock),
      by,
      text,
      ...(role ? { role } : {}),
    }),
  );
  return replay(plan, lines, { job: '1044', vehicle: 'bus 421', settings, now: at('08:00') });
};

/** @returns every kind of card once, flags once for each level */
export const demoCards = async (): Promise<readonly GalleryCard[]> => {
  const settings = await settingsIn(join(DATA, 'demo'));
  const jobs = await demoJobs();
  const made = await Promise.all(
    jobs.map(async (job) => {
      const file = join(DATA, 'plans', `${job.plan}.yaml`);
      const { plan } = loadPlan(await readFile(file, 'utf8'), file);
      if (!plan) throw new Error(`The plan ${file} has errors.`);
      const { job: number, vehicle, positions, options, complaint, promised } = job;
      const told = {
        job: number,
        vehicle,
        positions,
        options,
        settings,
        ...(job.reading ? { reading: job.reading } : {}),
        ...(complaint ? { complaint } : {}),
        ...(promised ? { promised } : {}),
      };
      const half = job.transcript.slice(0, Math.floor(job.transcript.length / 2));
      return { whole: replay(plan, job.transcript, told), half: replay(plan, half, told), plan };
    }),
  );
  const [injectors, hub] = made;
  if (!injectors || !hub) throw new Error('The demonstration has fewer than two jobs.');
  const loud = await loudJob(settings);
  const plans = [injectors.plan, hub.plan];
  const workshop = workshopOf(settings, plans);
  const now = at('10:30');
  const { zone } = settings;
  const { view, result } = injectors.half;
  const views: readonly JobView[] = [view, hub.half.view, loud.view];
  const ground = { settings, now, past: new Map() };
  const note = { workshop, now, hours: false };
  const shift = {
    key: 'early',
    at: Date.parse(at('06:00')),
    date: '2026-03-10',
    shift: 'early',
    from: Date.parse(at('06:00')),
    to: Date.parse(at('14:00')),
  };
  const past = [{ view: hub.whole.view, closedAt: at('09:00') }];
  const flag = (level: Level): Card =>
    given(
      flagsCard(
        loud.view,
        loud.view.flags.filter((one) => one.level === level).slice(0, 1),
        level === 'stop' ? ['Wen'] : [],
      ),
      `flag, ${level}`,
    );
  const said = (kind: string, fits: (card: Card) => boolean): Card =>
    given([...cardsOf(loud), ...cardsOf(injectors.whole)].find(fits), kind);
  const [question] = questionsOf(injectors.whole.result.events);
  if (!question) throw new Error('The demonstration asks no question any more.');
  const claim = REPORTS.claim(view, result.events, { now, zone });
  const nell = settings.people.find(({ name }) => name === 'Nell');
  const state = { view, events: result.events };
  const list: readonly (readonly [kind: string, from: string, card: Card])[] = [
    ['Job sheet', 'sheetCard', sheetCard(view, now, zone, { events: result.events })],
    ['Flag: stop', 'flagsCard', flag('stop')],
    ['Flag: caution', 'flagsCard', flag('caution')],
    ['Flag: advice', 'flagsCard', flag('advice')],
    ['Flag withdrawn', 'goneCard', goneCard(view, ['Drained before, at 09:40.'])],
    ['Question', 'questionCard', questionCard(view.job, question)],
    [
      'Question answered',
      'closedQuestionCard',
      closedQuestionCard(question, 'Nell answered: all six, at 10:49.'),
    ],
    [
      'Finding to decide',
      '"found …"',
      said('finding', ({ actions = [] }) =>
        actions.some(({ intent }) => intent.do === 'settle-finding'),
      ),
    ],
    [
      'Closing refused',
      '"close job"',
      said('refused', ({ text }) => text.includes('cannot be closed yet')),
    ],
    [
      'Limit of the plan',
      'limitCard',
      said('limit', ({ text }) => /stage 2/iu.test(text) && /N·m/u.test(text)),
    ],
    [
      'What was read',
      'whatReadCard',
      said('what was read', ({ text }) => /read/iu.test(text) && /chocks|drained/iu.test(text)),
    ],
    [
      'Figure with a picture',
      'answerFigure',
      given(answerFigure('what order for 10 wheel nuts', undefined, now)?.card, 'figure'),
    ],
    ['What is next', 'nextCard', nextCard(view)],
    ['Where the job stands', 'whereCard', whereCard(view, now, zone)],
    [
      'How a step stands',
      'stepStateCard',
      given(
        stepStateCard(
          view,
          { step: 'drain-coolant', positions: [] },
          'is the coolant drained',
          now,
          zone,
        ),
        'step',
      ),
    ],
    ['Handover', 'handoverCard', handoverCard(view, now, zone, { events: result.events })],
    ['When it will be ready', 'forecastCard', forecastCard(view, views, ground)],
    ['Timeline', 'pictureCard', pictureCard(REPORTS.timeline(view, result.events, ground))],
    ['Hours ahead', 'pictureCard', pictureCard(REPORTS.hoursAhead(views, ground))],
    [
      'Record',
      'recordCard',
      withFiles(recordCard(view), ['record.pdf', 'record.csv', 'record.json']),
    ],
    ['Claim folder', 'claimCard', withFiles(claimCard(view, claim), ['claim.pdf'])],
    [
      'Open jobs',
      'summaryCard',
      summaryCard(views, { ask: 'jobs', states: [] }, { settings, now, hours: true }),
    ],
    ['Hours of a job', 'hoursCard', hoursCard(view, true)],
    [
      'Hours of people',
      'peopleHoursCard',
      peopleHoursCard(
        'Hours today',
        {
          people: [{ who: 'Nell', minutes: 210, jobs: [['1042', 210]], stillOn: ['1042'] }],
          questions: [],
        },
        undefined,
      ),
    ],
    [
      'History of a vehicle',
      'historyCard',
      historyCard({ vehicle: 'coach 88', lastOnly: false }, past, [], 1, zone),
    ],
    [
      'Shift note, what stands',
      'shiftStandingCard',
      given(shiftStandingCard(views, note), 'standing'),
    ],
    [
      'Shift note, at its start',
      'noteCard',
      given(noteCard({ kind: 'shift-start', ...shift }, views, [], note), 'start'),
    ],
    [
      'Shift note, at its end',
      'shiftEndCard',
      given(shiftEndCard(views, past, { kind: 'shift-end', ...shift }, note), 'end'),
    ],
    [
      'The week',
      'weekCard',
      given(
        weekCard(views, past, {
          zone,
          now,
          hours: true,
          span: {
            from: Date.parse(at('00:00')),
            to: Date.parse(at('23:00')),
            first: '2026-03-09',
            last: '2026-03-15',
          },
        }),
        'week',
      ),
    ],
    ['Home of a person', 'homeCard', homeCard(given2(nell, 'Nell'), [state], now, zone)],
    [
      'Which job',
      'chooseJobCard',
      chooseJobCard(
        'drained 28 L',
        views.map((one) => ({ job: one.job, vehicle: one.opened.vehicle.name, plan: one.plan })),
        'bench|1',
      ),
    ],
    ['A job to open', 'openingForm', openCard(openingForm(workshop, {}))],
    [
      'Somebody unknown',
      'strangerCard',
      strangerCard(
        settings,
        { channel: 'slack', team: 'T0', person: 'U0STRANGE', name: 'Sal' },
        true,
        ['Wen'],
      ),
    ],
    ['Help', 'helpCard', helpCard()],
  ];
  return list.map(([kind, from, card]) => ({ kind, from, card }));
};

const given2 = <T>(value: T | undefined, what: string): T => {
  if (value === undefined) throw new Error(`${what} is not in the demonstration's settings.`);
  return value;
};

const openCard = (form: NonNullable<NonNullable<Card['actions']>[number]['form']>): Card => ({
  text: 'The job is not open yet. Which vehicle, which work?',
  blocks: [{ kind: 'text', text: 'The job is not open yet. Which vehicle, which work?' }],
  actions: [{ label: 'Open a job', weight: 'main', intent: { do: 'open-job' }, form }],
});

const TYPES: Readonly<Record<string, string>> = {
  pdf: 'application/pdf',
  csv: 'text/csv',
  json: 'application/json',
};

/** As the floor sends it; the files themselves are not part of the gallery. */
const withFiles = ({ wants: _, ...card }: Card, names: readonly string[]): Card => ({
  ...card,
  files: names.map((name) => ({
    job: '1042',
    kept: `${name.replace('.', '-')}`,
    name: `job-1042-${name}`,
    type: TYPES[name.split('.')[1] ?? ''] ?? '',
    says: `The ${name.split('.')[0]} as ${name.split('.')[1]?.toUpperCase()}`,
    bytes: 20_480,
  })),
});
