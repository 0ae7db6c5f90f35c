// A question about the workshop, asked in the thread of a job: answered there, or to the asker alone.
import type { Act } from '../../../shared/reading.ts';
import { answerAsked, askedKnownOf } from '../asking/answer-asked.ts';
import type { Asked } from '../asking/asked.ts';
import { workshopAsked } from '../asking/workshop-asked.ts';
import { withoutOwnNumber } from '../own-number.ts';
import type { Workshop } from '../workshop.ts';
import { type Asker, type Obeyed, only, shows } from './obeyed.ts';
import type { JobState, Moment } from './turn.ts';

/** The command under which a question is kept in the record: a name of src/language/commands.ts. */
export const commandOfAsked = (asked: Asked): string => {
  switch (asked.ask) {
    case 'jobs':
      return asked.states.includes('late')
        ? 'late'
        : asked.states.includes('waiting') || asked.states.includes('blocked')
          ? 'waiting'
          : 'open-jobs';
    case 'hours':
      return 'hours';
    case 'week':
      return 'last-week';
    case 'history':
      return 'history';
    case 'note':
      return 'handover';
  }
};

/** The question of a whole message, as it would be asked in this job's thread. */
export const workshopQuestion = (
  { view }: Pick<JobState, 'view'>,
  asker: Pick<Asker, 'by' | 'text'>,
  { workshop, jobNumbers }: { readonly workshop: Workshop; readonly jobNumbers: readonly string[] },
): Asked | undefined =>
  workshopAsked(
    withoutOwnNumber(asker.text, view.job),
    askedKnownOf(workshop, asker.by, jobNumbers, { vehicle: view.opened.vehicle.name }),
  );

/** What a command alone asks, in words the questions do not know: in another language, for one. */
const usual = ({ command }: Act, vehicle: string): Asked => {
  switch (command) {
    case 'late':
      return { ask: 'jobs', states: ['late'] };
    case 'waiting':
      return { ask: 'jobs', states: ['waiting'] };
    case 'last-week':
      return { ask: 'week', span: 'last-week' };
    case 'history':
      return { ask: 'history', vehicle, lastOnly: false };
    default:
      return { ask: 'jobs', states: [] };
  }
};

/** Answers, or says what is needed first. */
export const answerWorkshop = (state: JobState, act: Act, asker: Asker, moment: Moment): Obeyed => {
  const asked =
    workshopQuestion(state, asker, moment) ?? usual(act, state.view.opened.vehicle.name);
  const answer = answerAsked(asked, {
    workshop: moment.workshop,
    now: moment.now,
    asker: { name: asker.by, roles: asker.roles },
    openJobs: moment.openJobs,
    pastJobs: moment.pastJobs,
    paces: moment.paces,
  });
  if ('needs' in answer) return { events: [], pieces: [], needs: answer.needs };
  return answer.privately
    ? { ...only('Hours of people are told to you alone.'), privately: answer.card }
    : shows(answer.card);
};
