// Questions: what the checker needs answered, what was asked, and what became of it.
import type { JobEventOf } from '../../../shared/event.ts';
import { questionId } from '../facts/answers.ts';
import type { Fact } from '../facts/fact.ts';
import type { OpenQuestion, Want } from '../view.ts';
import { titled } from '../words.ts';
import { askForFigures } from './ask-for-figures.ts';
import type { Job } from './job.ts';

/** What the state of the job itself leaves open: positions, figures, second figures, somebody's own word. */
export function ownWants(job: Job): readonly Want[] {
  const wants = [
    ...job.posting.flatMap((fact) => [...askPosition(job, fact), ...askWhichFigure(job, fact)]),
    ...askOwnWord(job),
    ...askForFigures(job),
  ];
  return once(wants);
}

/** Wants not asked yet, gravest step first, each once. */
export function stillNeeded(job: Job, needed: readonly Want[]): readonly Want[] {
  const asked = new Set<string>();
  for (const { event } of job.events) {
    if (event.kind === 'question-asked' || event.kind === 'question-answered') {
      asked.add(event.question);
    }
  }
  return once(needed).filter(({ question }) => !asked.has(question));
}

function once(wants: readonly Want[]): readonly Want[] {
  const seen = new Set<string>();
  return wants.filter(({ question }) => {
    const fresh = !seen.has(question);
    seen.add(question);
    return fresh;
  });
}

/** A step with several positions was reported without one. */
function askPosition(job: Job, fact: Fact): readonly Want[] {
  const { act, message } = fact.report;
  if (!fact.unsettled || act.step === undefined) return [];
  const nodes = job.graph.ofStep(act.step);
  const names = nodes.flatMap((id) => job.graph.nodes[id]?.position ?? []);
  const open = nodes
    .filter((id) => !job.done.isDone(id))
    .flatMap((id) => job.graph.nodes[id]?.position ?? []);
  const left = act.count === undefined ? 0 : (act.count.of ?? names.length) - act.count.done;
  // "5 of 6" leaves one: the question is then which one is left.
  const allBut = left === 1 && (act.count?.of ?? names.length) === names.length;
  const { count: _, ...plain } = act;
  const choice = (says: string, positions: readonly string[]) => ({
    says,
    acts: [{ ...(allBut ? plain : act), positions: [...positions] }],
  });
  return [
    {
      question: questionId(message, 'reading', act.step),
      message,
      about: 'reading',
      asks: allBut
        ? `Which one is left at ${titled(job, act.step)}?`
        : `At which position: ${titled(job, act.step)}?`,
      choices: allBut
        ? names.map((name) =>
            choice(
              `All but ${name}`,
              names.filter((other) => other !== name),
            ),
          )
        : [
            ...open.map((name) => choice(name, [name])).slice(0, 2),
            choice('All of them', names),
            ...open.map((name) => choice(name, [name])).slice(2),
          ],
    },
  ];
}

/** A second figure for what has one. */
function askWhichFigure(job: Job, fact: Fact): readonly Want[] {
  const { act, message } = fact.report;
  if (fact.disputes === undefined || act.step === undefined) return [];
  const [earlier, later] = [said(fact.disputes.act), said(act)];
  return [
    {
      question: questionId(message, 'repeat', act.step),
      message,
      about: 'repeat',
      asks: `${titled(job, act.step)} has ${earlier} on record, now ${later} is reported. Which holds?`,
      choices: [
        { says: `${later}, a correction`, value: 'correct' },
        { says: 'Both: it was done again', value: 'again' },
        { says: `${earlier} stays`, value: 'keep' },
      ],
    },
  ];
}

function said({ quantity, code, angle }: Fact['report']['act']): string {
  if (quantity !== undefined) return `${quantity.value} ${quantity.unit}`;
  if (code !== undefined) return code;
  return angle === undefined ? 'no figure' : `${angle.value}°`;
}

/** Work of somebody else, reported for a step that needs that person's own word. */
function askOwnWord(job: Job): readonly Want[] {
  return job.graph.nodes.flatMap(({ id, step }) => {
    const run = job.done.latest(id);
    if (run === undefined || run.claim !== undefined) return [];
    return run.doubts
      .filter(({ why }) => why === 'own-word')
      .map(
        ({ fact: { report } }): Want => ({
          question: questionId(report.message, 'other', step),
          message: report.message,
          about: 'other',
          asks: `${report.worker}: did you do ${titled(job, step)}? It needs your own word.`,
          choices: [
            { says: 'I did it', value: 'own-word' },
            { says: 'Not me', value: 'not-mine' },
          ],
        }),
      );
  });
}

/** Whether a message whose words were asked about says plainly now what it meant, since it was edited. */
function isClear(job: Job, message: string, about: Want['about']): boolean {
  const record = job.log.find((one) => one.message === message);
  const [newest] = record?.readings ?? [];
  if (about !== 'reading' || newest === undefined) return false;
  return !newest.acts.some(({ kind }) => kind === 'unsure');
}

/** Every question that was asked, with what became of it. One that nobody needs answered any more has lapsed. */
export function openQuestions(job: Job, needed: readonly Want[]): readonly OpenQuestion[] {
  const wanted = new Set(needed.map(({ question }) => question));
  const standing = new Set(job.log.map(({ message }) => message));
  const lapsed = new Set<string>();
  const asked = new Map<string, JobEventOf<'question-asked'>>();
  for (const { event } of job.events) {
    if (event.kind === 'question-lapsed') lapsed.add(event.question);
    if (event.kind === 'question-asked' && !asked.has(event.question)) {
      asked.set(event.question, event);
    }
  }
  return [...asked.values()]
    .filter(({ message }) => standing.has(message))
    .map((event) => {
      const { question, message, asks, about, choices } = event;
      const answer = job.answers.get(question);
      const ours = question.startsWith(`${message}:${about}:`);
      const over =
        lapsed.has(question) || (ours ? !wanted.has(question) : isClear(job, message, about));
      return {
        question,
        message,
        asks,
        about,
        choices,
        askedAt: event.at,
        state: answer !== undefined ? 'answered' : over ? 'lapsed' : 'open',
        ...(answer && { settledBy: answer.settledBy }),
      };
    });
}
