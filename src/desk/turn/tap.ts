// A button or a filled form on a job. Everything is checked again here: a card may be old, a button may be forged.
import type { Act } from '../../../shared/reading.ts';
import type { Intent } from '../card.ts';
import { figureAsked } from '../figure-form.ts';
import { cancelJob, closeJob } from '../office/closing.ts';
import { settleFinding } from '../office/findings.ts';
import { distanceSaid } from '../orders/distance-said.ts';
import { mayAnswer, mayRelease } from '../roles.ts';
import { stepAt, stepTitle } from '../say.ts';
import { conclude } from './conclude.ts';
import { answered, type Heard, hear, notRecorded } from './hear.ts';
import { messagesOf, questionsOf } from './log.ts';
import { asPerson, type Obeyed } from './obeyed.ts';
import { acknowledgeFlags, overrideFlags } from './settle-flags.ts';
import { settleHolds } from './settle-holds.ts';
import { withLacks } from './show-report.ts';
import type { JobState, Moment, Said, Turn } from './turn.ts';

export type Tap = Pick<Said, 'id' | 'channel' | 'at' | 'by' | 'roles'> & {
  readonly intent: Intent;
  readonly fields: Readonly<Record<string, string | readonly string[]>>;
};

const field = (tap: Tap, name: string): string | undefined => {
  const value = tap.fields[name];
  const text = typeof value === 'string' ? value : value?.[0];
  return text?.trim() ? text.trim() : undefined;
};

const several = (tap: Tap, name: string): readonly string[] => {
  const value = tap.fields[name];
  const values = typeof value === 'string' ? value.split(/[,\n]/u) : (value ?? []);
  return values.map((each) => each.trim()).filter((each) => each !== '');
};

const end = (state: JobState, obeyed: Obeyed, tap: Tap, moment: Moment): Turn =>
  conclude(state, obeyed.events, obeyed.pieces, [], { id: tap.id }, moment);

const told = (state: JobState, text: string, tap: Tap, moment: Moment): Turn =>
  conclude(state, [], [notRecorded(text)], [], { id: tap.id }, moment);

/** A next step reported with one tap: the words stand in the thread, the act needs no reading. */
const reportStep = (
  state: JobState,
  intent: Extract<Intent, { do: 'report' }>,
  tap: Tap,
  moment: Moment,
): Turn => {
  const step = state.view.plan.stepById.get(intent.step);
  if (!step)
    return told(
      state,
      'This step is not on the plan of the job any more. Ask "what\'s next".',
      tap,
      moment,
    );
  const figure = field(tap, 'figure');
  const unit = field(tap, 'unit') ?? figureAsked(step.report)?.unit;
  const value = figure === undefined ? undefined : Number(figure.replace(',', '.'));
  if (value !== undefined && !Number.isFinite(value))
    return told(
      state,
      `"${figure?.slice(0, 20)}" is no figure. Tap again and give a number.`,
      tap,
      moment,
    );
  const name = stepAt(state.view, intent.step, intent.position);
  const text =
    value === undefined ? `${name}: done` : `${name}: done, ${figure} ${unit ?? ''}`.trim();
  const act: Act = {
    kind: 'done',
    step: intent.step,
    positions: intent.position === null ? [] : [intent.position],
    ...(value !== undefined && unit ? { quantity: { value, unit } } : {}),
    assumed: [],
    span: [0, text.length],
  };
  return hear(state, { ...tap, message: tap.id, text }, moment, [act]);
};

/** Takes a tap that concerns a job. */
export const takeTap = (state: JobState, tap: Tap, moment: Moment): Heard => {
  const { view } = state;
  const asker: Said = { ...tap, message: tap.id, text: '' };
  const { intent } = tap;
  if (view.status !== 'open' && intent.do !== 'say')
    return told(state, `Job ${view.job} is ${view.status}; nothing was recorded.`, tap, moment);
  switch (intent.do) {
    case 'answer': {
      const question = questionsOf(state.events).find((each) => each.question === intent.question);
      if (!question) return told(state, 'That question is not known on this job.', tap, moment);
      const writer = messagesOf(state.events).find(({ message }) => message === question.message);
      const may = mayAnswer(asPerson(asker), writer?.by, view.technician);
      if (!may.ok) return told(state, may.says, tap, moment);
      if (intent.choice !== null && !question.choices[intent.choice])
        return told(state, 'That answer is not one of the choices.', tap, moment);
      if (question.state === 'answered')
        return told(
          state,
          `Answered already by ${question.settled?.by ?? 'someone'}. Post a correction if it was wrong.`,
          tap,
          moment,
        );
      if (question.state === 'lapsed')
        return told(state, 'That question has lapsed. Post the report again.', tap, moment);
      return conclude(
        state,
        answered(state, intent.question, intent.choice, tap, moment),
        [],
        [],
        { id: tap.id },
        moment,
      );
    }
    case 'report':
      return reportStep(state, intent, tap, moment);
    case 'release':
    case 'refuse': {
      const hold = view.holds.find(
        (each) => each.step === intent.step && each.position === intent.position,
      );
      if (!hold)
        return told(
          state,
          `"${stepTitle(view, intent.step)}" is no hold point of this job.`,
          tap,
          moment,
        );
      const may = mayRelease(view, { name: tap.by, roles: asPerson(asker).roles }, hold);
      if (!may.ok) return told(state, may.says, tap, moment);
      if (hold.state === 'not reached')
        return told(
          state,
          `"${stepTitle(view, intent.step)}" has not been reported as done yet, so there is nothing to release.`,
          tap,
          moment,
        );
      if (hold.state === 'released' && intent.do === 'release')
        return told(
          state,
          `"${stepTitle(view, intent.step)}" is released already${hold.by ? ` by ${hold.by}` : ''}.`,
          tap,
          moment,
        );
      return end(
        state,
        settleHolds(
          view,
          [hold],
          asker,
          moment,
          intent.do === 'release' ? 'hold-released' : 'hold-refused',
          field(tap, 'reason'),
        ),
        tap,
        moment,
      );
    }
    case 'override':
      return end(
        state,
        overrideFlags(view, [intent.flag], field(tap, 'reason'), asker, moment),
        tap,
        moment,
      );
    case 'acknowledge':
      return end(
        state,
        acknowledgeFlags(view, [intent.flag], asker, moment, 'button'),
        tap,
        moment,
      );
    case 'settle-finding': {
      // A card drawn without its form chose nothing: then what the finding names joins, as by words.
      const filled = tap.fields.positions !== undefined || tap.fields.options !== undefined;
      return end(
        state,
        settleFinding(
          state,
          { message: intent.message },
          intent.settle,
          field(tap, 'reason'),
          filled
            ? { positions: several(tap, 'positions'), options: several(tap, 'options') }
            : undefined,
          asker,
          moment,
        ),
        tap,
        moment,
      );
    }
    case 'close-job': {
      const words = field(tap, 'reading');
      const reading = words === undefined ? undefined : distanceSaid(words);
      if (words !== undefined && !reading)
        return told(
          state,
          `"${words.slice(0, 30)}" is no odometer or hour reading. Write it as 412350 km, 255000 mi or 9120 h.`,
          tap,
          moment,
        );
      const without = tap.fields.reading !== undefined && reading === undefined;
      return end(
        state,
        withLacks(closeJob(state, asker, moment, { reading, without }), state, moment),
        tap,
        moment,
      );
    }
    case 'cancel-job':
      return end(state, cancelJob(view, field(tap, 'reason'), asker, moment), tap, moment);
    case 'say':
      return hear(state, { ...asker, text: intent.text, tapped: true }, moment);
    default:
      return { state, events: [], posts: [] };
  }
};
