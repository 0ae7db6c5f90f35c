// Runs the scanners over the tokens from left to right. The first scanner to claim a place has it; the order is here.
import { english } from '../packs/en/index.ts';
import { tidyText } from '../tidy/markup.ts';
import type { Token } from '../tidy/token.ts';
import { cutTokens } from '../tidy/tokens.ts';
import { makeVocabulary } from '../tidy/vocabulary.ts';
import { openWords } from '../tidy/words.ts';
import { componentCode, jobNumber, tool, troubleCode } from './codes.ts';
import { allOf, countLeft, countOf, rest, times } from './count.ts';
import type { Figure, FigureBody, Hit, ScanWords } from './figure.ts';
import { positions } from './positions.ts';
import { isMinus, quantity } from './quantity.ts';
import { stage } from './stage.ts';
import { ORDER, type ScannerName, scannersFor, startsOf } from './starts.ts';
import { time } from './time.ts';

export type { Figure } from './figure.ts';

type Scanner = (tokens: readonly Token[], i: number, words: ScanWords) => Hit | undefined;

const BY_NAME: Readonly<Record<ScannerName, Scanner>> = {
  'trouble code': troubleCode,
  tool,
  time,
  'job number': jobNumber,
  stage,
  'count of': countOf,
  'count left': countLeft,
  'so many': times,
  rest,
  all: allOf,
  quantity,
  'component code': componentCode,
  positions,
  number: bareNumber,
};

/** In this order: what can be nothing else comes first, bare numbers last. */
export const SCANNERS: readonly (readonly [name: ScannerName, scan: Scanner])[] = ORDER.map(
  (name) => [name, BY_NAME[name]],
);

function bareNumber(tokens: readonly Token[], i: number, words: ScanWords): Hit | undefined {
  const token = tokens[i];
  // "Frost protection -32": below nought only where the plan measures a temperature.
  const below = tokens[i + 1]?.value;
  if (below !== undefined && words.usable?.has('Cel') && isMinus(tokens, i))
    return { body: { kind: 'number', value: -below }, next: i + 2 };
  if (token?.kind !== 'number' || token.value === undefined) return undefined;
  if (words.stageNouns.has(tokens[i + 1]?.word ?? '')) return undefined;
  return {
    body: { kind: 'number', value: token.value, ...(token.doubtful ? { doubtful: true } : {}) },
    next: i + 1,
  };
}

/** Every figure in a list of tokens, from left to right, never overlapping. Linear in the number of tokens. */
export function scanTokens(tokens: readonly Token[], words: ScanWords): Figure[] {
  const figures: Figure[] = [];
  const starts = startsOf(words);
  let i = 0;
  while (i < tokens.length) {
    const hit = scanAt(tokens, i, words, starts);
    if (!hit || hit.next <= i) {
      i += 1;
      continue;
    }
    const [first, last] = [tokens[i], tokens[hit.next - 1]];
    figures.push({
      ...approximate(hit.body, tokens, i, hit.next),
      from: i,
      to: hit.next,
      at: [first?.from ?? 0, last?.to ?? 0],
    });
    i = hit.next;
  }
  return figures;
}

const WORTH = /^(\d|[#@½¼¾⅓⅔⅛⅜⅝⅞"-])/;

function scanAt(
  tokens: readonly Token[],
  i: number,
  words: ScanWords,
  starts: ReadonlyMap<string, number>,
): Hit | undefined {
  const token = tokens[i];
  if (!token) return undefined;
  let may = scannersFor(token, starts);
  if (may === 0 || (token.kind === 'mark' && !WORTH.test(token.word))) return undefined;
  for (let k = 0; may !== 0; k += 1, may >>>= 1) {
    if ((may & 1) === 0) continue;
    const hit = SCANNERS[k]?.[1](tokens, i, words);
    if (hit) return hit;
  }
  return undefined;
}

const NEAR_BEFORE =
  /^(about|around|roughly|circa|approximately|nearly|almost|say|some|ca|etwa|ungefähr|rund|~|under|over|below|above|than|of|on|zirka|knapp|gut)$/;

/** "about 28", "just under 20", "28 or so": the figure is an approximation. */
function approximate(
  body: FigureBody,
  tokens: readonly Token[],
  from: number,
  to: number,
): FigureBody {
  if (body.kind !== 'quantity' && body.kind !== 'number') return body;
  const before = tokens[from - 1]?.word ?? '';
  const earlier = tokens[from - 2]?.word ?? '';
  const behind = tokens[to]?.word ?? '';
  const said =
    (NEAR_BEFORE.test(before) &&
      (!/^(of|on)$/.test(before) || /^(shy|short|near)$/.test(earlier)) &&
      !(before === 'than' && !/^(more|less)$/.test(earlier))) ||
    (behind === 'or' && tokens[to + 1]?.word === 'so') ||
    behind === 'ish' ||
    (behind === 'give' && tokens[to + 1]?.word === 'or');
  return said ? { ...body, approx: true } : body;
}

/**
 * Every figure in a text, without a plan: quantities with their unit and range, positions, counts, stages, codes and
 * times, with their place in the raw text. Never throws.
 *
 * @param jobs open job numbers, so that they are not taken for times
 */
export function scanFigures(text: string, jobs: readonly string[] = []): Figure[] {
  const vocabulary = plain();
  const pack = english;
  const tokens = openWords(
    cutTokens(tidyText(text).text, {
      unit: (letters) => pack.units[letters] !== undefined,
      known: (letters) => vocabulary.isKnown(letters),
      beforeNumber: (letters) => BEFORE_NUMBER.has(letters),
    }),
    vocabulary,
  );
  return scanTokens(tokens, {
    units: pack.units,
    positionNouns: PLAIN_NOUNS,
    stageNouns: new Set(pack.stageNouns),
    ordinals: pack.ordinals,
    letters: pack.letters,
    heardNumbers: pack.heardNumbers,
    jobs: new Set(jobs),
    sidesOfPlan: null,
    moments: new Set(Object.keys(pack.times.moments)),
    raw: text,
  });
}

/** Letters that stand right before a number: "cyl1", "s2", "no7". */
export const BEFORE_NUMBER: ReadonlySet<string> = new Set([
  'cyl',
  'cyls',
  'cylinder',
  'cylinders',
  'c',
  's',
  'st',
  'stg',
  'stage',
  'no',
  'nr',
  'inj',
  'axle',
  'ax',
  'pos',
  'p',
  'spn',
  'fmi',
  'pot',
  'zyl',
  'achse',
  'stufe',
  'x',
]);

const PLAIN_NOUNS: ReadonlySet<string> = new Set(english.positionNouns);

let plainVocabulary: ReturnType<typeof makeVocabulary> | undefined;
function plain() {
  plainVocabulary ??= makeVocabulary(english, new Set(), new Map());
  return plainVocabulary;
}
