// The one question a message is answered with: what it may have meant, gravest step first.
import type { JobEvent } from '../../../shared/event.ts';
import type { Act, Candidate } from '../../../shared/reading.ts';
import type { JobView } from '../../job/view.ts';
import { ORDER } from '../cards/gather.ts';
import { MOST_CHOICES, questionCard } from '../cards/question-card.ts';
import { stepTitle } from '../say.ts';
import { questionsOf } from './log.ts';
import type { JobState, Moment, Piece, Said } from './turn.ts';

const WEIGHT_ORDER = ['safety-critical', 'damage-critical', 'routine'];

/** The act that a candidate stands for: the unsure act with what the candidate settles. */
export const actOfCandidate = (unsure: Act, candidate: Candidate): Act => {
  const { candidates: _, ...rest } = unsure;
  return {
    ...rest,
    kind: candidate.kind ?? 'done',
    positions: candidate.positions ?? unsure.positions,
    ...(candidate.step === undefined ? {} : { step: candidate.step }),
    ...(candidate.stage === undefined ? {} : { stage: candidate.stage }),
    ...(candidate.quantity === undefined ? {} : { quantity: candidate.quantity }),
    assumed: [],
  };
};

const gravity = (view: JobView, act: Act): number =>
  Math.min(
    ...[...(act.candidates ?? []).map((candidate) => candidate.step), act.step].map((id) => {
      const weight =
        id === undefined ? 'routine' : (view.plan.stepById.get(id)?.weight ?? 'routine');
      return WEIGHT_ORDER.indexOf(weight);
    }),
  );

const asksFor = (view: JobView, act: Act, text: string): string => {
  const words = text.slice(act.span[0], act.span[1]).replace(/\s+/gu, ' ').trim() || text.trim();
  const short = words.length > 60 ? `${words.slice(0, 57)}…` : words;
  const steps = new Set((act.candidates ?? []).map((candidate) => candidate.step));
  const [only] = steps;
  if (act.note) return act.note;
  return steps.size === 1 && only !== undefined
    ? `"${short}": does that mean "${stepTitle(view, only)}"?`
    : `What does "${short}" mean?`;
};

type Asked = { readonly events: readonly JobEvent[]; readonly pieces: readonly Piece[] };

/** "Before or after?" is asked of so many reports at once; the next is asked when one of them is answered. */
const MOST_LATE = 3;
/** Questions in one reply; a phone shows no more at once. */
const MOST_QUESTIONS = 3;

/** Of each kind of question one for the message; what earlier messages left open waits for a message that leaves none. */
const wantsFor = (state: JobState, message: string): readonly JobView['wants'][number][] => {
  const asked = questionsOf(state.events);
  const known = new Set(asked.map(({ question }) => question));
  // Never a second question for a figure of one message: the first answer may bring both.
  const figures = new Set(
    asked.filter(({ about }) => about === 'figure').map((each) => each.message),
  );
  const late = asked.filter((each) => each.about === 'before-or-after' && each.state === 'open');
  const open = state.view.wants.filter(
    (want) =>
      !known.has(want.question) &&
      !(want.about === 'figure' && figures.has(want.message)) &&
      !(want.about === 'before-or-after' && late.length >= MOST_LATE),
  );
  const own = open.filter(
    (want, index) =>
      want.message === message &&
      open.findIndex((other) => other.message === message && other.about === want.about) === index,
  );
  return own.length > 0 ? own : open.slice(0, 1);
};

/** What a message is asked: its gravest unsure act, and what the checker wants to know about it, each kind once. */
export const questionsFor = (
  said: Pick<Said, 'id' | 'message' | 'text'>,
  acts: readonly Act[],
  state: JobState,
  moment: Moment,
): Asked => {
  const known = new Set(questionsOf(state.events).map((question) => question.question));
  const asked: Asked[] = [];
  const [unsure] = acts
    .filter((act) => act.kind === 'unsure')
    .sort((a, b) => gravity(state.view, a) - gravity(state.view, b));
  const question = `${said.message}:reading`;
  if (unsure && !known.has(question)) {
    const asks = asksFor(state.view, unsure, said.text);
    const choices = (unsure.candidates ?? []).slice(0, MOST_CHOICES).map((candidate) => ({
      says: candidate.says,
      acts: [actOfCandidate(unsure, candidate)],
    }));
    asked.push(
      ask(
        state.view,
        { question, message: said.message, about: 'reading', asks, choices },
        said.id,
        moment,
      ),
    );
  }
  for (const want of wantsFor(state, said.message)) {
    if (asked.length > 0 && want.message !== said.message) continue;
    if (asked.length < MOST_QUESTIONS) asked.push(ask(state.view, want, said.id, moment));
  }
  return {
    events: asked.flatMap(({ events }) => events),
    pieces: asked.flatMap(({ pieces }) => pieces),
  };
};

type Question = Pick<
  Extract<JobEvent, { kind: 'question-asked' }>,
  'question' | 'message' | 'about' | 'asks' | 'choices' | 'flag'
>;

const ask = (
  view: JobView,
  question: Omit<Question, 'flag' | 'choices'> & {
    readonly flag?: string | undefined;
    readonly choices: readonly Question['choices'][number][];
  },
  turn: string,
  moment: Moment,
): Asked => ({
  events: [
    {
      id: `${turn}:asked:${question.question}`,
      at: moment.now,
      by: 'chargehand',
      kind: 'question-asked',
      question: question.question,
      message: question.message,
      asks: question.asks,
      about: question.about,
      choices: [...question.choices],
      ...(question.flag ? { flag: question.flag } : {}),
    },
  ],
  pieces: [{ order: ORDER.question, card: questionCard(view.job, question) }],
});
