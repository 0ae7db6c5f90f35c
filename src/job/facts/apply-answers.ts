import type { Answer } from './answers.ts';
import { questionId } from './answers.ts';
import { WORK } from './fact.ts';
import { hasFigure } from './measure.ts';
import type { MessageRecord } from './message-log.ts';
import type { StandingAct } from './standing-acts.ts';

/**
 * What the answers to questions make of a message: an unsure act becomes what was chosen, a report without its figure
 * becomes the one with it. Both keep the time of the message. An answer counts only for as long as what was asked
 * about is still said so: an edit that says it plainly wins.
 */
export function applyAnswers(
  record: MessageRecord,
  acts: readonly StandingAct[],
  answers: ReadonlyMap<string, Answer>,
  ofMessage: readonly Answer[],
): readonly StandingAct[] {
  let standing = acts;
  for (const answer of ofMessage) {
    if (answer.about === 'reading' && !answer.question.startsWith(`${record.message}:reading:`)) {
      standing = settleUnsure(standing, answer);
    }
  }
  return withFigures(record.message, standing, answers);
}

function settleUnsure(acts: readonly StandingAct[], answer: Answer): readonly StandingAct[] {
  const chosen = answer.acts ?? [];
  const unsure = acts.filter(({ act }) => act.kind === 'unsure');
  const meant = unsure.filter(({ act }) =>
    chosen.some(({ span }) => span[0] === act.span[0] && span[1] === act.span[1]),
  );
  const [first, ...others] = meant.length > 0 ? meant : unsure;
  if (first === undefined) return acts;
  return acts.flatMap((standing) => {
    if (standing === first) return chosen.map((act) => ({ ...standing, act }));
    return others.includes(standing) ? [] : [standing];
  });
}

function withFigures(
  message: string,
  acts: readonly StandingAct[],
  answers: ReadonlyMap<string, Answer>,
): readonly StandingAct[] {
  if (answers.size === 0) return acts;
  const used = new Set<string>();
  return acts.flatMap((standing) => {
    const { act } = standing;
    if (act.step === undefined || !WORK.has(act.kind) || hasFigure(act)) return [standing];
    const question = questionId(message, 'figure', act.step);
    const given = answers.get(question)?.acts;
    if (given === undefined || given.length === 0 || used.has(question)) return [standing];
    used.add(question);
    return given.map((one) => ({ ...standing, act: one }));
  });
}
