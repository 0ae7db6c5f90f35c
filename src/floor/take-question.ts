// A question about the workshop, asked outside a job's thread: answered there, or to the asker alone.
import type { Delivery } from '../../shared/delivery.ts';
import type { Person } from '../../shared/settings.ts';
import { answerAsked } from '../desk/asking/answer-asked.ts';
import type { Asked } from '../desk/asking/asked.ts';
import type { Card } from '../desk/card.ts';
import type { Floor } from './floor.ts';

/** What a command asks in words that the questions do not know: in another language, for one. */
export const usualAsked = (command: string): Asked | undefined => {
  switch (command) {
    case 'open-jobs':
      return { ask: 'jobs', states: [] };
    case 'late':
      return { ask: 'jobs', states: ['late'] };
    case 'waiting':
      return { ask: 'jobs', states: ['waiting'] };
    case 'last-week':
      return { ask: 'week', span: 'last-week' };
    default:
      return undefined;
  }
};

const plain = (text: string): Card => ({ text, blocks: [{ kind: 'text', text }] });

/** Answers a question and settles it. */
export const takeQuestion = async (
  floor: Floor,
  delivery: Delivery,
  asked: Asked,
  person: Person,
): Promise<void> => {
  const ground = async (needs: Parameters<typeof floor.momentFor>[2]) => {
    const moment = await floor.momentFor(undefined, undefined, needs);
    return {
      workshop: floor.workshop,
      now: moment.now,
      asker: { name: person.name, roles: person.roles },
      openJobs: moment.openJobs,
      pastJobs: moment.pastJobs,
      paces: moment.paces,
    };
  };
  let answer = answerAsked(asked, await ground({}));
  if ('needs' in answer) answer = answerAsked(asked, await ground({ needs: answer.needs }));
  if ('needs' in answer) return floor.store.settle(delivery.id);
  // On the bench an answer outside a job is for the asker alone as it is, and so is a direct conversation.
  const beside =
    answer.privately &&
    delivery.channel !== 'bench' &&
    delivery.kind === 'message' &&
    delivery.direct !== true;
  if (!beside) return floor.reply(delivery, answer.card);
  await floor.replyAlone(delivery, answer.card);
  await floor.reply(delivery, plain('Hours of people are told to you alone.'));
};
