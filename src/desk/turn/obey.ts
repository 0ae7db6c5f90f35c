// What a command or a question to the bot does: releases, overrides, answers. One function for words and for taps.
import type { JobEvent } from '../../../shared/event.ts';
import { flagKey } from '../../../shared/flag.ts';
import type { Act } from '../../../shared/reading.ts';
import type { HoldState, JobView } from '../../job/view.ts';
import { handoverCard } from '../answers/handover.ts';
import { helpCard } from '../answers/help.ts';
import { hoursCard } from '../answers/hours.ts';
import { limitCard } from '../answers/limits.ts';
import { nextCard } from '../answers/next.ts';
import { openJobsCard } from '../answers/open-jobs.ts';
import { whatReadCard } from '../answers/what-read.ts';
import { whereCard } from '../answers/where.ts';
import type { Card } from '../card.ts';
import { ORDER } from '../cards/gather.ts';
import { meansFlag } from '../flag-groups.ts';
import { OVERRIDE_FORM } from '../forms.ts';
import { mayDo, mayRelease } from '../roles.ts';
import { list, stepAt, stepTitle } from '../say.ts';
import type { JobState, Moment, Piece, Said } from './turn.ts';

export type Obeyed = {
  readonly events: readonly JobEvent[];
  readonly pieces: readonly Piece[];
  /** Set where the answer needs all open jobs and they were not given. */
  readonly needs?: 'open-jobs';
};

type Asker = Pick<Said, 'id' | 'message' | 'by' | 'roles' | 'text'>;

const says = (text: string, order: number = ORDER.answer): Piece => ({
  order,
  card: { text, blocks: [{ kind: 'text', text }] },
});
const only = (text: string): Obeyed => ({ events: [], pieces: [says(text)] });
const shows = (card: Card): Obeyed => ({ events: [], pieces: [{ order: ORDER.answer, card }] });

const asPerson = (asker: Asker) => ({
  name: asker.by,
  roles: asker.roles.filter(
    (role): role is 'technician' | 'controller' | 'manager' =>
      role === 'technician' || role === 'controller' || role === 'manager',
  ),
});

/** Hold points an act means: the one named, else the only one that waits. */
const holdsMeant = (view: JobView, act: Act): readonly HoldState[] | string => {
  const waiting = view.holds.filter((hold) => hold.state === 'waits' || hold.state === 'refused');
  const named = view.holds.filter(
    (hold) =>
      hold.step === act.step &&
      (act.positions.length === 0 ||
        hold.position === null ||
        act.positions.includes(hold.position)),
  );
  if (act.step !== undefined) {
    if (named.length === 0)
      return `"${stepTitle(view, act.step)}" is no hold point. ${waiting.length > 0 ? `Waiting: ${list(waiting.map((hold) => stepAt(view, hold.step, hold.position)))}.` : 'None waits for a release.'}`;
    const due = named.filter((hold) => hold.state === 'waits' || hold.state === 'refused');
    if (due.length > 0) return due;
    const [first] = named;
    if (first?.state === 'released')
      return `"${stepTitle(view, act.step)}" is released already${first.by ? ` by ${first.by}` : ''}. Nothing more to do.`;
    return `"${stepTitle(view, act.step)}" has not been reported as done yet, so there is nothing to release. Report it first.`;
  }
  if (waiting.length === 0)
    return 'No hold point waits for a release. Ask "where are we" for what the job waits for.';
  if (new Set(waiting.map((hold) => hold.step)).size > 1)
    return `Several hold points wait: ${list(waiting.map((hold) => stepAt(view, hold.step, hold.position)))}. Say which one.`;
  return waiting;
};

/** Releases or refuses hold points, if this person may. */
export const settleHolds = (
  view: JobView,
  holds: readonly HoldState[],
  asker: Asker,
  moment: Moment,
  settle: 'hold-released' | 'hold-refused',
  reason: string | undefined,
): Obeyed => {
  const events: JobEvent[] = [];
  for (const hold of holds) {
    const may = mayRelease(view, asPerson(asker), hold);
    if (!may.ok) return only(may.says);
    events.push({
      id: `${asker.id}:${settle}:${hold.step}:${hold.position ?? ''}`,
      at: moment.now,
      by: asker.by,
      kind: settle,
      step: hold.step,
      position: hold.position,
      ...(reason ? { reason } : {}),
      ...(asker.roles[0] ? { role: asker.roles[0] } : {}),
    });
  }
  const names = list(holds.map((hold) => `"${stepAt(view, hold.step, hold.position)}"`));
  return {
    events,
    pieces: [
      says(
        settle === 'hold-released'
          ? `Released by ${asker.by}: ${names}. The work may go on.`
          : `Refused by ${asker.by}: ${names}${reason ? `: ${reason}` : ''}. Put it right, report it again, then ask for the release.`,
      ),
    ],
  };
};

/** Overrides standing flags with a reason, if this person may and the flags can be. */
export const overrideFlags = (
  view: JobView,
  keys: readonly string[],
  reason: string | undefined,
  asker: Asker,
  moment: Moment,
): Obeyed => {
  const may = mayDo(asPerson(asker), 'override');
  if (!may.ok) return only(may.says);
  const standing = view.flags.filter(
    (flag) => !flag.clearedBy && keys.some((key) => meansFlag(key, flag)),
  );
  if (standing.length === 0)
    return only('No such flag stands on this job. Ask "where are we" for the open ones.');
  const fixed = standing.find(
    (flag) => flag.rule === 'unsafe-state' || flag.rule === 'early-close',
  );
  if (fixed) return only(`A vehicle state cannot be overridden, only closed. ${fixed.says}`);
  if (!reason?.trim()) {
    const [first] = standing;
    return {
      events: [],
      pieces: [
        {
          order: ORDER.answer,
          card: {
            text: 'An override needs a reason. Type "override because …" with the reason, or use the button.',
            blocks: [
              {
                kind: 'text',
                text: 'An override needs a reason. Type "override because …" with the reason, or use the button.',
              },
            ],
            ...(first
              ? {
                  actions: [
                    {
                      label: 'Give a reason',
                      weight: 'grave' as const,
                      intent: {
                        do: 'override' as const,
                        job: view.job,
                        flag: keys[0] ?? flagKey(first),
                      },
                      form: OVERRIDE_FORM,
                    },
                  ],
                }
              : {}),
          },
        },
      ],
    };
  }
  return {
    events: standing.map((flag) => ({
      id: `${asker.id}:override:${flagKey(flag)}`,
      at: moment.now,
      by: asker.by,
      kind: 'flag-overridden',
      flag: flagKey(flag),
      reason: reason.trim(),
    })),
    pieces: [],
  };
};

export const acknowledgeFlags = (
  view: JobView,
  keys: readonly string[],
  asker: Asker,
  moment: Moment,
): Obeyed => {
  const may = mayDo(asPerson(asker), 'acknowledge');
  if (!may.ok) return only(may.says);
  const standing = view.flags.filter(
    (flag) => !flag.clearedBy && keys.some((key) => meansFlag(key, flag)),
  );
  if (standing.length === 0) return only('No stop waits to be acknowledged on this job.');
  return {
    events: standing.map((flag) => ({
      id: `${asker.id}:seen:${flagKey(flag)}`,
      at: moment.now,
      by: asker.by,
      kind: 'flag-acknowledged',
      flag: flagKey(flag),
    })),
    pieces: [
      says(
        `${asker.by} has seen it. The flag stands until it is settled or overridden.`,
        ORDER.remark,
      ),
    ],
  };
};

export const settleFindings = (
  view: JobView,
  message: string | undefined,
  settled: 'approved' | 'declined',
  reason: string | undefined,
  positions: readonly string[],
  asker: Asker,
  moment: Moment,
): Obeyed => {
  const may = mayDo(asPerson(asker), 'settle-finding');
  if (!may.ok) return only(may.says);
  const open = view.findings.filter(
    (finding) => finding.state === 'open' && (message === undefined || finding.message === message),
  );
  const [finding] = open;
  if (!finding) return only('No finding waits for a decision on this job.');
  if (open.length > 1 && message === undefined)
    return only(
      `Several findings wait: ${list(open.map((each) => `"${each.says}" (${each.by})`))}. Use the button under the one you mean.`,
    );
  return {
    events: [
      {
        id: `${asker.id}:finding:${finding.message}`,
        at: moment.now,
        by: asker.by,
        kind: 'finding-settled',
        message: finding.message,
        settled,
        ...(reason ? { reason } : {}),
        positions: settled === 'approved' ? [...positions] : [],
        options: [],
      },
    ],
    pieces: [
      says(
        settled === 'approved'
          ? `Approved by ${asker.by}: "${finding.says}"${positions.length > 0 ? `. ${list(positions)} joins the job` : ''}.`
          : `Declined by ${asker.by}: "${finding.says}"${reason ? `: ${reason}` : ''}. It stays in the record.`,
      ),
    ],
  };
};

/** Closes the job, or says what is open. */
export const closeJob = (view: JobView, asker: Asker, moment: Moment): Obeyed => {
  if (view.status !== 'open') return only(`Job ${view.job} is ${view.status} already.`);
  const may = mayDo(asPerson(asker), 'close-job');
  if (!may.ok) return only(may.says);
  if (view.closeNeeds.length > 0) {
    const items = view.closeNeeds.slice(0, 12);
    const left = view.closeNeeds.length - items.length;
    const lines = left > 0 ? [...items, `and ${left} more`] : [...items];
    const text = `Job ${view.job} cannot be closed yet.`;
    return shows({
      text: `${text} Still open: ${lines.join('; ')}.`,
      blocks: [
        { kind: 'text', text: `${text} Still open:` },
        { kind: 'list', items: lines },
      ],
    });
  }
  return {
    events: [{ id: `${asker.id}:closed`, at: moment.now, by: asker.by, kind: 'job-closed' }],
    pieces: [says(`Job ${view.job} closed by ${asker.by}. The record is complete.`)],
  };
};

const flagsMeant = (view: JobView, act: Act, level?: 'stop'): readonly string[] => {
  const standing = view.flags.filter(
    (flag) =>
      !flag.clearedBy && flag.level !== 'advice' && (level === undefined || flag.level === level),
  );
  const named = standing.filter((flag) => act.step === undefined || flag.step === act.step);
  return named.map(flagKey);
};

/** Carries out one command, or answers one question that the bot can answer. */
export const obey = (state: JobState, act: Act, asker: Asker, moment: Moment): Obeyed => {
  const { view } = state;
  const { settings } = moment.workshop;
  const zone = settings.zone;
  const mayHours = (settings.hours?.['shown-to'] ?? ['controller', 'manager']).some((role) =>
    asker.roles.includes(role),
  );
  switch (act.command) {
    case 'next':
      return shows(nextCard(view));
    case 'where':
      return shows(whereCard(view, moment.now, zone));
    case 'handover':
      return shows(handoverCard(view, moment.now, zone));
    case 'help':
      return shows(helpCard());
    case 'limit':
      return shows(limitCard(view, act));
    case 'hours':
      return shows(hoursCard(view, mayHours));
    case 'what-did-you-read':
      return shows(whatReadCard(state.events, view, asker));
    case 'open-jobs':
    case 'late':
    case 'waiting':
      if (!moment.openJobs) return { events: [], pieces: [], needs: 'open-jobs' };
      return shows(
        openJobsCard(
          moment.openJobs,
          act.command === 'open-jobs' ? 'all' : act.command,
          moment.now,
          zone,
          mayHours,
        ),
      );
    case 'release':
    case 'refuse': {
      const holds = holdsMeant(view, act);
      if (typeof holds === 'string') return only(holds);
      return settleHolds(
        view,
        holds,
        asker,
        moment,
        act.command === 'release' ? 'hold-released' : 'hold-refused',
        act.note,
      );
    }
    case 'override': {
      const keys = flagsMeant(view, act);
      if (keys.length > 1 && act.step === undefined)
        return only(
          `Several flags stand: ${list(
            view.flags
              .filter((flag) => keys.some((key) => meansFlag(key, flag)))
              .map((flag) => flag.says.split('. ')[0] ?? flag.says),
            4,
          )}. Name the step, or use the button under the flag.`,
        );
      return overrideFlags(view, keys, act.note, asker, moment);
    }
    case 'acknowledge':
      return acknowledgeFlags(view, flagsMeant(view, act, 'stop'), asker, moment);
    case 'approve':
    case 'decline':
      return settleFindings(
        view,
        undefined,
        act.command === 'approve' ? 'approved' : 'declined',
        act.note,
        act.positions,
        asker,
        moment,
      );
    case 'close-job':
      return closeJob(view, asker, moment);
    case 'cancel-job': {
      const may = mayDo(asPerson(asker), 'cancel-job');
      if (!may.ok) return only(may.says);
      if (view.status !== 'open') return only(`Job ${view.job} is ${view.status} already.`);
      if (view.vehicleState.length > 0)
        return only(
          `Job ${view.job} cannot be cancelled while the vehicle is not safe: ${list(view.vehicleState.map((each) => each.title))}. Close the state first.`,
        );
      if (!act.note) return only('Cancelling needs a reason. Type "cancel job because …".');
      return {
        events: [
          {
            id: `${asker.id}:cancelled`,
            at: moment.now,
            by: asker.by,
            kind: 'job-cancelled',
            reason: act.note,
          },
        ],
        pieces: [says(`Job ${view.job} cancelled by ${asker.by}: ${act.note}.`)],
      };
    }
    default:
      return { events: [], pieces: [] };
  }
};
