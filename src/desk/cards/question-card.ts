// One short question with at most three choices and "none of these".
import type { Card } from '../card.ts';

type Asked = {
  readonly question: string;
  readonly asks: string;
  readonly choices: readonly { readonly says: string }[];
};

export const MOST_CHOICES = 3;
export const NONE = 'None of these';

/** A question that a figure answers has no choices: the answer is typed. */
export const questionCard = (job: string, asked: Asked): Card => {
  const choices = asked.choices.slice(0, MOST_CHOICES);
  const named = choices.map((choice, index) => `${index + 1} ${choice.says}`).join(' · ');
  return {
    text: choices.length > 0 ? `${asked.asks} ${named} · or none of these` : asked.asks,
    blocks: [{ kind: 'text', text: asked.asks }],
    actions:
      choices.length === 0
        ? []
        : [
            ...choices.map((choice, index) => ({
              label: choice.says,
              weight: 'main' as const,
              intent: { do: 'answer' as const, job, question: asked.question, choice: index },
            })),
            {
              label: NONE,
              weight: 'plain' as const,
              intent: { do: 'answer' as const, job, question: asked.question, choice: null },
            },
          ],
  };
};

/** The question once it is closed: what was answered and by whom, nothing left to tap. */
export const closedQuestionCard = (asked: Asked, ended: string): Card => ({
  text: `${asked.asks} ${ended}`,
  blocks: [
    { kind: 'text', text: asked.asks },
    { kind: 'text', text: ended },
  ],
});
