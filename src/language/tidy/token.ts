// The smallest piece of a message. Offsets are UTF-16 places in the raw text.
import type { ActionClass } from '../pack.ts';

export type VerbForm = 'base' | 'past' | 'ing' | 'third';

/** What a word may be, found once for each word of the language and the plan. */
export type Entry = {
  /** Form by which words are compared: singular, small letters. */
  readonly root: string;
  /** For a verb: the base form. */
  readonly lemma: string | undefined;
  readonly classes: readonly ActionClass[];
  readonly forms: readonly VerbForm[];
  /** The plan uses the word for a part or in a title. */
  readonly plan: boolean;
  /** Carries no meaning for the match of a step. */
  readonly stop: boolean;
  /** Side or end of the vehicle in the plan's words. */
  readonly side: readonly string[] | undefined;
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
  readonly value: number | undefined;
  /** A figure that may be read in two ways, such as 1.200. */
  readonly doubtful: boolean;
  /** Written in capitals or with a capital: may be a name. */
  readonly capital: boolean;
  readonly entry: Entry | undefined;
  /** The word before it was mended. */
  readonly mended: string | undefined;
};

/** A token with nothing known of it yet. Every token has the same fields in the same order, which reads fastest. */
export function tokenOf(
  kind: Token['kind'],
  word: string,
  from: number,
  to: number,
  glued: boolean,
  value: number | undefined = undefined,
  doubtful = false,
): Token {
  return {
    kind,
    word,
    from,
    to,
    glued,
    value,
    doubtful,
    capital: false,
    entry: undefined,
    mended: undefined,
  };
}
