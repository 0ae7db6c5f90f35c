// What a command or an order comes to: events, words, and what concerns other jobs.
import type { JobEvent } from '../../../shared/event.ts';
import type { Role } from '../../../shared/plan.ts';
import type { Plan } from '../../job/plan.ts';
import type { Needs } from '../asking/answer-asked.ts';
import type { Card } from '../card.ts';
import { ORDER } from '../cards/gather.ts';
import type { Elsewhere, Moment, Piece, Said } from './turn.ts';

export type Obeyed = {
  readonly events: readonly JobEvent[];
  readonly pieces: readonly Piece[];
  /** Set where the answer needs open jobs, or jobs that are over, and they were not given. */
  readonly needs?: Needs;
  /** For the asker alone: hours of people are no matter of the whole channel. */
  readonly privately?: Card;
  /** The plan the job goes by from now on. */
  readonly plan?: Plan;
  readonly elsewhere?: readonly Elsewhere[];
};

export type Asker = Pick<Said, 'id' | 'message' | 'by' | 'roles' | 'text'> & {
  /** When it was said, where others could see it then; a tap is decided when it arrives. */
  readonly posted?: string;
};

/** When a decision counts from: a word from its posting, however late it is heard. */
export const decidedAt = (asker: Asker, moment: Pick<Moment, 'now'>): string =>
  asker.posted ?? moment.now;

export const says = (text: string, order: number = ORDER.answer): Piece => ({
  order,
  card: { text, blocks: [{ kind: 'text', text }] },
});
export const only = (text: string): Obeyed => ({ events: [], pieces: [says(text)] });
export const shows = (card: Card): Obeyed => ({
  events: [],
  pieces: [{ order: ORDER.answer, card }],
});

export const asPerson = (asker: Asker): { readonly name: string; readonly roles: Role[] } => ({
  name: asker.by,
  roles: asker.roles.filter(
    (role): role is Role => role === 'technician' || role === 'controller' || role === 'manager',
  ),
});
