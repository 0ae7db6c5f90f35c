// What a command or a question to the bot does: releases, overrides, answers. One function for words and for taps.
import type { Act } from '../../../shared/reading.ts';
import { handoverCard } from '../answers/handover.ts';
import { helpCard } from '../answers/help.ts';
import { hoursCard } from '../answers/hours.ts';
import { limitCard } from '../answers/limits.ts';
import { nextCard } from '../answers/next.ts';
import { stepStateCard } from '../answers/step-state.ts';
import { whatReadCard } from '../answers/what-read.ts';
import { whereCard } from '../answers/where.ts';
import { mayHours } from '../asking/answer-asked.ts';
import { meansFlag } from '../flag-groups.ts';
import { cancelJob, closeJob, closingAsked, reopenJob } from '../office/closing.ts';
import { toNewPlan, toOtherPlan, toOtherVehicle } from '../office/correct.ts';
import { settleFinding } from '../office/findings.ts';
import { mergeJob, moveMessages } from '../office/moving.ts';
import { assign, promise, setController, takeOver } from '../office/people-and-promise.ts';
import { releaseToRoad } from '../office/road.ts';
import type { DistanceSaid } from '../orders/distance-said.ts';
import { WITHOUT_READING } from '../orders/forms.ts';
import { reasonSaid } from '../orders/reason-said.ts';
import { withoutOwnNumber } from '../own-number.ts';
import { mayDo } from '../roles.ts';
import { list } from '../say.ts';
import { type Asker, asPerson, type Obeyed, only, shows } from './obeyed.ts';
import { acknowledgeFlags, flagsMeant, overrideFlags } from './settle-flags.ts';
import { holdsMeant, settleHolds } from './settle-holds.ts';
import { showReport, withLacks } from './show-report.ts';
import type { JobState, Moment } from './turn.ts';
import { answerWorkshop, workshopQuestion } from './workshop-question.ts';

const readingOfAct = ({ quantity }: Act): { readonly reading?: DistanceSaid } =>
  quantity
    ? { reading: { value: quantity.value, unit: quantity.unit as DistanceSaid['unit'] } }
    : {};

/** Carries out one command, or answers one question that the bot can answer. */
export const obey = (state: JobState, act: Act, asker: Asker, moment: Moment): Obeyed => {
  const { view } = state;
  const { settings } = moment.workshop;
  const { zone } = settings;
  const reason = act.note ?? reasonSaid(asker.text);
  switch (act.command) {
    case 'next':
      return shows(nextCard(view));
    case 'where':
      return shows(
        whereCard(view, moment.now, zone, moment.around, mayHours(moment.workshop, asker)),
      );
    case 'handover':
      return shows(
        handoverCard(view, moment.now, zone, { events: state.events, around: moment.around }),
      );
    case 'help':
      return shows(helpCard());
    case 'limit':
      return shows(limitCard(view, act));
    case 'hours':
      return workshopQuestion(state, asker, moment)
        ? answerWorkshop(state, act, asker, moment)
        : shows(hoursCard(view, mayHours(moment.workshop, asker)));
    case 'step-state': {
      const card = stepStateCard(
        view,
        act,
        withoutOwnNumber(asker.text, view.job),
        moment.now,
        zone,
        moment.around,
      );
      return card ? shows(card) : { events: [], pieces: [] };
    }
    case 'hours-elsewhere':
      return only(
        `That names job ${act.job}, and this is job ${view.job}. No hours were booked. Say it under job ${act.job}, or in the channel.`,
      );
    case 'what-did-you-read':
      return shows(whatReadCard(state.events, view, asker));
    case 'open-jobs':
    case 'late':
    case 'waiting':
    case 'last-week':
    case 'history':
      return answerWorkshop(state, act, asker, moment);
    case 'forecast':
    case 'timeline':
    case 'hours-ahead':
    case 'record':
    case 'claim':
      return showReport(state, act.command, asker, moment);
    case 'release':
    case 'refuse': {
      const holds = holdsMeant(view, act);
      if (typeof holds === 'string') return only(holds);
      return settleHolds(
        view,
        holds,
        asker,
        moment,
        act.command === 'release' ? 'hold-released' : 'hold-refused',
        reason,
      );
    }
    case 'override': {
      const may = mayDo(asPerson(asker), 'override');
      if (!may.ok) return only(may.says);
      const keys = flagsMeant(view, act);
      if (keys.length > 1 && act.step === undefined)
        return only(
          `Several flags stand: ${list(
            view.flags
              .filter((flag) => keys.some((key) => meansFlag(key, flag)))
              .map((flag) => flag.says.split('. ')[0] ?? flag.says),
            4,
          )}. Name the step, or use the button under the flag.`,
        );
      return overrideFlags(view, keys, reason, asker, moment);
    }
    case 'acknowledge':
      return acknowledgeFlags(view, flagsMeant(view, act, 'stop'), asker, moment, 'words');
    case 'approve':
    case 'decline':
      return settleFinding(
        state,
        { act },
        act.command === 'approve' ? 'approved' : 'declined',
        act.command === 'decline' ? reason : undefined,
        act.positions.length > 0 ? { positions: act.positions, options: [] } : undefined,
        asker,
        moment,
      );
    case 'close-job':
      return withLacks(
        closeJob(state, asker, moment, {
          ...readingOfAct(act),
          without: act.note === WITHOUT_READING,
        }),
        state,
        moment,
      );
    case 'odometer':
      return closingAsked(state.events)
        ? closeJob(state, asker, moment, readingOfAct(act))
        : { events: [], pieces: [] };
    case 'cancel-job':
      return cancelJob(view, reason, asker, moment);
    case 'reopen-job':
      return reopenJob(view, reason, asker, moment);
    case 'road-release':
      return releaseToRoad(state, asker, moment);
    case 'assign':
      return assign(state, act, asker, moment);
    case 'controller':
      return setController(state, act, asker, moment);
    case 'promise':
      return promise(state, act, asker, moment);
    case 'take-over':
      return takeOver(state, asker, moment);
    case 'move-message':
      return moveMessages(state, act, asker, moment);
    case 'merge-job':
      return mergeJob(state, act, asker, moment);
    case 'new-plan':
      return toNewPlan(state, asker, moment);
    case 'other-plan':
      return toOtherPlan(state, act, asker, moment);
    case 'other-vehicle':
      return toOtherVehicle(state, act, asker, moment);
    default:
      return { events: [], pieces: [] };
  }
};
