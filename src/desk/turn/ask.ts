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
    ? `"${short}": what about "${stepTitle(view, only)}"?`
    : `What does "${short}" mean?`;
};

type Asked = { readonly events: readonly JobEvent[]; readonly pieces: readonly Piece[] };

/** At most one question: the gravest unsure act of the message, else what the checker wants to know about it. */
export const questionFor = (
  said: Pick<Said, 'id' | 'message' | 'text'>,
  acts: readonly Act[],
  state: JobState,
  moment: Moment,
): Asked => {
  const known = new Set(questionsOf(state.events).map((question) => question.question));
  const [unsure] = acts
    .filter((act) => act.kind === 'unsure')
    .sort((a, b) => gravity(state.view, a) - gravity(state.view, b));
  if (unsure) {
    const question = `${said.message}:reading`;
    if (known.has(question)) return { events: [], pieces: [] };
    const asks = asksFor(state.view, unsure, said.text);
    const choices = (unsure.candidates ?? []).slice(0, MOST_CHOICES).map((candidate) => ({
      says: candidate.says,
      acts: [actOfCandidate(unsure, candidate)],
    }));
    return ask(
      state.view,
      { question, message: said.message, about: 'reading', asks, choices },
      said.id,
      moment,
    );
  }
  const want = state.view.wants.find((each) => !known.has(each.question));
  return want ? ask(state.view, want, said.id, moment) : { events: [], pieces: [] };
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
