// What the thread spoke of last: the step an elliptic message goes on with.
import type { Act } from '../../shared/reading.ts';
import type { Focus } from './clause-acts/so-far.ts';
import type { PreviousMessage, ReadContext } from './context.ts';
import type { Message } from './message.ts';

export type ThreadFocus = {
  readonly last: Focus | undefined;
  /** Acts of the writer's last message, for corrections and withdrawals. */
  readonly acts: readonly Act[];
  readonly from: string;
  readonly text: string;
};

/** The acts of the last message of a person, as they stand or as its text reads. */
export function focusOf(
  message: Message,
  context: ReadContext,
  read: (text: string) => readonly Act[],
): ThreadFocus {
  const people = (context.previous ?? []).filter((one) => one.from === 'person');
  const own =
    context.by === undefined
      ? people
      : people.filter((one) => one.by === undefined || one.by === context.by);
  for (const previous of [...own].reverse().slice(0, 3)) {
    const acts = actsOf(previous, read);
    const last =
      [...acts].reverse().find((act) => act.step !== undefined && act.kind !== 'asks') ??
      acts.find((act) => act.step !== undefined);
    if (!last) {
      if (acts.length > 0 || previous === own.at(-1)) continue;
      continue;
    }
    const step = message.tongue.steps.find((one) => one.id === last.step);
    if (!step) continue;
    return {
      last: {
        step,
        positions: last.positions,
        kind: last.kind,
        from: previous.id,
        ...(last.stage === undefined ? {} : { stage: last.stage }),
        ...(last.quantity ? { quantity: last.quantity } : {}),
      },
      acts,
      from: previous.id,
      text: previous.text,
    };
  }
  return { last: undefined, acts: [], from: '', text: own.at(-1)?.text ?? '' };
}

export const actsOf = (
  previous: PreviousMessage,
  read: (text: string) => readonly Act[],
): readonly Act[] => previous.acts ?? read(previous.text);
