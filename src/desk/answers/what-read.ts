// "What did you read?": the acts of the last report, the words each came from, what was assumed, how to put it right.
import type { JobEvent } from '../../../shared/event.ts';
import type { Act } from '../../../shared/reading.ts';
import type { JobView } from '../../job/view.ts';
import type { Card } from '../card.ts';
import { positionsTogether, stepTitle } from '../say.ts';
import { messagesOf } from '../turn/log.ts';

const KIND_WORDS: Readonly<Record<Act['kind'], string>> = {
  done: 'done',
  started: 'started',
  partial: 'partly done',
  'not-done': 'not done',
  intends: 'about to be done',
  asks: 'a question',
  corrects: 'a correction',
  retracts: 'withdrawn',
  blocked: 'cannot go on',
  resumed: 'going on again',
  finding: 'something found',
  clock: 'working time',
  command: 'a request',
  unsure: 'not sure what was meant',
};

/** One act in plain words: "Drain the coolant: done, 28 L". */
export const actWords = (view: Pick<JobView, 'plan'>, act: Act): string => {
  const parts: string[] = [KIND_WORDS[act.kind]];
  if (act.positions.length > 0) parts.push(positionsTogether(act.positions));
  if (act.stage !== undefined) parts.push(`stage ${act.stage}`);
  if (act.quantity)
    parts.push(`${act.quantity.approx ? 'about ' : ''}${act.quantity.value} ${act.quantity.unit}`);
  if (act.angle) parts.push(`${act.angle.value}°`);
  if (act.count)
    parts.push(
      act.count.of === undefined ? `${act.count.done}` : `${act.count.done} of ${act.count.of}`,
    );
  if (act.code) parts.push(act.code);
  if (act.time) parts.push(`at ${/T(\d\d:\d\d)/.exec(act.time)?.[1] ?? act.time}`);
  if (act.by) parts.push(`by ${act.by}`);
  const subject = act.step
    ? `${stepTitle(view, act.step)}: `
    : act.command
      ? `${act.command.replaceAll('-', ' ')}: `
      : '';
  return `${subject}${parts.join(', ')}`;
};

const quoted = (text: string, span: Act['span']): string => {
  const words = text.slice(span[0], span[1]).replace(/\s+/gu, ' ').trim();
  return words.length > 80 ? `${words.slice(0, 77)}…` : words;
};

/** Shows how the asker's last report was read. */
export const whatReadCard = (
  events: readonly JobEvent[],
  view: JobView,
  asker: { readonly message: string; readonly by: string },
): Card => {
  const earlier = messagesOf(events).filter(
    (message) => message.message !== asker.message && !message.deleted,
  );
  const own = earlier.filter((message) => message.by === asker.by);
  const reported = (message: (typeof earlier)[number]): boolean =>
    message.acts.some((act) => act.kind !== 'command' && act.kind !== 'asks');
  const last = own.findLast(reported) ?? earlier.findLast(reported) ?? own.at(-1);
  if (!last) {
    const none = 'Nothing has been posted on this job yet.';
    return { text: none, blocks: [{ kind: 'text', text: none }] };
  }
  const items =
    last.acts.length === 0
      ? ['Nothing was recorded from it.']
      : last.acts.map((act) => {
          const assumed = act.assumed.length > 0 ? ` Assumed: ${act.assumed.join('; ')}.` : '';
          return `${actWords(view, act)} (from "${quoted(last.text, act.span)}").${assumed}`;
        });
  const mend =
    'To put it right: edit the message, or type what was meant, such as "26 not 28", "meant cylinder 5" or "scrap that".';
  const first = `Read from ${last.by}: "${last.text.length > 120 ? `${last.text.slice(0, 117)}…` : last.text}"`;
  return {
    text: `${first}. ${items.join(' ')} ${mend}`,
    blocks: [
      { kind: 'text', text: first },
      { kind: 'list', items },
      { kind: 'text', text: mend },
    ],
  };
};
