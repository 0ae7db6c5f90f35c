// The words and titles of every shipped plan report their steps, in every place, with a figure and without.
import { describe, expect, it } from 'vitest';
import type { Step, Watched } from '../../shared/plan.ts';
import type { Act } from '../../shared/reading.ts';
import { readMessage } from '../../src/language/read.ts';
import { lexiconFor, plans } from './plans.ts';

type Case = {
  readonly text: string;
  readonly step: string;
  readonly position: string;
  readonly figure?: { readonly value: number; readonly unit: string };
};

const itemsOf = (plan: (typeof plans)[number]): readonly (Step | Watched)[] => [
  ...plan.steps,
  ...(plan.watched ?? []),
];

const placesOf = (plan: (typeof plans)[number], item: Step | Watched): readonly string[] =>
  'each' in item && item.each !== undefined ? (plan.positions?.[item.each]?.names ?? []) : [''];

/** Figures as the bench sends them: the unit as the plan spells it. */
function figuresOf(item: Step | Watched): { value: number; unit: string }[] {
  return ('report' in item ? (item.report ?? []) : []).flatMap((ask) => {
    if (ask.kind !== 'quantity' && ask.kind !== 'drained' && ask.kind !== 'filled') return [];
    const value = ask.max ?? ask.min;
    return value === undefined ? [] : [{ value, unit: ask.unit ?? 'L' }];
  });
}

function casesOf(plan: (typeof plans)[number]): Case[] {
  const out: Case[] = [];
  for (const item of itemsOf(plan)) {
    const german = item.also?.de;
    for (const position of placesOf(plan, item)) {
      const at = position === '' ? '' : `, ${position}`;
      const step = item.id;
      const add = (text: string) => out.push({ text, step, position });
      for (const words of [...(item.words ?? []), ...(german?.words ?? [])]) {
        add(`${words}${at}`);
        if (position !== '') add(`${position} ${words}`);
      }
      add(`${item.title}${at}: done`);
      add(`${item.title}${at.replace(',', '')} done`);
      if (german?.title !== undefined) add(`${german.title}${at}: fertig`);
      for (const figure of figuresOf(item)) {
        const text = `${item.title}${at}: done, ${figure.value} ${figure.unit}`;
        out.push({ text, step, position, figure });
      }
    }
  }
  return out;
}

const brief = (act: Act) => `${act.kind} ${act.step ?? ''} ${act.positions.join()}`;

/** Steps of a plan that are given the same words: then a question is right. */
const claimsOf = (plan: (typeof plans)[number], text: string) =>
  itemsOf(plan).filter((item) =>
    [...(item.words ?? []), ...(item.also?.de?.words ?? [])].some((words) =>
      text.toLowerCase().includes(words.toLowerCase()),
    ),
  ).length;

describe.each(plans.map((plan) => [plan.plan, plan] as const))('%s', (_, plan) => {
  const lexicon = lexiconFor(plan.plan);

  it('finds the step done that its own words and its title name', () => {
    const wrong = casesOf(plan).flatMap(({ text, step, position, figure }) => {
      const { acts } = readMessage(text, lexicon, {});
      const asks = acts.length === 1 && acts[0]?.kind === 'unsure' && claimsOf(plan, text) > 1;
      const right =
        asks || (acts.length === 1 && acts.map(brief).join() === `done ${step} ${position}`);
      const sized =
        figure === undefined ||
        (acts[0]?.quantity?.value === figure.value && acts[0].quantity.unit === figure.unit);
      return right && sized ? [] : [`${text} => ${acts.map(brief).join(' + ')}`];
    });
    expect(wrong).toEqual([]);
  });

  it('leaves them alone where they are denied, asked or quoted', () => {
    const wrong = itemsOf(plan).flatMap((item) =>
      (item.words ?? []).flatMap((words) =>
        (words.startsWith('no ')
          ? [`${words}?`]
          : [`${words}?`, `"${words}"`, `> ${words}`, `not ${words}`, `once ${words}`]
        )
          .filter((text) => readMessage(text, lexicon, {}).acts.some((act) => act.kind === 'done'))
          .map((text) => text),
      ),
    );
    expect(wrong).toEqual([]);
  });
});

it('reads one-tap reports with the figure in their own words', () => {
  // "Set the brake clearance, right: done, 1.1 mm" is how the bench writes it.
  const acts = readMessage(
    'Set the brake clearance, right: done, 1.1 mm',
    lexiconFor('brake'),
    {},
  ).acts;
  expect(acts).toMatchObject([
    {
      kind: 'done',
      step: 'adjust-brake',
      positions: ['right'],
      quantity: { value: 1.1, unit: 'mm' },
    },
  ]);
});
