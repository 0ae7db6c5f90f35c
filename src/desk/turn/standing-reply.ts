// A reply as it stands now: its questions with what became of them, its flags that still stand. Edited in place, so that
// nothing is left to tap that means nothing any more.
import type { JobEvent } from '../../../shared/event.ts';
import { flagKey } from '../../../shared/flag.ts';
import type { JobView } from '../../job/view.ts';
import type { Post } from '../card.ts';
import { flagsCard, goneCard } from '../cards/flag-card.ts';
import { gather, ORDER } from '../cards/gather.ts';
import { closedQuestionCard, questionCard } from '../cards/question-card.ts';
import { firstSentence } from '../say.ts';
import { isSaid } from './announce.ts';
import { announcedFlags, type LoggedQuestion, questionsOf } from './log.ts';
import type { Piece } from './turn.ts';

export const askedIn = ({ id }: Pick<LoggedQuestion, 'id'>): string =>
  id.slice(0, id.indexOf(':asked:'));

const ended = (question: LoggedQuestion): string => {
  const { settled } = question;
  if (settled?.kind !== 'question-answered')
    return 'Lapsed without an answer. Post it again in other words.';
  const choice = settled.choice === null ? undefined : question.choices[settled.choice];
  const typed = question.choices.length === 0 ? 'typed' : 'none of these';
  return `Answered by ${settled.by}: ${choice?.says ?? typed}.`;
};

/** Turns whose questions were open before and are not any more. */
export const turnsSettled = (
  before: readonly JobEvent[],
  after: readonly JobEvent[],
): readonly string[] => {
  const open = new Set(
    questionsOf(before)
      .filter((each) => each.state === 'open')
      .map((each) => each.question),
  );
  return questionsOf(after)
    .filter((each) => open.has(each.question) && each.state !== 'open')
    .map(askedIn);
};

/** The reply of an earlier turn, made anew. */
export const standingReply = (events: readonly JobEvent[], view: JobView, turn: string): Post => {
  const pieces: Piece[] = questionsOf(events)
    .filter((each) => askedIn(each) === turn)
    .map((each) => ({
      order: ORDER.question,
      card:
        each.state === 'open'
          ? questionCard(view.job, each)
          : closedQuestionCard(each, ended(each)),
    }));
  const said = announcedFlags(events);
  const own = view.flags.filter((flag) => {
    const known = said.get(flagKey(flag));
    return isSaid(flag) && known?.turn === turn && known.standing;
  });
  const flagged = flagsCard(view, own, []);
  if (flagged) pieces.push({ order: ORDER[flagged.level ?? 'caution'], card: flagged });
  const gone = [...said.values()].filter((each) => each.turn === turn && !each.standing);
  if (!flagged && gone.length > 0)
    pieces.push({
      order: ORDER.withdrawn,
      card: goneCard(view, [...new Set(gone.map(({ says }) => firstSentence(says)))]),
    });
  const card = gather(pieces);
  return {
    key: `reply:${turn}`,
    to: { where: 'thread' },
    ...(card ? { card } : {}),
    edit: true,
    urgent: false,
  };
};
