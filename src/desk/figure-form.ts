// The one figure that a report of a step needs, and the form that asks for it.
import type { Ask } from '../../shared/plan.ts';
import type { JobView } from '../job/view.ts';
import { limitOfAsk } from './answers/limits.ts';
import type { Form } from './card.ts';
import { stepAt } from './say.ts';

type Measured = Extract<Ask, { kind: 'quantity' | 'drained' | 'filled' }>;

/** The one figure that a report of a step needs; undefined where it needs none, or several. */
export const figureAsked = (
  asks: readonly Ask[] | undefined,
): { readonly label: string; readonly unit: string; readonly limits?: string } | undefined => {
  const wanted = (asks ?? []).filter(
    (ask): ask is Measured =>
      ask.kind === 'quantity' || ask.kind === 'drained' || ask.kind === 'filled',
  );
  const [ask] = wanted;
  if (!ask || wanted.length !== 1) return undefined;
  const limits = limitOfAsk(ask);
  return {
    label: ask.kind === 'quantity' ? ask.of : `${ask.fluid.replaceAll('-', ' ')} ${ask.kind}`,
    unit: ask.unit ?? 'L',
    ...(limits ? { limits } : {}),
  };
};

/** The form that asks for the figure of a step; undefined where it needs none, or several. */
export const figureForm = (
  view: JobView,
  step: string,
  position: string | null,
): Form | undefined => {
  const figure = figureAsked(view.plan.stepById.get(step)?.report);
  if (!figure) return undefined;
  const name = stepAt(view, step, position);
  return {
    title: 'Report the figure',
    submit: 'Report',
    fields: [
      {
        name: 'figure',
        label: figure.label,
        kind: 'number',
        required: true,
        unit: figure.unit,
        hint: figure.limits ? `${name}: ${figure.limits}` : name,
      },
    ],
  };
};
