// Everything a message is answered with goes into one card, gravest first.

import { LEVELS } from '../../../shared/plan.ts';
import type { Card } from '../card.ts';
import type { Piece } from '../turn/turn.ts';

/** How pieces are ordered: stops, cautions, then questions, then answers, then remarks. */
export const ORDER: Readonly<
  Record<
    'stop' | 'caution' | 'advice' | 'warning' | 'question' | 'answer' | 'withdrawn' | 'remark',
    number
  >
> = {
  stop: 0,
  caution: 1,
  warning: 2,
  question: 3,
  answer: 4,
  withdrawn: 5,
  remark: 6,
  advice: 7,
};

/** @returns undefined when there is nothing to say. */
export const gather = (pieces: readonly Piece[]): Card | undefined => {
  const cards = [...pieces].sort((a, b) => a.order - b.order).map((piece) => piece.card);
  const [first] = cards;
  if (!first) return undefined;
  if (cards.length === 1) return first;
  const level = LEVELS.find((known) => cards.some((card) => card.level === known));
  const picture = cards.find((card) => card.picture)?.picture;
  const files = cards.flatMap((card) => card.files ?? []);
  const wants = [...new Set(cards.flatMap((card) => card.wants ?? []))];
  return {
    text: cards.map((card) => card.text).join('\n'),
    ...(first.title ? { title: first.title } : {}),
    ...(level ? { level } : {}),
    blocks: cards.flatMap((card, index) => [
      ...(index > 0 && card.title ? [{ kind: 'text' as const, text: card.title }] : []),
      ...card.blocks,
    ]),
    actions: cards.flatMap((card) => card.actions ?? []),
    ...(picture ? { picture } : {}),
    ...(files.length > 0 ? { files } : {}),
    ...(wants.length > 0 ? { wants } : {}),
    tells: [...new Set(cards.flatMap((card) => card.tells ?? []))],
  };
};
