// A question that was settled in this turn: its card is edited so that nothing is left to tap.
import type { JobEvent } from '../../../shared/event.ts';
import { flagKey } from '../../../shared/flag.ts';
import type { JobView } from '../../job/view.ts';
import type { Post } from '../card.ts';
import { flagsCard } from '../cards/flag-card.ts';
import { gather, ORDER } from '../cards/gather.ts';
import { closedQuestionCard } from '../cards/question-card.ts';
import { announcedFlags, questionsOf } from './log.ts';
import type { Piece } from './turn.ts';

const turnOf = (id: string, kind: string): string => id.slice(0, id.indexOf(`:${kind}:`));

/** Rebuilds the reply in which a question stood: the flags said with it, and how the question ended. */
export const closedQuestions = (
  before: readonly JobEvent[],
  after: readonly JobEvent[],
  view: JobView,
): readonly Post[] => {
  const open = new Set(
    questionsOf(before)
      .filter((each) => each.state === 'open')
      .map((each) => each.question),
  );
  return questionsOf(after)
    .filter((each) => open.has(each.question) && each.state !== 'open')
    .map((each) => {
      const turn = turnOf(each.id, 'asked');
      const settled = each.settled;
      const ended =
        settled?.kind === 'question-answered'
          ? `Answered by ${settled.by}: ${settled.choice === null ? 'none of these' : (each.choices[settled.choice]?.says ?? 'typed')}.`
          : 'Lapsed without an answer. Post it again in other words.';
      const pieces: Piece[] = [{ order: ORDER.question, card: closedQuestionCard(each, ended) }];
      const said = announcedFlags(after);
      const flags = view.flags.filter((flag) => said.get(flagKey(flag))?.turn === turn);
      const flagged = flagsCard(view, flags, []);
      if (flagged) pieces.push({ order: ORDER[flagged.level ?? 'caution'], card: flagged });
      const card = gather(pieces);
      return {
        key: `reply:${turn}`,
        to: { where: 'thread' as const },
        ...(card ? { card } : {}),
        edit: true,
        urgent: false,
      };
    });
};
