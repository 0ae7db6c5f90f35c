// The answer to a question with choices that is still open.
import type { PendingQuestion, ReadResult } from './context.ts';
import { findCues } from './cue-table.ts';
import type { Message } from './message.ts';

function yesOrNo(message: Message): 'yes' | 'no' | 'neither' | undefined {
  const cues = findCues(message.tokens, 0, message.tokens.length, message.tongue.cues);
  const whole = (name: string) =>
    cues.some((cue) => cue.name === name && cue.from === 0 && restIsCourtesy(message, cue.to));
  if (whole('neither')) return 'neither';
  if (whole('no-answer')) return 'no';
  if (whole('yes')) return 'yes';
  return undefined;
}

const restIsCourtesy = (message: Message, from: number) =>
  !message.tokens.some((token) => token.word === '?') &&
  message.tokens
    .slice(from)
    .every(
      (token) =>
        token.kind === 'mark' ||
        token.kind === 'sign' ||
        /^(mate|boss|thanks|cheers|please|ta|lads|yes|yeah|yep|done|they|it|are|is|have|has|i|all|did|no|not|yet|that|bot|danke|ja|nein|noch|nicht)$/.test(
          token.word,
        ),
    );

/** The choice a message makes, with the acts of that choice; undefined where it makes none. */
export function answerPending(message: Message, pending: PendingQuestion): ReadResult | undefined {
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
  const inside = pending.choices.flatMap((choice, index) =>
    text.length > 1 && ` ${plain(choice.says)} `.includes(` ${text} `) ? [index] : [],
  );
  if (inside.length === 1) return inside[0];
  const starting = (words: RegExp) =>
    pending.choices.findIndex((choice) => words.test(choice.says));
  if (said === 'yes') {
    const yes = starting(/^(yes|done|ja|erledigt)\b/i);
    return yes >= 0 ? yes : pending.choices.length === 1 ? 0 : undefined;
  }
  if (said === 'no') {
    const no = starting(/^(no|not|nein|nicht|noch nicht)\b/i);
    return no >= 0 ? no : pending.choices.length === 1 ? null : undefined;
  }
  return undefined;
}
