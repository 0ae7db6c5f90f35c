// A clause: one thing said, with the verbs, words of parts, figures and signs that stand in it.

import type { Cue } from './cue-table.ts';
import type { Hanging } from './cutting/subordinate.ts';
import type { Wanted } from './match/score.ts';
import type { ActionClass, CueName } from './pack.ts';
import type { Figure } from './scan/figure.ts';
import { NAMES_PART } from './thresholds.ts';
import type { Token, VerbForm } from './tidy/token.ts';

export type VerbHit = {
  readonly at: number;
  readonly lemma: string;
  readonly classes: readonly ActionClass[];
  readonly form: VerbForm;
  /** Base form that may as well be a noun. */
  readonly maybeNoun: boolean;
};

export type Piece = {
  readonly from: number;
  readonly to: number;
  readonly tokens: readonly Token[];
  readonly verbs: readonly VerbHit[];
  /** Families of a particle or state that reports by itself. */
  readonly moved: readonly ActionClass[];
  readonly parts: ReadonlyMap<string, number>;
  /** Words with meaning that neither the plan nor the language knows. */
  readonly unknown: readonly string[];
  /** An unknown word, no name, stands before the last word that reports: it may have been "not". */
  readonly strangerBefore: boolean;
  readonly figures: readonly Figure[];
  /** Positions that are left out: "all but 4", "apart from 2 and 5". */
  readonly excepted: readonly Figure[];
  readonly cues: readonly Cue[];
  /** What stands before it: a comma, "and", "but", a line break, nothing. */
  readonly joint: string;
  /** A tick, done or thumbs-up sign in it. */
  readonly tick: boolean;
  /** A cross in it: not done. */
  readonly cross: boolean;
  readonly question: boolean;
  /** It is only the condition or the time of what the rest of its sentence says. */
  readonly hangs?: Hanging;
};

/** What was worked out of the one it belongs to; a copy works it out anew. */
export type Memo<T> = { of: object | undefined; value: T | undefined };

export const newMemo = <T>(): Memo<T> => ({ of: undefined, value: undefined });

export type Clause = {
  readonly pieces: readonly Piece[];
  /** Parts taken from the clause before, because this one names none. */
  readonly inherited: ReadonlyMap<string, number>;
  /** Parts named in the clause before, for words such as "bolts" that leave it open whose they are. */
  readonly around: ReadonlyMap<string, number>;
  /** Positions said for a neighbour in the sentence, for a clause that says none. */
  readonly shared: readonly Figure[];
  /** Verbs taken from the clause behind or before, where this one has none. */
  readonly lent: Piece | undefined;
  readonly sentence: number;
  readonly memo: Memo<Wanted>;
  readonly question: boolean;
  /** It is only the condition or the time of what the rest of its sentence says. */
  readonly hangs?: Hanging;
  /** It states something of the writer's, and the question of its sentence begins behind it. */
  readonly states?: true;
  /** A condition beside it says when it is to be. */
  readonly under?: true;
};

export const hasCue = (clause: Clause, name: CueName): boolean => cueOf(clause, name) !== undefined;

export const cueOf = (clause: Clause, name: CueName): Cue | undefined => {
  for (const piece of clause.pieces) {
    for (const cue of piece.cues) if (cue.name === name) return cue;
  }
  return undefined;
};

/** Most clauses have one piece: its list is given as it is. */
export const figuresOf = (clause: Clause): readonly Figure[] =>
  clause.pieces.length === 1
    ? (clause.pieces[0] as Piece).figures
    : clause.pieces.flatMap((piece) => piece.figures);

export const cuesOf = (clause: Clause): readonly Cue[] =>
  clause.pieces.length === 1
    ? (clause.pieces[0] as Piece).cues
    : clause.pieces.flatMap((piece) => piece.cues);

export const verbsOf = (clause: Clause): readonly VerbHit[] =>
  clause.pieces.length === 1
    ? (clause.pieces[0] as Piece).verbs
    : clause.pieces.flatMap((piece) => piece.verbs);

export const movedOf = (clause: Clause): readonly ActionClass[] =>
  clause.pieces.length === 1
    ? (clause.pieces[0] as Piece).moved
    : clause.pieces.flatMap((piece) => piece.moved);

/** Whether some part is named in a piece, or in what a clause offers: with at least so much of a value. */
export function partNamed(
  { parts }: { readonly parts: ReadonlyMap<string, number> },
  least = NAMES_PART,
): boolean {
  for (const value of parts.values()) if (value >= least) return true;
  return false;
}

/** Whether some piece of a clause names a part. */
export const namesPart = (clause: Clause): boolean =>
  clause.pieces.some((piece) => partNamed(piece));

export const startOf = (clause: Clause): number => clause.pieces[0]?.from ?? 0;
export const endOf = (clause: Clause): number => clause.pieces.at(-1)?.to ?? 0;

const TELLING_SMALL: ReadonlySet<string> = new Set([
  'no',
  'not',
  'off',
  'on',
  'in',
  'out',
  'up',
  'down',
]);

/** The words of a clause by their roots, for finding the phrases of a plan in them. */
export function saidIn(clause: Clause): { root: string; small: boolean; past: boolean }[] {
  const out: { root: string; small: boolean; past: boolean }[] = [];
  for (const piece of clause.pieces) {
    for (let i = piece.from; i < piece.to; i += 1) {
      const token = piece.tokens[i];
      if (!token || token.kind === 'mark' || token.kind === 'sign') continue;
      const entry = token.entry;
      out.push({
        root: entry?.root ?? token.word,
        small:
          entry === undefined ||
          (entry.stop && !TELLING_SMALL.has(token.word)) ||
          isInFigure(piece.figures, i),
        past: entry?.forms.includes('past') ?? false,
      });
    }
  }
  return out;
}

/** Whether a token stands inside one of the figures. */
export function isInFigure(figures: readonly Figure[], i: number): boolean {
  for (const one of figures) if (one.from <= i && i < one.to) return true;
  return false;
}

/** The clause whose words were asked for last: the rules ask for those of the same clause one after the other. */
let asked:
  | { readonly clause: Clause; readonly words: readonly string[]; text: string | undefined }
  | undefined;

/** The words of a clause, for looking whether one stands in it. */
export function wordsOf(clause: Clause): readonly string[] {
  if (asked?.clause === clause) return asked.words;
  const words: string[] = [];
  for (const piece of clause.pieces)
    for (let i = piece.from; i < piece.to; i += 1) words.push(piece.tokens[i]?.word ?? '');
  asked = { clause, words, text: undefined };
  return words;
}

/** The same words in one line. */
export function textOf(clause: Clause): string {
  const words = wordsOf(clause);
  if (asked?.clause !== clause) return words.join(' ');
  asked.text ??= words.join(' ');
  return asked.text;
}
