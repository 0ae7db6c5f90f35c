// Something seen that was not the job: offered to the controller, and what joins the job when it is approved.
import type { JobEvent } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import type { Finding, JobView } from '../../job/view.ts';
import type { Action, Field, Form } from '../card.ts';
import { ORDER } from '../cards/gather.ts';
import { mayDo } from '../roles.ts';
import { list, positionsTogether } from '../say.ts';
import { messagesOf } from '../turn/log.ts';
import { type Asker, asPerson, decidedAt, type Obeyed, only, says } from '../turn/obeyed.ts';
import type { JobState, Moment, Piece } from '../turn/turn.ts';

export type Joining = {
  readonly positions: readonly string[];
  readonly options: readonly string[];
};

/** Positions and options of the plan that are not on the job yet. */
const notOnJob = (view: JobView): Joining => {
  const on = new Set([...view.positions.values()].flat());
  return {
    positions: [...view.plan.setOf.keys()].filter((name) => !on.has(name)),
    options: Object.keys(view.plan.options ?? {}).filter((name) => !view.options.includes(name)),
  };
};

/** What a finding itself names that is not on the job: its positions, and the option of its step. */
export const namedBy = (events: readonly JobEvent[], view: JobView, message: string): Joining => {
  const acts = (messagesOf(events).find((each) => each.message === message)?.acts ?? []).filter(
    ({ kind }) => kind === 'finding',
  );
  const free = notOnJob(view);
  const positions = new Set(acts.flatMap((act) => act.positions));
  const options = new Set(
    acts.flatMap(({ step }) => view.plan.stepById.get(step ?? '')?.option ?? []),
  );
  return {
    positions: free.positions.filter((name) => positions.has(name)),
    options: free.options.filter((name) => options.has(name)),
  };
};

const choices = (
  name: string,
  label: string,
  all: readonly string[],
  chosen: readonly string[],
  labelOf: (value: string) => string,
): readonly Field[] =>
  all.length === 0
    ? []
    : [
        {
          name,
          label,
          kind: 'choices',
          required: false,
          hint: 'Leave empty if nothing joins the job.',
          choices: all.map((value) => ({ value, label: labelOf(value) })),
          ...(chosen.length > 0 ? { value: chosen.join('\n') } : {}),
        },
      ];

/** The form behind "Approve": what joins the job, with what the finding names chosen; none where nothing can join. */
export const approveForm = (
  events: readonly JobEvent[],
  view: JobView,
  message: string,
): Form | undefined => {
  const free = notOnJob(view);
  const named = namedBy(events, view, message);
  const fields = [
    ...choices(
      'positions',
      'Positions that join the job',
      free.positions,
      named.positions,
      (name) => name,
    ),
    ...choices(
      'options',
      'Extra work that joins the job',
      free.options,
      named.options,
      (name) => view.plan.options?.[name] ?? name,
    ),
  ];
  return fields.length > 0
    ? { title: 'Approve the finding', submit: 'Approve', fields }
    : undefined;
};

const DECLINE_FORM: Form = {
  title: 'Decline the finding',
  submit: 'Decline',
  fields: [{ name: 'reason', label: 'Why not now', kind: 'long-text', required: false }],
};

export const findingActions = (
  events: readonly JobEvent[],
  view: JobView,
  finding: Finding,
  numbered = '',
): readonly Action[] => {
  const form = approveForm(events, view, finding.message);
  const intent = { do: 'settle-finding' as const, job: view.job, message: finding.message };
  return [
    {
      label: `Approve${numbered}`,
      weight: 'main',
      intent: { ...intent, settle: 'approved' },
      ...(form ? { form } : {}),
    },
    {
      label: `Decline${numbered}`,
      weight: 'plain',
      intent: { ...intent, settle: 'declined' },
      form: DECLINE_FORM,
    },
  ];
};

const joins = ({ positions, options }: Joining, view: JobView): string =>
  list([
    ...(positions.length > 0 ? [positionsTogether(positions)] : []),
    ...options.map((name) => view.plan.options?.[name] ?? name),
  ]);

/** What the controller is offered when a message raises a finding. */
export const offerFindings = (
  events: readonly JobEvent[],
  view: JobView,
  message: string,
): readonly Piece[] => {
  const finding = view.findings.find((each) => each.message === message && each.state === 'open');
  if (!finding) return [];
  const named = namedBy(events, view, message);
  const would =
    named.positions.length + named.options.length > 0
      ? ` Approved, ${joins(named, view)} joins the job.`
      : '';
  const photos = events.filter(
    (event) => event.kind === 'photo-kept' && event.message === message,
  ).length;
  const shown = photos > 0 ? ` With ${photos === 1 ? 'a photo' : `${photos} photos`}.` : '';
  const text = `Finding by ${finding.by}: "${finding.says}".${shown}${would} ${view.controller ?? 'A controller'} decides.`;
  return [
    {
      order: ORDER.question,
      card: {
        text,
        blocks: [{ kind: 'text', text }],
        actions: findingActions(events, view, finding),
        ...(view.controller ? { tells: [view.controller] } : {}),
      },
    },
  ];
};

/** The open finding an act means: the one of the step or positions it names, else the only one. */
const meant = (
  state: JobState,
  message: string | undefined,
  act: Act | undefined,
): readonly Finding[] => {
  const open = state.view.findings.filter(
    (finding) => finding.state === 'open' && (message === undefined || finding.message === message),
  );
  if (open.length < 2 || !act) return open;
  const acts = new Map(messagesOf(state.events).map((each) => [each.message, each.acts]));
  const fitting = open.filter((finding) =>
    acts
      .get(finding.message)
      ?.some(
        (each) =>
          each.kind === 'finding' &&
          ((act.step !== undefined && each.step === act.step) ||
            each.positions.some((name) => act.positions.includes(name))),
      ),
  );
  return fitting.length > 0 ? fitting : open;
};

/**
 * Settles a finding.
 * @param joining what was chosen in the form; by words what the message names, else what the finding itself names
 */
export const settleFinding = (
  state: JobState,
  which: { readonly message?: string | undefined; readonly act?: Act | undefined },
  settled: 'approved' | 'declined',
  reason: string | undefined,
  joining: Joining | undefined,
  asker: Asker,
  moment: Moment,
): Obeyed => {
  const { view } = state;
  const may = mayDo(asPerson(asker), 'settle-finding');
  if (!may.ok) return only(may.says);
  const open = meant(state, which.message, which.act);
  const [finding] = open;
  if (!finding) return only('No finding waits for a decision on this job.');
  if (open.length > 1)
    return only(
      `Several findings wait: ${list(open.map((each) => `"${each.says}" (${each.by})`))}. Use the button under the one you mean.`,
    );
  const free = notOnJob(view);
  const own = joining ?? namedBy(state.events, view, finding.message);
  const joined: Joining = {
    positions: free.positions.filter((name) => own.positions.includes(name)),
    options: free.options.filter((name) => own.options.includes(name)),
  };
  const any = joined.positions.length + joined.options.length > 0;
  return {
    events: [
      {
        id: `${asker.id}:finding:${finding.message}`,
        at: decidedAt(asker, moment),
        by: asker.by,
        kind: 'finding-settled',
        message: finding.message,
        settled,
        ...(reason ? { reason } : {}),
        positions: settled === 'approved' ? [...joined.positions] : [],
        options: settled === 'approved' ? [...joined.options] : [],
      },
    ],
    pieces: [
      says(
        settled === 'approved'
          ? `Approved by ${asker.by}: "${finding.says}".${any ? ` ${joins(joined, view)} joins the job.` : ''}`
          : `Declined by ${asker.by}: "${finding.says}"${reason ? `: ${reason}` : ''}. It stays in the record.`,
      ),
    ],
  };
};
