// A message on a job: recorded, read, checked, and answered with at most one reply.
import type { JobEvent } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import type { JobView } from '../../job/view.ts';
import type { Needs } from '../asking/answer-asked.ts';
import type { Card, Post } from '../card.ts';
import { ORDER } from '../cards/gather.ts';
import { offerFindings } from '../office/findings.ts';
import { remarksOn } from '../office/remarks.ts';
import { personNamed } from '../workshop.ts';
import { asOf } from './as-of.ts';
import { questionsFor } from './ask.ts';
import { checkJob } from './check-job.ts';
import { conclude } from './conclude.ts';
import { figurePiece } from './figure-piece.ts';
import { decides, judgeAgain } from './judge-again.ts';
import { messagesOf, questionsOf } from './log.ts';
import { obey } from './obey.ts';
import type { Asker } from './obeyed.ts';
import { seenByWriting } from './pass-on.ts';
import { readAgain, readingOf } from './reading-of.ts';
import { isRecorded } from './recorded.ts';
import { amendedBefore, readEdit } from './revisions.ts';
import type { Elsewhere, JobState, Moment, Piece, Said, Turn } from './turn.ts';
import { warnAhead } from './warn-ahead.ts';

/**
 * A request, or a question that the bot can answer: "is it 600 for the wheel nuts" asks for the plan's limit, "is the
 * battery isolated" for what is on record.
 */
const askedOf = (act: Act): Act | undefined => {
  if (act.kind !== 'command' && act.kind !== 'asks') return undefined;
  if (act.command !== undefined) return act;
  if (act.step === undefined) return undefined;
  return { ...act, command: act.quantity !== undefined ? 'limit' : 'step-state' };
};

/** A question for a figure is answered, not asked about. */
const NO_QUESTION = { events: [], pieces: [] };

export type Heard = Turn & { readonly needs?: Needs };

/** Checks a job anew with more events. */
export const checked = (state: JobState, more: readonly JobEvent[], moment: Moment): JobView =>
  more.length === 0
    ? state.view
    : checkJob(state.view.plan, [...state.events, ...more], moment.now, moment.around);

const sign = (said: Pick<Said, 'message'>, mark: 'recorded' | 'asked' | 'unrecorded'): Post => ({
  key: `sign:${said.message}:${mark}`,
  to: { where: 'thread' },
  sign: { message: said.message, mark },
  edit: false,
  urgent: false,
});

/**
 * Takes one message of a job.
 * @param given acts that are known without reading: a tap on a next step
 */
export const hear = (
  state: JobState,
  said: Said,
  moment: Moment,
  given?: readonly Act[],
): Heard => {
  if (messagesOf(state.events).some((message) => message.message === said.message))
    return { state, events: [], posts: [] };
  const posted: JobEvent = {
    id: `${said.id}:posted`,
    at: said.at,
    by: said.by,
    kind: 'message-posted',
    message: said.message,
    channel: said.channel,
    text: said.text,
    ...(said.roles[0] ? { role: said.roles[0] } : {}),
    ...underOf(said.by, moment),
    ...(said.typed ? { typed: said.typed } : {}),
  };
  const events: JobEvent[] = [posted];
  const read = given
    ? { acts: given, relied: [], explained: [] }
    : readingOf([...state.events, posted], state.view, said, moment.workshop, moment.jobNumbers);
  events.push({
    id: `${said.id}:read`,
    at: said.at,
    by: 'chargehand',
    kind: 'message-read',
    message: said.message,
    revision: 0,
    pass: 0,
    acts: [...read.acts],
    relied: [...read.relied],
  });
  const before = amendedBefore(state.events, said.message);
  const isAsPosted = !before.deleted && before.edits.length === 0;
  if (before.edits.length > 0)
    events.push(...readEdit([...state.events, ...events], state.view, said, said.id, moment));
  const acts = newestActs(events) ?? read.acts;
  const text = before.edits.at(-1)?.text ?? said.text;
  const answers = isAsPosted && 'answers' in read ? read.answers : undefined;
  if (answers) events.push(...answered(state, answers.question, answers.choice, said, moment));
  events.push(
    ...readAgain(
      [...state.events, ...events],
      state.view,
      said,
      { id: said.id, now: moment.now },
      moment.workshop,
      moment.jobNumbers,
    ),
  );
  const pieces: Piece[] = [];
  let current: JobState = {
    events: [...state.events, ...events],
    view: checked(state, events, moment),
  };
  let needs: Needs | undefined;
  const alone: Post[] = [];
  let base = state;
  const elsewhere: Elsewhere[] = [];
  // A word that its writer took back or changed before it was heard decides nothing and asks for nothing.
  for (const act of isAsPosted ? read.acts : []) {
    const asked = askedOf(act);
    if (!asked) continue;
    const obeyed =
      decides(asked) && !said.tapped
        ? obey(asOf(current, said, moment), asked, decider(said), moment)
        : obey(current, asked, said, moment);
    needs ??= obeyed.needs;
    pieces.push(...obeyed.pieces);
    if (obeyed.privately) alone.push(forOne(said, obeyed.privately));
    if (obeyed.events.length === 0) continue;
    events.push(...obeyed.events);
    elsewhere.push(...(obeyed.elsewhere ?? []));
    if (obeyed.plan) base = { ...base, view: { ...base.view, plan: obeyed.plan } };
    current = { events: [...state.events, ...events], view: checked(base, events, moment) };
  }
  if (needs) return { state, events: [], posts: [], needs };
  const judged = judgeAgain(current, said, moment);
  if (judged.events.length > 0) {
    events.push(...judged.events);
    pieces.push(...judged.pieces);
    current = { events: [...state.events, ...events], view: checked(base, events, moment) };
  }
  events.push(...seenByWriting(state, said, moment, acknowledgedIn(events)));
  if (before.deleted)
    return conclude(base, events, pieces, [], { id: said.id, replyTo: said.message }, moment);
  const figure = answers ? undefined : figurePiece(text, acts, current.view, said, moment);
  if (figure) pieces.push(figure);
  pieces.push(
    ...warnAhead(current.view, acts),
    ...remarksOn(current.view, acts, said.by, moment),
    ...offerFindings(current.events, current.view, said.message),
  );
  const question = figure ? NO_QUESTION : questionsFor({ ...said, text }, acts, current, moment);
  events.push(...question.events);
  pieces.push(...question.pieces);
  const signs: Post[] = [...alone];
  if (acts.some(isRecorded) || answers) signs.push(sign(said, 'recorded'));
  else if (question.events.length > 0) signs.push(sign(said, 'asked'));
  const turn = conclude(
    base,
    events,
    pieces,
    signs,
    { id: said.id, replyTo: said.message },
    moment,
  );
  return elsewhere.length > 0 ? { ...turn, elsewhere } : turn;
};

/** What was typed where nobody could see it is decided once it is heard, not before. */
const decider = (said: Said): Asker =>
  said.typed === undefined ? { ...said, posted: said.at } : said;

/** What the newest text of a message says, where an edit came before it. */
const newestActs = (events: readonly JobEvent[]): readonly Act[] | undefined => {
  const last = events.findLast((event) => event.kind === 'message-read');
  return last?.kind === 'message-read' ? last.acts : undefined;
};

/** An answer that only the asker sees. */
const forOne = (said: Pick<Said, 'id' | 'by'>, card: Card): Post => ({
  key: `alone:${said.id}`,
  to: { where: 'person', name: said.by },
  card,
  edit: false,
  urgent: false,
});

const acknowledgedIn = (events: readonly JobEvent[]): ReadonlySet<string> =>
  new Set(events.flatMap((event) => (event.kind === 'flag-acknowledged' ? [event.flag] : [])));

/** Who the writer works under, as the settings say now: kept with the message, since settings change. */
const underOf = (by: string, moment: Moment): { readonly under?: string } => {
  const under = personNamed(moment.workshop.settings, by)?.under;
  return under === undefined ? {} : { under };
};

/** The event that settles an open question, and nothing where it is settled already. */
export const answered = (
  state: Pick<JobState, 'events'>,
  question: string,
  choice: number | null,
  by: { readonly id: string; readonly by: string; readonly message?: string },
  moment: Moment,
): readonly JobEvent[] => {
  const asked = questionsOf(state.events).find((each) => each.question === question);
  if (asked?.state !== 'open') return [];
  const acts = choice === null ? undefined : asked.choices[choice]?.acts;
  return [
    {
      id: `${by.id}:answer:${question}`,
      at: moment.now,
      by: by.by,
      kind: 'question-answered',
      question,
      choice,
      ...(by.message ? { message: by.message } : {}),
      ...(acts ? { acts } : {}),
    },
  ];
};

/** What a message is told when it cannot be recorded on this job. */
export const notRecorded = (text: string): Piece => ({
  order: ORDER.answer,
  card: { text, blocks: [{ kind: 'text', text }] },
});
