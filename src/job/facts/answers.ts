import type { JobEventOf } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import type { TimedEvent } from './canonical.ts';

type Asked = JobEventOf<'question-asked'>;

/** What was answered to one question; the latest answer counts. */
export type Answer = {
  readonly question: string;
  readonly message: string | undefined;
  readonly about: Asked['about'] | undefined;
  readonly acts: readonly Act[] | undefined;
  readonly value: string | undefined;
  readonly by: string;
  /** Id of the message that answered, else of the answering tap. */
  readonly settledBy: string;
  readonly at: number;
};

/** The values of the choices the checker itself offers, in their order, by what the question is about. */
export const CHOICE_VALUES: Readonly<Record<string, readonly string[]>> = {
  'before-or-after': ['before', 'after'],
  repeat: ['correct', 'again', 'keep'],
  other: ['own-word', 'not-mine'],
};

/** The id of a question about one step of one message: it stays the same however often the job is checked. */
export function questionId(
  message: string,
  about: Asked['about'],
  step: string,
  stage?: number,
): string {
  const id = `${message}:${about}:${step}`;
  return stage === undefined ? id : `${id}:stage ${stage}`;
}

/** Answers by question. The choice is looked up in the question as it was asked. */
export function answersOf(events: readonly TimedEvent[]): ReadonlyMap<string, Answer> {
  const asked = new Map<string, Asked>();
  const answers = new Map<string, Answer>();
  for (const { event } of events) {
    if (event.kind === 'question-asked' && !asked.has(event.question)) {
      asked.set(event.question, event);
    }
  }
  for (const { event, at } of events) {
    if (event.kind !== 'question-answered') continue;
    const question = asked.get(event.question);
    const choice = event.choice === null ? undefined : question?.choices[event.choice];
    const about = question?.about ?? aboutOf(event.question);
    answers.set(event.question, {
      question: event.question,
      message: question?.message,
      about,
      acts: event.acts ?? choice?.acts,
      value:
        choice?.value ??
        (event.choice === null ? undefined : CHOICE_VALUES[about ?? '']?.[event.choice]),
      by: event.by,
      settledBy: event.message ?? event.id,
      at,
    });
  }
  return answers;
}

/** The answer can arrive before the question: what it is about then stands in the id alone. */
function aboutOf(question: string): Asked['about'] | undefined {
  const found = /:(reading|before-or-after|figure|repeat|other):/.exec(question)?.[1];
  return found as Asked['about'] | undefined;
}
