// The smallest piece of a message. Offsets are UTF-16 places in the raw text.
import type { ActionClass } from '../pack.ts';

export type VerbForm = 'base' | 'past' | 'ing' | 'third';

/** What a word may be, found once for each word of the language and the plan. */
export type Entry = {
  /** Form by which words are compared: singular, small letters. */
  readonly root: string;
  /** For a verb: the base form. */
  readonly lemma?: string;
  readonly classes: readonly ActionClass[];
  readonly forms: readonly VerbForm[];
  /** The plan uses the word for a part or in a title. */
  readonly plan: boolean;
  /** Carries no meaning for the match of a step. */
  readonly stop: boolean;
  /** Side or end of the vehicle in the plan's words. */
  readonly side?: readonly string[];
  readonly known: boolean;
};

export type Token = {
  readonly kind: 'word' | 'number' | 'code' | 'mark' | 'sign';
  /** Small letters, contractions opened, slips mended. */
  readonly word: string;
  readonly from: number;
  readonly to: number;
  /** No space between it and the token before. */
  readonly glued: boolean;
  readonly value?: number;
  /** A figure that may be read in two ways, such as 1.200. */
  readonly doubtful?: boolean;
  /** Written in capitals or with a capital: may be a name. */
  readonly capital?: boolean;
  readonly entry?: Entry;
  /** The word before it was mended. */
  readonly mended?: string;
};
