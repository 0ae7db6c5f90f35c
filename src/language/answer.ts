// The answer to a question of ours: yes, no, the number or the words of a choice, none of these.
import type { Act } from '../../shared/reading.ts';
import type { PendingQuestion, ReadContext, ReadResult } from './context.ts';
import { findCues } from './cue-table.ts';
import type { Message } from './message.ts';

const cuesOf = (message: Message) =>
  findCues(message.tokens, 0, message.tokens.length, message.tongue.cues);

function yesOrNo(message: Message): 'yes' | 'no' | 'neither' | undefined {
  const cues = cuesOf(message);
  const last = message.tokens.length;
  const whole = (name: string) =>
    cues.some(
      (cue) => cue.name === name && cue.from === 0 && restIsCourtesy(message, cue.to, last),
    );
  if (whole('neither')) return 'neither';
  if (whole('no-answer')) return 'no';
  if (whole('yes')) return 'yes';
  return undefined;
}

const restIsCourtesy = (message: Message, from: number, to: number) =>
  message.tokens
    .slice(from, to)
    .every(
      (token) =>
        token.kind === 'mark' ||
        token.kind === 'sign' ||
        /^(mate|boss|thanks|cheers|please|ta|lads|yes|yeah|yep|done|they|it|are|is|have|has|i|all|did|no|not|yet|that|bot)$/.test(
          token.word,
        ),
    ) && !message.tokens.some((token) => token.word === '?');

/** Reads a short message as the answer to the pending question, or to the bot's own words before it. */
export function readAnswer(
  message: Message,
  context: ReadContext,
  read: (text: string) => ReadResult,
): ReadResult | undefined {
  const pending = context.pending?.at(-1);
  if (message.words.length === 0 || message.words.length > 8) return undefined;
  if (pending) return answerPending(message, pending);
  const previous = context.previous?.at(-1);
  if (previous?.from !== 'bot') return undefined;
  const said = yesOrNo(message);
  if (said === undefined || said === 'neither') return undefined;
  const asked = read(previous.text).acts.filter((act) => act.step !== undefined);
  if (asked.length === 0) return undefined;
  const acts = asked.map(
    (act): Act => ({
      ...act,
      kind: said === 'yes' ? 'done' : 'not-done',
      assumed: ['answer: to the question asked'],
      span: [0, message.raw.length],
    }),
  );
  return {
    acts,
    relied: [previous.id],
    explained: [`"${message.raw.trim()}": the answer ${said} to "${previous.text}".`],
  };
}

function answerPending(message: Message, pending: PendingQuestion): ReadResult | undefined {
  const choice = choiceOf(message, pending);
  if (choice === undefined) return undefined;
  const acts = choice === null ? [] : (pending.choices[choice]?.acts ?? []);
  return {
    acts: acts.map((act) => ({ ...act, span: [0, message.raw.length] as [number, number] })),
    relied: [pending.question],
    answers: { question: pending.question, choice },
    explained: [`"${message.raw.trim()}": the answer to "${pending.asks}".`],
  };
}

const plain = (text: string) => (text.toLowerCase().match(/[\p{L}\d]+/gu) ?? []).join(' ');

function choiceOf(message: Message, pending: PendingQuestion): number | null | undefined {
  const said = yesOrNo(message);
  if (said === 'neither') return null;
  const text = plain(message.raw);
  const same = pending.choices.findIndex((choice) => plain(choice.says) === text);
  if (same >= 0) return same;
  const starts = pending.choices.flatMap((choice, index) =>
    text.length > 2 && ` ${plain(choice.says)} `.includes(` ${text} `) ? [index] : [],
  );
  if (starts.length === 1) return starts[0];
  if (said === 'yes' && pending.choices.length === 1) return 0;
  if (said === 'yes') {
    const yes = pending.choices.findIndex((choice) => /^(yes|done|ja)\b/i.test(choice.says));
    return yes >= 0 ? yes : undefined;
  }
  if (said === 'no') {
    const no = pending.choices.findIndex((choice) => /^(no|not|nein|nicht)\b/i.test(choice.says));
    return no >= 0 ? no : pending.choices.length === 1 ? null : undefined;
  }
  return undefined;
}
