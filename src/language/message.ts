// A message made ready for the rules: tokens, figures, clauses, and the language it is in.
import { type Clause, type Memo, newMemo } from './clause.ts';
import type { ReadContext } from './context.ts';
import { cutClauses } from './cutting/cut-clauses.ts';
import type { Lexicon, Tongue } from './lexicon.ts';
import type { SaidBy } from './plan-lines/lines.ts';
import { withRepairs } from './repair-said.ts';
import type { Figure, ScanWords } from './scan/figure.ts';
import { BEFORE_NUMBER, scanTokens } from './scan/figures.ts';
import { LONGEST_WORD } from './thresholds.ts';
import { type KeptAnswers, keepAnswers } from './tidy/kept-answers.ts';
import { tidyText } from './tidy/markup.ts';
import type { Token } from './tidy/token.ts';
import { type CutWords, cutTokens } from './tidy/tokens.ts';
import { openWords } from './tidy/words.ts';

export type Message = {
  readonly raw: string;
  readonly tongue: Tongue;
  readonly tokens: readonly Token[];
  readonly figures: readonly Figure[];
  readonly clauses: readonly Clause[];
  /** Words with marks left out, for phrases of commands. */
  readonly words: readonly string[];
  readonly memo: Memo<SaidBy>;
};

const NO_JOBS: ReadonlySet<string> = new Set();

/** The language whose small words stand most often in the tokens; the first one where none does. */
function tongueOf(tokens: readonly Token[], lexicon: Lexicon): Tongue {
  const { tongues } = lexicon;
  const kept = hitsOf(lexicon);
  const end = Math.min(tokens.length, 60);
  const sums = tongues.map(() => 0);
  for (let i = 0; i < end; i += 1) {
    const token = tokens[i] as Token;
    if (token.kind !== 'word') continue;
    let hits = kept.get(token.word);
    if (hits === undefined) {
      hits = tongues.map((tongue) => hitIn(tongue, token.word));
      if (token.word.length <= LONGEST_WORD) kept.keep(token.word, hits);
    }
    for (let k = 0; k < sums.length; k += 1) sums[k] = (sums[k] ?? 0) + (hits[k] ?? 0);
  }
  return tongues[sums.indexOf(Math.max(...sums))] as Tongue;
}

/** How much a word speaks for a language: two for a small word of its own, one for a word that it knows. */
const hitIn = (tongue: Tongue, word: string): number =>
  tongue.marks.has(word) ? 2 : tongue.vocabulary.isKnown(word) ? 1 : 0;

/** What words speak for, kept for each lexicon in a bounded number. */
function hitsOf(lexicon: Lexicon): KeptAnswers<readonly number[]> {
  const have = hits.get(lexicon);
  if (have) return have;
  const made = keepAnswers<readonly number[]>();
  hits.set(lexicon, made);
  return made;
}

const hits = new WeakMap<Lexicon, KeptAnswers<readonly number[]>>();

/** Minutes of the day in a time with its offset. */
function postedAt(at: string | undefined): number | undefined {
  const found = at === undefined ? null : /T(\d{2}):(\d{2})/.exec(at);
  return found ? Number(found[1]) * 60 + Number(found[2]) : undefined;
}

/** The words as typed, contractions opened, for phrases of commands. */
function plainWords(tokens: readonly Token[]): string[] {
  const out: string[] = [];
  let last = -1;
  for (const token of tokens) {
    if (token.kind === 'mark' || token.kind === 'sign') continue;
    if (token.mended === undefined) out.push(token.word);
    else if (token.from !== last) out.push(token.mended);
    last = token.from;
  }
  return out;
}

/** What cutting must know of the words of a lexicon, made once for each. */
function cutWordsOf(lexicon: Lexicon): CutWords {
  const have = cutWords.get(lexicon);
  if (have) return have;
  const made: CutWords = {
    unit: (letters) => lexicon.tongues.some((tongue) => tongue.scan.units[letters] !== undefined),
    known: (letters) => lexicon.tongues.some((tongue) => tongue.vocabulary.isKnown(letters)),
    beforeNumber: (letters) => BEFORE_NUMBER.has(letters),
  };
  cutWords.set(lexicon, made);
  return made;
}

const cutWords = new WeakMap<Lexicon, CutWords>();

/** The words of scanning with what the context adds to them. */
function scanWordsOf(tongue: Tongue, context: ReadContext, raw: string): ScanWords {
  const own = tongue.scan;
  const moments = context.moments
    ? new Set([...own.moments, ...Object.keys(context.moments)])
    : own.moments;
  const jobs = context.jobs && context.jobs.length > 0 ? new Set(context.jobs) : NO_JOBS;
  const at = postedAt(context.at);
  return {
    units: own.units,
    positionNouns: own.positionNouns,
    stageNouns: own.stageNouns,
    ordinals: own.ordinals,
    letters: own.letters,
    heardNumbers: own.heardNumbers,
    sidesOfPlan: own.sidesOfPlan,
    jobs,
    moments,
    raw,
    usable: own.usable,
    planFigures: own.planFigures,
    sidesOfPlaces: own.sidesOfPlaces,
    highestPlace: own.highestPlace,
    postedAt: at,
  };
}

/** Prepares a text. Linear in its length. */
export function prepare(raw: string, lexicon: Lexicon, context: ReadContext): Message {
  const cut = cutTokens(tidyText(raw).text, cutWordsOf(lexicon));
  const tongue =
    lexicon.tongues.length > 1 ? tongueOf(cut, lexicon) : (lexicon.tongues[0] as Tongue);
  const tokens = withRepairs(openWords(cut, tongue.vocabulary), tongue.cues, tongue.pack);
  const figures = scanTokens(tokens, scanWordsOf(tongue, context, raw));
  return {
    raw,
    tongue,
    tokens,
    figures,
    clauses: cutClauses(tokens, figures, tongue),
    words: plainWords(tokens),
    memo: newMemo(),
  };
}
