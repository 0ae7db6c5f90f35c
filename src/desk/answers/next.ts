// "What's next": the steps that order, holds and waiting times allow now, with what has to be reported.
import type { Ask, Step } from '../../../shared/plan.ts';
import type { JobView } from '../../job/view.ts';
import type { Action, Card } from '../card.ts';
import { figureForm } from '../figure-form.ts';
import { freeNext, limitsOutWords } from '../out-of-limits.ts';
import { bareSentence, ended, list, stepsGathered, stepTitle } from '../say.ts';
import { limitOfAsk, NOTICE } from './limits.ts';

const MOST = 4;

const wanted = (ask: Ask): string | undefined => {
  switch (ask.kind) {
    case 'quantity':
    case 'drained':
    case 'filled':
    case 'tightening':
    case 'loosening':
    case 'clearance':
      return limitOfAsk(ask);
    case 'off':
    case 'on':
      return `${ask.count} ${ask.part} ${ask.kind}`;
    case 'code':
      return ask.do === 'read'
        ? `the ${ask.of.replaceAll('-', ' ')} from the label`
        : `the ${ask.of.replaceAll('-', ' ')} as entered`;
    case 'trouble-codes':
      return ask.ask === 'before'
        ? 'the trouble codes before'
        : ask.ask === 'cleared'
          ? 'that the codes are cleared'
          : 'that no code is active';
    case 'photo':
      return `a photo of ${ask.of}`;
    case 'remark':
      return `a remark on ${ask.of}`;
  }
};

/** What a step wants to hear, in one phrase; undefined when nothing. */
export const wantedOf = (step: Step): string | undefined => {
  const all = (step.report ?? []).map(wanted).filter((phrase) => phrase !== undefined);
  return all.length === 0 ? undefined : list(all);
};

/** A step that needs a figure asks for it before the tap counts. */
const formPart = (view: JobView, step: string, position: string | null): Pick<Action, 'form'> => {
  const form = figureForm(view, step, position);
  return form ? { form } : {};
};

const reportActions = (view: JobView): readonly Action[] =>
  freeNext(view)
    .slice(0, 3)
    .map(({ step, position }) => ({
      label: `Done: ${stepTitle(view, step)}${position === null ? '' : `, ${position}`}`,
      weight: 'plain',
      intent: { do: 'report', job: view.job, step, position },
      ...formPart(view, step, position),
    }));

export const nextCard = (view: JobView): Card => {
  const title = `Next on job ${view.job}`;
  const next = freeNext(view);
  const out = limitsOutWords(view);
  const first =
    out.length > 0
      ? `Put right first: ${out.join('; ')}. Measure again and correct the report, or put it right and report it again; what rests on it is not offered until then.`
      : undefined;
  if (next.length === 0) {
    const holds = view.holds
      .filter((hold) => hold.state === 'waits')
      .map((hold) => stepTitle(view, hold.step));
    const says =
      first ??
      (holds.length > 0
        ? `Nothing may go on until ${list(holds.map((hold) => `"${hold}"`))} is released.`
        : view.closeNeeds.length === 0
          ? 'Every step has its record. The job can be closed.'
          : ended(
              `No step is free to start. Still open: ${list(view.closeNeeds.map(bareSentence), 4)}`,
            ));
    return { title, text: `${title}: ${says}`, blocks: [{ kind: 'text', text: says }] };
  }
  const steps = [...new Set(next.map(({ step }) => step))].slice(0, MOST);
  const items = steps.map((id) => {
    const step = view.plan.stepById.get(id);
    const name =
      stepsGathered(
        view,
        next.filter((each) => each.step === id),
      )[0] ?? id;
    const wants = step ? wantedOf(step) : undefined;
    const weight = step?.weight === 'safety-critical' ? ' (safety-critical)' : '';
    return wants ? `${name}${weight}. Report ${wants}.` : `${name}${weight}.`;
  });
  const left = new Set(next.map(({ step }) => step)).size - steps.length;
  const cautions = [
    ...new Set(
      steps.map((id) => view.plan.stepById.get(id)?.caution).filter((text) => text !== undefined),
    ),
  ];
  const limits = items.some((item) => item.includes('Report'));
  const lines = [...(first ? [first] : []), ...items, ...(left > 0 ? [`and ${left} more`] : [])];
  return {
    title,
    text: `${title}: ${lines.join(' ')}${cautions.length > 0 ? ` ${cautions.join(' ')}` : ''}${limits ? ` ${NOTICE(view)}` : ''}`,
    blocks: [
      { kind: 'list', items: lines },
      ...cautions.map((text) => ({ kind: 'caution' as const, text })),
      ...(limits ? [{ kind: 'text' as const, text: NOTICE(view) }] : []),
    ],
    actions: reportActions(view),
  };
};
