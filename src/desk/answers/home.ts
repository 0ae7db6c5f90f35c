// What concerns one person, on one page: what waits for them, their jobs, and for a manager or controller the summary.
import { flagKey } from '../../../shared/flag.ts';
import type { Person } from '../../../shared/settings.ts';
import type { Action, Block, Card } from '../card.ts';
import { releaseActions } from '../cards/flag-card.ts';
import { questionCard } from '../cards/question-card.ts';
import { grouped } from '../flag-groups.ts';
import { mayDo, mayRelease } from '../roles.ts';
import { clockTime, firstSentence, stepAt } from '../say.ts';
import type { JobState } from '../turn/turn.ts';
import { flagsStanding, phaseOf, progressOf } from './where.ts';

/** Things that wait shown one by one; the rest is counted. */
const MOST = 8;
/** Letters of a job's name behind a label, so that both fit on a button. */
const LABEL = 70;

type Waiting = { readonly says: string; readonly actions: readonly Action[] };

const named = (action: Action, where: string): Action => ({
  ...action,
  label: `${action.label}: ${where}`.slice(0, LABEL),
});

const acknowledged = (events: JobState['events']): ReadonlySet<string> =>
  new Set(events.flatMap((event) => (event.kind === 'flag-acknowledged' ? [event.flag] : [])));

/** What waits for this person on one job: stops, hold points, findings, questions about their own reports. */
const waitingOn = ({ view, events }: JobState, person: Person): readonly Waiting[] => {
  const where = `${view.job}, ${view.opened.vehicle.name}`;
  const seen = acknowledged(events);
  const stops = mayDo(person, 'acknowledge').ok
    ? grouped(
        flagsStanding(view).filter((flag) => flag.level === 'stop' && !seen.has(flagKey(flag))),
      ).map(
        (group): Waiting => ({
          says: `STOP on ${where}: ${firstSentence(group.says)}`,
          actions: [
            named(
              {
                label: 'I have seen it',
                weight: 'plain',
                intent: { do: 'acknowledge', job: view.job, flag: group.key },
              },
              where,
            ),
          ],
        }),
      )
    : [];
  const holds = view.holds
    .filter(({ state }) => state === 'waits')
    .filter((hold) => mayRelease(view, person, hold).ok)
    .map((hold): Waiting => {
      const step = stepAt(view, hold.step, hold.position);
      return {
        says: `To release on ${where}: ${step}.`,
        actions: releaseActions(view.job, hold.step, hold.position).map((action) =>
          named(action, `${step}, ${view.job}`),
        ),
      };
    });
  const findings = mayDo(person, 'settle-finding').ok
    ? view.findings
        .filter(({ state }) => state === 'open')
        .map(
          (finding): Waiting => ({
            says: `To settle on ${where}, found by ${finding.by}: ${finding.says}`,
            actions: [],
          }),
        )
    : [];
  const own = new Set(
    events.flatMap((event) =>
      event.kind === 'message-posted' && event.by === person.name ? [event.message] : [],
    ),
  );
  const questions = view.questions
    .filter((question) => question.state === 'open' && own.has(question.message))
    .map(
      (question): Waiting => ({
        says: `Asked on ${where}: ${question.asks}`,
        actions: (questionCard(view.job, question).actions ?? []).map((action) =>
          named(action, view.job),
        ),
      }),
    );
  return [...stops, ...holds, ...findings, ...questions];
};

const jobLine = ({ view }: JobState, now: string, zone: string): string => {
  const { done, total } = progressOf(view);
  const [next] = view.next;
  return [
    `${view.job} ${view.opened.vehicle.name}, ${view.plan.title}: ${phaseOf(view) ?? 'all done'}, ${done} of ${total}.`,
    ...(next ? [`Next: ${stepAt(view, next.step, next.position)}.`] : []),
    ...(view.promised ? [`Promised ${clockTime(view.promised, now, zone)}.`] : []),
  ].join(' ');
};

/**
 * @param jobs all open jobs
 * @param summary for those who see all jobs; left out for the others
 */
export const homeCard = (
  person: Person,
  jobs: readonly JobState[],
  now: string,
  zone: string,
  summary?: Card,
): Card => {
  const waiting = jobs.flatMap((job) => waitingOn(job, person));
  const shown = waiting.slice(0, MOST);
  const left = waiting.length - shown.length;
  const own = jobs.filter(({ view }) => view.technician === person.name);
  const waits =
    waiting.length === 0
      ? ['Nothing.']
      : [...shown.map(({ says }) => says), ...(left > 0 ? [`and ${left} more.`] : [])];
  const mine = own.length === 0 ? ['None.'] : own.map((job) => jobLine(job, now, zone));
  const blocks: Block[] = [
    { kind: 'text', text: 'Waits for you' },
    { kind: 'list', items: waits },
    { kind: 'text', text: 'Your jobs' },
    { kind: 'list', items: mine },
    ...(summary
      ? [{ kind: 'text' as const, text: summary.title ?? 'Open jobs' }, ...summary.blocks]
      : []),
  ];
  return {
    title: `${person.name}, in the workshop`,
    text: [
      `Waits for you: ${waits.join(' ')}`,
      `Your jobs: ${mine.join(' ')}`,
      ...(summary ? [summary.text] : []),
    ].join('\n'),
    blocks,
    actions: [
      ...shown.flatMap(({ actions }) => actions),
      ...(mayDo(person, 'open-job').ok
        ? [{ label: 'Open a job', weight: 'plain' as const, intent: { do: 'open-job' as const } }]
        : []),
    ],
  };
};

/** For somebody who is not in the settings: what they can do all the same. */
export const strangersHome = (): Card => {
  const text =
    'You are not in the settings of this workshop. You can ask "open jobs" or "where is" and a job\'s number; what you report is kept, and recorded once a controller takes you in.';
  return { title: 'The workshop', text, blocks: [{ kind: 'text', text }] };
};
